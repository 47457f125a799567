//! `why ID`: every step from the readings to the verdict: formula, the numbers put in, the result, the source.

mod derivation;
mod flat;
mod height;
mod length;
mod level;
mod pipe;
mod place;
mod point;
mod steps;
mod verdict;

use core::fmt;

use halfskip::findings::{HeightObservation, Indication, ReadingFinding, evaluate, suspicion};
use halfskip::record::entry::{EnteredHeight, Travel};
use halfskip::record::examination::{Facts, Pooled};
use steps::Steps;

use crate::answers::Record;
use crate::answers::indication::seen;
use crate::answers::page::{Page, percent};

/// Answers `why ID`.
#[inline(never)]
pub(in crate::answers) fn answer(record: &Record<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let Some(indication) = crate::answers::indication(record, name, page)? else { return Ok(()) };
    page.heading(format_args!("Indication {name}, from the readings to the verdict"))?;
    page.heading(format_args!(
        "s path, a angle, t thickness, n leg, u unfolded depth, d surface distance, z depth, p stand-off, e index \
         point ahead of its mark, g +1 on side A and -1 on side B, k skew, h height, G gain, L level; w the half \
         width of an input, U(.) the expanded uncertainty, k = 2; lengths in {}, gains and levels in dB.",
        page.lengths.word()
    ))?;
    let mut steps = Steps::new(page);
    measured(record, indication, &mut steps)?;
    observed(record, name, &mut steps)?;
    verdict::answer(record, indication, &mut steps)?;
    steps.sources()
}

/// What was seen and no number holds.
#[inline(never)]
fn observed(record: &Record<'_>, name: &str, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let mut first = true;
    seen(&record.facts, name, |text| {
        if first {
            steps.page.heading(format_args!("Observed without a number"))?;
        }
        first = false;
        steps.given("seen", text)
    })
}

/// Everything before the verdict, whose lists are gone from the stack by then.
#[inline(never)]
fn measured(record: &Record<'_>, indication: Indication<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let point = indication.place();
    let observations = indication.heights(point.as_ref());
    readings(indication, &observations, steps)?;
    point::answer(indication, point.as_ref(), steps)?;
    length::answer(record, indication, steps)?;
    height::answer(&record.facts, point.as_ref(), &observations, steps)
}

/// The readings that the findings rest on; a sweep's other members stand with the length.
#[inline(never)]
fn readings(
    indication: Indication<'_>,
    observations: &[HeightObservation<'_>],
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let views = indication.views();
    let strongest = indication.level().ok().map(|found| found.finding.reading.number());
    for reading in indication.readings() {
        let number = reading.number();
        let is = |other: &Pooled<'_>| other.number() == number;
        let of_height = |seen: &HeightObservation<'_>| is(&seen.tip) || seen.lower.as_ref().is_some_and(is);
        let peaked_alone = reading.sweep().is_none();
        if peaked_alone
            || strongest == Some(number)
            || views.iter().any(is)
            || observations.iter().any(of_height)
        {
            one(indication.facts(), &evaluate(indication.facts(), reading), steps)?;
        }
    }
    Ok(())
}

/// One reading: what was entered, then its place, then its level.
#[inline(never)]
fn one(facts: &Facts<'_>, found: &ReadingFinding<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let (lengths, reading) = (steps.page.lengths, found.reading);
    let state = facts.probe(reading.probe());
    let probe = state.map_or("", |state| state.name().as_str());
    steps.page.heading(format_args!(
        "Entry {}: probe {probe}, side {}, x {}, stand-off {}, {}, {}, gain {} dB",
        reading.number(),
        crate::answers::locate::side(reading.side(), reading.face()),
        lengths.typed(reading.x().get()),
        lengths.typed(reading.standoff().get()),
        travel(lengths, reading.travel()),
        height(reading.height()),
        halfskip::units::decimal::fixed(reading.gain().get())
    ))?;
    if let Some(why) = suspicion(facts, reading) {
        steps.remark(format_args!("suspect: {why}"))?;
    }
    let Some(state) = state else { return Ok(()) };
    place::answer(facts, state, found, steps)?;
    level::answer(facts, state, found, steps)
}

fn travel(lengths: crate::answers::page::Lengths, travel: Travel) -> impl fmt::Display {
    fmt::from_fn(move |f| match travel {
        Travel::Path(path) => write!(f, "path {}", lengths.typed(path.quantity().get())),
        Travel::Time(time) => {
            write!(f, "time {} us", halfskip::units::decimal::fixed(time.quantity().get()))
        }
    })
}

fn height(height: EnteredHeight) -> impl fmt::Display {
    fmt::from_fn(move |f| match height {
        EnteredHeight::Shown(height) => write!(f, "height {}", percent(height.quantity().get())),
        EnteredHeight::Over => f.write_str("height over the screen"),
        EnteredHeight::Under => f.write_str("not seen above the noise"),
    })
}
