//! The readings of one moving probe, in the order of their travel and parted into echoes that walk.

use heapless::Vec;

use super::sample::{Sample, sample};
use super::series::Step;
use super::walk::Pace;
use crate::calibration::level::Bound;
use crate::evaluate::Indication;
use crate::math;
use crate::part::side::{Face, Side};
use crate::record::entry::{PointPeaked, Sweep};
use crate::record::examination::{Facts, Pooled};

/// How many runs of one indication are told apart.
pub(super) const RUNS: usize = 24;
/// Echoes that one run is parted into; more of them count but are not looked at.
const TRACKS: usize = 12;
/// Readings of sweeps across at places along the weld no farther apart than this are one run, mm. Common practice, no
/// source.
const SAME_X: f32 = 5.0;

/// A probe, its side and face, and the movement.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Run {
    pub probe: u8,
    pub side: Side,
    pub face: Face,
    pub sweep: Sweep,
    /// Where along the weld a run across was made.
    x: Option<f32>,
}

impl Run {
    fn of(reading: Pooled<'_>) -> Option<Self> {
        let sweep = reading.sweep()?;
        let x = (sweep == Sweep::Across).then(|| reading.x().get());
        Some(Self { probe: reading.probe(), side: reading.side(), face: reading.face(), sweep, x })
    }

    pub fn holds(&self, reading: Pooled<'_>) -> bool {
        reading.sweep() == Some(self.sweep)
            && reading.point() == PointPeaked::Echo
            && (reading.probe(), reading.side(), reading.face()) == (self.probe, self.side, self.face)
            && self.x.is_none_or(|x| (reading.x().get() - x).abs() <= SAME_X)
    }

    pub fn travel(&self, reading: Pooled<'_>) -> f32 {
        match self.sweep {
            Sweep::Along => reading.x().get(),
            Sweep::Across => reading.standoff().get(),
            Sweep::Swivel | Sweep::Orbit => reading.skew().map_or(0.0, |skew| skew.get()),
        }
    }
}

/// The runs of an indication, in the order of their first reading.
pub(super) fn runs(indication: Indication<'_>) -> Vec<Run, RUNS> {
    let mut found: Vec<Run, RUNS> = Vec::new();
    for reading in indication.readings() {
        let Some(run) = Run::of(reading) else { continue };
        if !found.iter().any(|known| known.holds(reading)) && found.push(run).is_err() {
            break;
        }
    }
    found
}

/// A reading's place in a run, and what the run compares of it.
#[derive(Clone, Copy)]
pub(super) struct Member<'a> {
    pub at: f32,
    pub path: f32,
    pub strength: f32,
    pub bound: Bound,
    track: u8,
    pub reading: Pooled<'a>,
}

impl<'a> Member<'a> {
    fn of(facts: &Facts<'a>, run: &Run, reading: Pooled<'a>) -> Option<Self> {
        let Sample { finding, strength, bound } = sample(facts, reading)?;
        let path = finding.path.ok()?.get();
        Some(Self { at: run.travel(reading), path, strength, bound, track: u8::MAX, reading })
    }

    fn seen(&self) -> bool {
        self.bound != Bound::AtMost
    }

    /// As a step of its series.
    pub const fn step(self) -> Step {
        Step { at: self.at, strength: self.strength, bound: self.bound }
    }

    /// As a pace of its walk; `index` is the true index point ahead of the mark.
    pub fn pace(self, index: f32) -> Pace {
        Pace { from_index: self.reading.standoff().get() - index, path: self.path }
    }
}

/// The length of the stretches, as many as there is room for, that readings over a travel are thinned to; nothing where
/// there is room for all of them.
fn stretch(travel: f32, readings: usize, room: usize) -> f32 {
    // The last reading lies at the beginning of a stretch.
    if readings > room { travel / (room as f32 - 1.0) } else { 0.0 }
}

/// The stretch that lies so far behind the first reading.
fn part(behind: f32, stretch: f32) -> f32 {
    math::floor(behind / stretch)
}

/// The readings of one run, at most `N`: a longer one is thinned to the strongest of each stretch.
pub(super) struct Members<'a, const N: usize> {
    run: Run,
    list: Vec<Member<'a>, N>,
    /// How many readings the run has.
    pub readings: u32,
    /// Echoes found, those beyond the capacity counted.
    pub tracks: u32,
}

impl<'a, const N: usize> Members<'a, N> {
    /// None yet.
    pub fn new(run: Run) -> Self {
        Self { run, list: Vec::new(), readings: 0, tracks: 0 }
    }

    /// Takes the run's readings of an indication.
    pub fn fill(&mut self, indication: Indication<'a>) {
        let (run, facts) = (self.run, indication.facts());
        let all = || indication.readings().filter(move |reading| run.holds(*reading));
        let (mut low, mut high, mut readings) = (f32::INFINITY, f32::NEG_INFINITY, 0u32);
        for reading in all() {
            let at = run.travel(reading);
            (low, high) = (math::smaller(low, at), math::larger(high, at));
            readings = readings.saturating_add(1);
        }
        self.readings = readings;
        let stretch = stretch(high - low, readings as usize, N);
        for member in all().filter_map(|reading| Member::of(facts, &run, reading)) {
            self.take(member, low, stretch);
        }
    }

    fn take(&mut self, member: Member<'a>, low: f32, stretch: f32) {
        if stretch > 0.0 {
            let part = |at: f32| part(at - low, stretch);
            if let Some(held) = self.list.iter_mut().find(|held| part(held.at) == part(member.at)) {
                if member.strength > held.strength {
                    *held = member;
                }
                return;
            }
        }
        let place = self.list.partition_point(|held| held.at <= member.at);
        let mut carried = member;
        for held in self.list.iter_mut().skip(place) {
            core::mem::swap(held, &mut carried);
        }
        // A run of more readings than there is room for was thinned to as many stretches as there is room for.
        let _ = self.list.push(carried);
    }

    /// The movement.
    pub const fn run(&self) -> &Run {
        &self.run
    }

    /// The usual distance between neighbours.
    pub fn step(&self) -> Option<f32> {
        let (first, last) = (self.list.first()?, self.list.last()?);
        let mut places = 0u32;
        let mut before = first.at;
        for member in &self.list {
            if member.at > before {
                places = places.saturating_add(1);
                before = member.at;
            }
        }
        (places > 0).then(|| (last.at - first.at) / places as f32)
    }

    /// How far the path departs from what the axis makes of the travel between two neighbours: the median, mm.
    fn usual_departure(&self, slope: f32) -> f32 {
        let pairs = || {
            self.list
                .iter()
                .zip(self.list.iter().skip(1))
                .filter(|(one, other)| other.at > one.at)
                .map(move |(one, other)| (other.path - one.path - slope * (other.at - one.at)).abs())
        };
        let half = pairs().count() / 2;
        // The value that half of the others do not exceed.
        pairs()
            .find(|value| {
                let (below, equal) = pairs().fold((0usize, 0usize), |(below, equal), other| {
                    (
                        below.saturating_add((other < *value).into()),
                        equal.saturating_add((other == *value).into()),
                    )
                });
                below <= half && half < below.saturating_add(equal)
            })
            .unwrap_or(0.0)
    }

    /// Parts a run across into echoes that walk: neighbours whose paths differ as a fixed point's do.
    ///
    /// A point's path changes by the sine of the ray's angle per probe travel. Within a beam that stays close to the
    /// axis' own: 0.3 either way is allowed, and what the paths usually depart from it, no more than their reading
    /// errors make (k = 2). `slope` is the sine of the axis, `path_error` the half width of one path. Any other run is
    /// one echo.
    pub fn part(&mut self, slope: f32, path_error: f32) {
        if self.run.sweep != Sweep::Across {
            for member in &mut self.list {
                member.track = 0;
            }
            self.tracks = 1;
            return;
        }
        let gap = self.step().unwrap_or(0.0) * 2.6;
        // 2 √2 / √3 of the half width: the expanded uncertainty of a difference of two rectangular errors.
        let slack = math::smaller(path_error * 1.633, 3.0 * self.usual_departure(slope) + 0.1);
        let mut ends: Vec<(f32, f32), TRACKS> = Vec::new();
        let mut found = 0u32;
        for member in self.list.iter_mut().filter(|member| member.seen()) {
            let (at, path) = (member.at, member.path);
            let near = ends.iter_mut().enumerate().filter_map(|(track, end)| {
                let moved = at - end.0;
                let off = (path - end.1 - slope * moved).abs();
                (moved > 0.0 && moved <= gap && off <= 0.3 * moved + slack).then_some((off, track, end))
            });
            if let Some((_, track, end)) = math::smallest_by(near, |(off, ..)| *off) {
                *end = (at, path);
                member.track = track as u8;
                continue;
            }
            found = found.saturating_add(1);
            let track = ends.len();
            if ends.push((at, path)).is_ok() {
                member.track = track as u8;
            }
        }
        self.tracks = found;
    }

    /// The numbers of the tracks that are held.
    pub fn held_tracks(&self) -> impl Iterator<Item = u8> + use<'a, N> {
        (0u8..TRACKS as u8).take(self.tracks as usize)
    }

    /// The members of one track, in order.
    pub fn track(&self, track: u8) -> impl Iterator<Item = Member<'a>> + Clone + use<'_, 'a, N> {
        self.list.iter().copied().filter(move |member| member.track == track)
    }

    /// All members, in order.
    pub fn all(&self) -> &[Member<'a>] {
        &self.list
    }

    /// The strongest of all members within `reach` of a travel, whichever echo it belongs to.
    pub fn strongest_near(&self, at: f32, reach: f32) -> Option<f32> {
        let near = self.list.iter().filter(|member| (member.at - at).abs() <= reach);
        near.map(|member| member.strength).reduce(math::larger)
    }

    /// The strongest seen of all.
    pub fn strongest(&self) -> Option<f32> {
        let seen = self.list.iter().filter(|member| member.seen());
        seen.map(|member| member.strength).reduce(math::larger)
    }
}

#[cfg(test)]
mod tests;
