//! How much of the weld was crossed by what was scanned: the recorded movements alone.

use heapless::Vec;

use super::suspicion;
use crate::math;
use crate::part::girth::Girth;
use crate::part::side::{Face, Side};
use crate::planning::coverage::{Coverage, survey};
use crate::planning::plan::{Barrier, Limits, Scan, raster};
use crate::record::entry::Sweep;
use crate::record::examination::{Facts, Pooled, ProbeState};
use crate::units::Millimetres;

/// Places along the weld that are looked at.
pub const STATIONS: u8 = 16;
/// Stretches of stand-offs of one probe and side at one place along the weld.
const STRETCHES: usize = 16;

/// Two recorded positions of one movement are joined up to this distance, mm. Common practice, no source: an examiner
/// records peaks and ends of a movement, not every step of it, but nobody knows what lay between places far apart.
const JOINED: f32 = 25.0;

/// Coverage as scanned.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Scanned {
    /// What the recorded movements crossed; areas are summed over the places looked at.
    pub coverage: Coverage,
    /// The first place along the weld that a movement was recorded at, mm.
    pub from: f32,
    /// The last, mm.
    pub to: f32,
    /// Readings of movements that were counted.
    pub counted: u32,
    /// The widest step between two recorded positions that were joined, mm.
    pub widest: f32,
    /// Readings that were not: outside any movement along or across the weld, skewed, or suspect.
    pub left_out: u32,
    /// Those left out because they are suspect: whether that probe heard anything there is not known.
    pub suspect: u32,
}

/// The coverage by the movements along and across the weld that readings were recorded in, between the first place
/// along the weld and the last; `None` without a joint or such a movement. Readings that are
/// [suspect](super::suspicion) count for nothing.
///
/// Two readings of one movement that follow each other are joined, when they differ more along it than aside and lie at
/// most 25 mm apart: the probe passed between them. Nothing is added across the weld, where the axis alone counts; along it a movement counts as wide as the beam is at its narrowest, and
/// as a line when no material tells the wavelength.
#[must_use]
pub fn scanned<const SCANS: usize>(facts: &Facts<'_>, legs: u32) -> Option<Scanned> {
    let (_, joint) = facts.common().joint.as_ref()?;
    let mut tracks: Vec<(Track<'_>, Scan), SCANS> = Vec::new();
    for (probe, state) in (0u8..).zip(facts.probes()) {
        for (side, face) in
            super::faces_in_use(facts).iter().flat_map(|face| [(Side::A, *face), (Side::B, *face)])
        {
            let limits = Limits { legs, range: super::range(state), nearest: super::nearest(state) };
            let Some(axis) = state.axis() else { continue };
            let Ok(scan) = Scan::standing(joint, axis, state.index(), (side, face), limits) else { continue };
            let half = half_width(facts, state);
            // More than was allowed for can only add to the coverage.
            let _ = tracks.push((Track { facts: *facts, probe, stand: (side, face), half }, scan));
        }
    }
    let counted = || tracks.iter().flat_map(|(track, _)| track.members());
    let opened = facts.girth().map(|girth| girth.opened(counted().map(|reading| reading.x().get())));
    let along =
        |reading: Pooled<'_>| opened.map_or(reading.x().get(), |opened| opened.along(reading.x().get()));
    let first = along(counted().next()?);
    let (mut from, mut to, mut count) = (first, first, 0u32);
    for reading in counted() {
        let x = along(reading);
        (from, to, count) = (math::smaller(from, x), math::larger(to, x), count.saturating_add(1));
    }
    let scans: Vec<Scan, SCANS> = listed(tracks.iter().map(|(_, scan)| *scan));
    let stations = if to > from { STATIONS } else { 1 };
    let mut coverage = Coverage::default();
    for station in 0..stations {
        let x = from + (to - from) * (f32::from(station) + 0.5) / f32::from(stations);
        let stretches: Vec<Stretches, SCANS> = listed(tracks.iter().map(|(track, _)| track.at(x)));
        let kept = |scan: usize, aim: &crate::planning::plan::Aim| {
            let stood = stretches.get(scan).is_some_and(|stretches| stretches.holds(aim.standoff));
            if stood { scans.get(scan)?.bar(aim) } else { Some(Barrier::NotScanned) }
        };
        let one = survey::<SCANS>(joint, &scans, kept, |_| {})?;
        coverage = Coverage {
            body: coverage.body.with(&one.body),
            heat_affected: coverage.heat_affected.with(&one.heat_affected),
        };
    }
    let widest = tracks.iter().flat_map(|(track, _)| track.steps()).fold(0.0, math::larger);
    let recorded = tracks.iter().flat_map(|(track, _)| track.recorded()).count() as u32;
    let (left_out, suspect) =
        ((facts.readings().count() as u32).saturating_sub(count), recorded.saturating_sub(count));
    Some(Scanned { coverage, from, to, counted: count, widest, left_out, suspect })
}

/// As many as there is room for; collecting into a list of fixed capacity could panic.
fn listed<T, const N: usize>(items: impl Iterator<Item = T>) -> Vec<T, N> {
    let mut list = Vec::new();
    for item in items {
        let _ = list.push(item);
    }
    list
}

/// Half the beam's narrowest width along the weld; 0 where nobody knows it.
fn half_width(facts: &Facts<'_>, state: &ProbeState) -> f32 {
    let narrowest = || {
        let (_, material) = facts.common().material.as_ref()?;
        let (probe, axis) = (state.probe()?, state.axis()?);
        raster(probe, axis.angle(), material.shear(), const { Millimetres::constant(0.0) }).ok().flatten()
    };
    narrowest().map_or(0.0, |raster| 0.5 * raster.width)
}

/// The movements of one probe on one side of one face.
struct Track<'a> {
    facts: Facts<'a>,
    probe: u8,
    stand: (Side, Face),
    half: f32,
}

impl<'a> Track<'a> {
    /// Its readings that count.
    fn members(&self) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
        let facts = self.facts;
        self.recorded().filter(move |reading| suspicion(&facts, *reading).is_none())
    }

    fn recorded(&self) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
        let (probe, stand) = (self.probe, self.stand);
        self.facts.readings().filter(move |reading| {
            (reading.probe(), (reading.side(), reading.face())) == (probe, stand)
                && matches!(reading.sweep(), Some(Sweep::Along | Sweep::Across))
                && reading.skew().is_none_or(|skew| skew.get() == 0.0)
        })
    }

    /// The steps between recorded positions that are joined, mm.
    fn steps(&self) -> impl Iterator<Item = f32> + use<'a> {
        let follow = self.members().zip(self.members().skip(1));
        let girth = self.facts.girth();
        follow
            .filter(move |(before, reading)| one_movement(girth, *before, *reading))
            .map(move |(before, reading)| step(girth, before, reading))
    }

    /// The stand-offs that the probe took at a place along the weld.
    fn at(&self, x: f32) -> Stretches {
        let mut stretches = Stretches(Vec::new());
        let mut before: Option<Pooled<'_>> = None;
        for reading in self.members() {
            let follows = before.filter(|before| one_movement(self.facts.girth(), *before, reading));
            let girth = self.facts.girth();
            // Around a girth weld, as many turns on as bring it to the place looked at.
            let end = match girth {
                Some(girth) => x + girth.step(x, reading.x().get()),
                None => reading.x().get(),
            };
            let start = follows.map_or((end, reading.standoff().get()), |before| {
                (end - between(girth, before, reading), before.standoff().get())
            });
            let end = (end, reading.standoff().get());
            if let Some((low, high)) = within(start, end, x - self.half, x + self.half) {
                stretches.add(low, high);
            }
            before = Some(reading);
        }
        stretches
    }
}

/// How far along the weld the probe went from one reading to the next, around a girth weld the shorter way.
fn between(girth: Option<Girth>, before: Pooled<'_>, reading: Pooled<'_>) -> f32 {
    let (from, to) = (before.x().get(), reading.x().get());
    girth.map_or(to - from, |girth| girth.step(from, to))
}

/// How far the probe went along its movement from one reading to the next, mm.
fn step(girth: Option<Girth>, before: Pooled<'_>, reading: Pooled<'_>) -> f32 {
    let along = between(girth, before, reading).abs();
    math::larger(along, (reading.standoff().get() - before.standoff().get()).abs())
}

/// Whether the probe passed from one reading to the next: the same movement, and more along it than aside.
fn one_movement(girth: Option<Girth>, before: Pooled<'_>, reading: Pooled<'_>) -> bool {
    let same = (before.indication(), before.sweep()) == (reading.indication(), reading.sweep());
    let along = between(girth, before, reading).abs();
    let across = (reading.standoff().get() - before.standoff().get()).abs();
    same && step(girth, before, reading) <= JOINED
        && if reading.sweep() == Some(Sweep::Along) { along >= across } else { across >= along }
}

/// The stand-offs of a straight movement while it is between two places along the weld.
fn within(start: (f32, f32), end: (f32, f32), from: f32, to: f32) -> Option<(f32, f32)> {
    let (run, rise) = (end.0 - start.0, end.1 - start.1);
    let (mut low, mut high) = (0.0, 1.0);
    if run == 0.0 {
        (from <= start.0 && start.0 <= to).then_some(())?;
    } else {
        let (one, other) = ((from - start.0) / run, (to - start.0) / run);
        low = math::larger(low, math::smaller(one, other));
        high = math::smaller(high, math::larger(one, other));
        (low <= high).then_some(())?;
    }
    let (one, other) = (start.1 + rise * low, start.1 + rise * high);
    Some((math::smaller(one, other), math::larger(one, other)))
}

/// Stretches of stand-offs, joined where they overlap.
struct Stretches(Vec<(f32, f32), STRETCHES>);

impl Stretches {
    fn add(&mut self, mut low: f32, mut high: f32) {
        self.0.retain(|&(from, to)| {
            let apart = to < low || from > high;
            if !apart {
                (low, high) = (math::smaller(low, from), math::larger(high, to));
            }
            apart
        });
        // What finds no room can only add to the coverage.
        let _ = self.0.push((low, high));
    }

    fn holds(&self, standoff: f32) -> bool {
        self.0.iter().any(|&(from, to)| from <= standoff && standoff <= to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_that_touch_are_one() {
        let mut stretches = Stretches(Vec::new());
        for (low, high) in [(10.0, 12.0), (20.0, 21.0), (12.0, 15.0), (14.0, 20.0)] {
            stretches.add(low, high);
        }
        assert_eq!(stretches.0.as_slice(), [(10.0, 21.0)]);
        assert!(stretches.holds(18.0) && !stretches.holds(21.5));
    }

    #[test]
    fn a_slanting_movement_gives_the_stand_offs_it_had_there() {
        assert_eq!(within((0.0, 10.0), (10.0, 30.0), 4.0, 6.0), Some((18.0, 22.0)));
        assert_eq!(within((10.0, 30.0), (0.0, 10.0), 4.0, 6.0), Some((18.0, 22.0)));
        assert_eq!(within((0.0, 10.0), (10.0, 30.0), 11.0, 12.0), None);
        assert_eq!(within((5.0, 10.0), (5.0, 30.0), 5.0, 5.0), Some((10.0, 30.0)));
        assert_eq!(within((5.0, 10.0), (5.0, 30.0), 5.1, 6.0), None);
    }
}
