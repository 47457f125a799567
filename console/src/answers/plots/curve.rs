//! `curve NAME`: the reference curve of a probe drawn, and every reading on it.

use core::fmt;

use halfskip::calibration::level::Level;
use halfskip::findings::{Indication, evaluate};
use halfskip::part::side::Side;
use halfskip::record::examination::{Facts, Pooled, ProbeState};
use halfskip::units::Millimetres;

use super::chart::{Axis, Chart};
use crate::answers::Record;
use crate::answers::mark::Mark;
use crate::answers::page::{Page, level};

/// The reference curve of a probe, and its readings on it: the height of each echo at the gain of the first reference echo.
///
/// ```text
/// A(s) = G_ref(s_1) - G_ref(s)
/// ```
///
/// is the height of the reference echo at path s; a reading lies its level above or below it.
pub(crate) struct Curve<'a> {
    facts: &'a Facts<'a>,
    probe: u8,
    state: &'a ProbeState,
    first: f32,
}

/// A reading on the curve.
pub(crate) struct OnCurve {
    /// mm.
    pub path: f32,
    /// dB.
    pub height: f32,
    pub level: Level,
    pub side: Side,
    #[cfg(feature = "host")]
    pub indication: u8,
}

impl<'a> Curve<'a> {
    /// Of a probe with its place; none without a reference echo.
    pub fn of(facts: &'a Facts<'a>, probe: u8, state: &'a ProbeState) -> Option<Self> {
        let first = state.dac().points().next()?.gain.get();
        Some(Self { facts, probe, state, first })
    }

    /// The probe's name.
    pub fn name(&self) -> &str {
        self.state.name()
    }

    /// The reference echoes: path and height.
    pub fn points(&self) -> impl Iterator<Item = (f32, f32)> + use<'_> {
        self.state.dac().points().map(|point| (point.path.get(), self.first - point.gain.get()))
    }

    /// Every reading with a level.
    pub fn readings(&self) -> impl Iterator<Item = OnCurve> + use<'_> {
        self.facts
            .readings()
            .filter(|reading| reading.probe() == self.probe)
            .filter_map(|reading| self.put(reading))
    }

    /// The height of the curve as a level looks it up.
    pub fn at(&self, path: f32) -> Option<f32> {
        let found = self.state.dac().gain_at(Millimetres::new(path).ok()?, self.state.beyond()).ok()?;
        Some(self.first - found.gain.get())
    }

    fn put(&self, reading: Pooled<'_>) -> Option<OnCurve> {
        let found = evaluate(self.facts, reading);
        let (path, level) = (found.path.ok()?.get(), found.level.ok()?);
        let height = self.first - level.reference.gain.get() + level.level.db.get();
        Some(OnCurve {
            path,
            height,
            level: level.level,
            side: reading.side(),
            #[cfg(feature = "host")]
            indication: reading.indication(),
        })
    }

    /// The strongest reading of an indication.
    fn strongest(&self, indication: Indication<'_>) -> Option<OnCurve> {
        let readings = indication.readings().filter(|reading| reading.probe() == self.probe);
        let stronger =
            |held: OnCurve, other: OnCurve| if other.level.db > held.level.db { other } else { held };
        readings.filter_map(|reading| self.put(reading)).reduce(stronger)
    }
}

/// Answers `curve`.
#[inline(never)]
pub(in crate::answers) fn answer(record: &Record<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let facts = &record.facts;
    let probes = (0..=u8::MAX).zip(facts.probes());
    let Some((place, state)) = probes.into_iter().find(|(_, state)| *state.name() == *name) else {
        return page.heading(format_args!("{name}: no such probe is in force"));
    };
    let Some(reference) = Curve::of(facts, place, state) else {
        return page.heading(format_args!("no reference echo is recorded with {name}: there is no curve"));
    };
    let readings = reference.readings().map(|reading| (reading.path, reading.height));
    let Some(mut chart) = scales(page, reference.points().chain(readings)) else { return Ok(()) };
    for (path, height) in reference.points() {
        chart.put(page.lengths.number(path), height, Mark::Point);
    }
    for OnCurve { path, height, level, side, .. } in reference.readings() {
        chart.put(page.lengths.number(path), height, Mark::reading(level.bound, side));
    }
    for indication in record.indications() {
        if let Some(OnCurve { path, height, .. }) = reference.strongest(indication) {
            chart.put(page.lengths.number(path), height, Mark::Indication(indication.number()));
        }
    }
    curve(&mut chart, &reference, page);
    page.heading(format_args!(
        "Reference curve of {} and every reading with it: echo height at one gain in dB over the sound path in {}",
        reference.name(),
        page.lengths.word()
    ))?;
    chart.write(page, record.utf8)?;
    let shown = |mark: Mark| mark.character(record.utf8);
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
    for indication in record.indications() {
        if let Some(OnCurve { path, level: strongest, .. }) = reference.strongest(indication) {
            let (letter, path) = (shown(Mark::Indication(indication.number())), page.lengths.of(path));
            let name = indication.name();
            page.heading(format_args!("{letter}: indication {name}, {} at path {path}", level(strongest)))?;
        }
    }
    Ok(())
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

/// The curve under the marks.
fn curve(chart: &mut Chart, reference: &Curve<'_>, page: &Page<'_>) {
    let mut ends = reference.points().map(|(path, _)| path);
    let from = ends.next().unwrap_or(0.0);
    let to = ends.last().unwrap_or(from);
    for column in chart.across.cells() {
        let x = chart.across.value(column);
        let path = page.lengths.millimetres(x);
        if let Some(height) = reference.at(path) {
            chart.under(x, height, if path < from || path > to { Mark::Edge } else { Mark::Curve });
        }
    }
}
