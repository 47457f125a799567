//! From a sweep along the weld to the length.

use core::fmt;

use halfskip::evaluate::sizing::length::Length;
use halfskip::evaluate::sizing::series::{Sample, SeriesView};
use halfskip::findings::{Indication, LengthRule, NoLength};

use super::steps::{Source, Steps};
use crate::answers::Record;
use crate::answers::indication::by_rule;
use crate::answers::locate::short;
use crate::answers::page::{Lengths, joined, plus};

/// Steps to the length, by the rule of the sheet in force.
#[inline(never)]
pub(super) fn answer(
    record: &Record<'_>,
    indication: Indication<'_>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    steps.page.heading(format_args!("Length along the weld, {}", by_rule(record.length_rule())))?;
    let rule = record.length_rule();
    let scan = indication.scan_along().ok_or(NoLength::NoSweep);
    let worked = scan.and_then(|scan| scan.sampled(|series| worked(series, rule, steps)));
    worked.unwrap_or_else(|why| steps.given("length", format_args!("not known: {why}")))
}

fn worked(series: &SeriesView, rule: LengthRule, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let samples = series.samples();
    steps.given("x: L", format_args!("{}", shown(steps.page.lengths, samples)))?;
    let found = match rule.length(series) {
        Ok(found) => found,
        Err(why) => return steps.given("length", format_args!("not known: {why}")),
    };
    let threshold = match rule {
        LengthRule::Drop(drop) | LengthRule::EndPeaks { drop, .. } => {
            let (peak, drop) = (found.peak.level.db.get(), drop.get());
            steps.step(
                "limit",
                format_args!(
                    "peak - drop = {} - {drop} = {} dB",
                    plus(peak, 1),
                    plus(peak - drop, 1),
                    drop = { halfskip::units::decimal::fixed(drop) }
                ),
                Source::Practice,
            )?;
            peak - drop
        }
        LengthRule::Level(level) => {
            steps.step("limit", format_args!("{} dB", plus(level.get(), 1)), Source::Sheet)?;
            level.get()
        }
    };
    ends(samples, &found, threshold, steps)?;
    let lengths = steps.page.lengths;
    let (start, end) = (lengths.fine(found.start.get()), lengths.fine(found.end.get()));
    let at_least = if found.is_open() { ", at least" } else { "" };
    steps.step(
        "length",
        format_args!("end - start = {end} - {start} = {}{at_least}", lengths.fine(found.length().get())),
        Source::Practice,
    )
}

/// Both ends: between which samples the level passes the limit, or that it does not.
fn ends(samples: &[Sample], found: &Length, threshold: f32, steps: &mut Steps<'_, '_>) -> fmt::Result {
    for (symbol, at, open) in
        [("start", found.start.get(), found.open_start), ("end", found.end.get(), found.open_end)]
    {
        let lengths = steps.page.lengths;
        let shown = lengths.fine(at);
        if open {
            steps.given(
                symbol,
                format_args!("open at x {shown}: the level is not seen to fall below the limit"),
            )?;
            continue;
        }
        let before = samples.iter().rfind(|sample| sample.travel.get() <= at);
        let after = samples.iter().find(|sample| sample.travel.get() >= at);
        match (before, after) {
            (Some(before), Some(after)) if before.travel < after.travel => {
                let (x1, x2) = (before.travel.get(), after.travel.get());
                let (l1, l2) = (before.level.db.get(), after.level.db.get());
                steps.step(
                    symbol,
                    format_args!(
                        "x1 + (x2 - x1) (limit - L1) / (L2 - L1) = {} + {} x ({} - ({})) / ({} - ({})) = {shown}",
                        lengths.fine(x1),
                        lengths.fine(x2 - x1),
                        plus(threshold, 2),
                        plus(l1, 2),
                        plus(l2, 2),
                        plus(l1, 2),
                    ),
                    Source::Practice,
                )?;
            }
            _ => steps.given(symbol, format_args!("{shown}, at a sample"))?,
        }
    }
    Ok(())
}

fn shown<'a>(lengths: Lengths, samples: &'a [Sample]) -> impl fmt::Display {
    let sample = move |sample: &'a Sample| {
        fmt::from_fn(move |f| write!(f, "{}: {}", lengths.bare(sample.travel.get()), short(sample.level)))
    };
    joined(", ", samples.iter().map(sample))
}
