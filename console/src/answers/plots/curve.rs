//! `curve NAME`: the reference curve of a probe drawn, and every reading on it.

use core::fmt;

use halfskip::calibration::level::{Bound, Level};
use halfskip::findings::{Indication, evaluate};
use halfskip::part::side::Side;
use halfskip::record::examination::{Facts, Pooled, ProbeState};
use halfskip::units::Millimetres;

use super::chart::{Axis, Chart, Mark};
use crate::answers::Known;
use crate::answers::page::{Page, level};

/// Answers `curve`.
///
/// ```text
/// A(s) = G_ref(s_1) - G_ref(s)
/// ```
///
/// is the height of the reference echo at the gain of the first one, s_1; a reading lies its level above or below it.
#[inline(never)]
pub(super) fn answer(known: &Known<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let facts = &known.facts;
    let probes = (0..=u8::MAX).zip(facts.probes());
    let Some((place, state)) = probes.into_iter().find(|(_, state)| *state.name() == *name) else {
        return page.heading(format_args!("{name}: no such probe is in force"));
    };
    let Some(first) = state.dac().points().next().map(|point| point.gain.get()) else {
        return page.heading(format_args!("no reference echo is recorded with {name}: there is no curve"));
    };
    let readings = || facts.readings().filter(move |reading| reading.probe() == place);
    let points = || state.dac().points().map(move |point| (point.path.get(), first - point.gain.get()));
    let Some(mut chart) =
        scales(page, points().chain(readings().filter_map(|reading| at(facts, reading, first))))
    else {
        return Ok(());
    };
    for (path, height) in points() {
        chart.put(page.lengths.number(path), height, Mark::Point);
    }
    for reading in readings() {
        if let Some((path, height)) = at(facts, reading, first) {
            chart.put(page.lengths.number(path), height, mark(facts, reading));
        }
    }
    for indication in known.indications() {
        if let Some((path, height, _)) = best(place, indication, first) {
            chart.put(page.lengths.number(path), height, Mark::Indication(indication.number()));
        }
    }
    curve(&mut chart, state, first, page);
    page.heading(format_args!(
        "Reference curve of {name} and every reading with it: echo height at one gain in dB over the sound path in {}",
        page.lengths.word()
    ))?;
    chart.write(page, known.utf8)?;
    let shown = |mark: Mark| mark.character(known.utf8);
    page.heading(format_args!(
        "{} curve, {} beyond its points, {} reference echo, {} from side A, {} from side B, {} at least, {} at most",
        shown(Mark::Curve),
        shown(Mark::Edge),
        shown(Mark::Point),
        shown(Mark::SideA),
        shown(Mark::SideB),
        shown(Mark::AtLeast),
        shown(Mark::AtMost)
    ))?;
    for indication in known.indications() {
        if let Some((path, _, found)) = best(place, indication, first) {
            let (letter, path) = (shown(Mark::Indication(indication.number())), page.lengths.of(path));
            let name = indication.name();
            page.heading(format_args!("{letter}: indication {name}, {} at path {path}", level(found)))?;
        }
    }
    Ok(())
}

/// Path, and height at the gain of the first point.
fn at(facts: &Facts<'_>, reading: Pooled<'_>, first: f32) -> Option<(f32, f32)> {
    let found = evaluate(facts, reading);
    let (path, level) = (found.path.ok()?.get(), found.level.ok()?);
    Some((path, first - level.reference.gain.get() + level.level.db.get()))
}

/// The strongest reading of an indication with a probe.
fn best(probe: u8, indication: Indication<'_>, first: f32) -> Option<(f32, f32, Level)> {
    let facts = indication.facts();
    let mut best: Option<(f32, f32, Level)> = None;
    for reading in indication.readings().filter(|reading| reading.probe() == probe) {
        let found = evaluate(facts, reading).level.ok().map(|found| found.level);
        if let (Some(level), Some((path, height))) = (found, at(facts, reading, first))
            && best.is_none_or(|(_, _, held)| level.db > held.db)
        {
            best = Some((path, height, level));
        }
    }
    best
}

fn mark(facts: &Facts<'_>, reading: Pooled<'_>) -> Mark {
    let bound = evaluate(facts, reading).level.map_or(Bound::Exact, |found| found.level.bound);
    super::dynamic::mark(bound, reading.side() == Side::A)
}

/// Scales that hold all of it, from path 0.
fn scales(page: &Page<'_>, all: impl Iterator<Item = (f32, f32)>) -> Option<Chart> {
    let mut held: Option<(f32, f32, f32)> = None;
    for (path, height) in all {
        let (longest, low, high) = held.unwrap_or((path, height, height));
        held = Some((
            if path > longest { path } else { longest },
            if height < low { height } else { low },
            if height > high { height } else { high },
        ));
    }
    let (longest, low, high) = held?;
    Some(Chart::new(Axis::across(0.0, page.lengths.number(longest)), Axis::falling(low - 2.0, high + 2.0)))
}

/// The curve as a level looks it up, under the marks.
fn curve(chart: &mut Chart, state: &ProbeState, first: f32, page: &Page<'_>) {
    let ends = |end: Option<f32>| end.unwrap_or(0.0);
    let from = ends(state.dac().points().next().map(|point| point.path.get()));
    let to = ends(state.dac().points().last().map(|point| point.path.get()));
    for column in chart.across.cells() {
        let x = chart.across.value(column);
        let path = page.lengths.millimetres(x);
        let gain =
            Millimetres::new(path).ok().and_then(|path| state.dac().gain_at(path, state.beyond()).ok());
        if let Some(gain) = gain {
            let mark = if path < from || path > to { Mark::Edge } else { Mark::Curve };
            chart.under(x, first - gain.gain.get(), mark);
        }
    }
}
