//! Where an indication lies: one point from all its views.

use heapless::Vec;

use super::extent::Run;
use super::reading::heard;
use super::{ReadingFinding, evaluate};
use crate::evaluate::fusion::{Fused, View, fuse};
use crate::math;
use crate::part::side::{Face, Side};
use crate::record::entry::{PointPeaked, Sweep};
use crate::record::examination::{Facts, Pooled};
use crate::units::Millimetres;

/// Views of one indication that can be fused.
const VIEWS: usize = 64;

/// What the point rests on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Basis {
    /// Echoes and corners.
    Echoes,
    /// Tips only: the middle between the fused upper and lower tips, or the one that was seen.
    Tips,
}

/// The fused point of an indication.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Point {
    /// What it rests on.
    pub basis: Basis,
    /// Along the weld, of the strongest view, mm.
    pub x: f32,
    /// Across the weld, mm.
    pub y: f32,
    /// Below the near face, mm.
    pub z: f32,
    /// Expanded uncertainty of y, k = 2.
    pub u_y: f32,
    /// Expanded uncertainty of z, k = 2.
    pub u_z: f32,
    /// How many views it rests on.
    pub views: u32,
    /// Weighted sum of squared misfits.
    pub chi_squared: f32,
    /// Degrees of freedom.
    pub degrees_of_freedom: u32,
    /// Whether the views agree (χ² test at 95 %); none of one view.
    pub consistent: Option<bool>,
    /// The face that a corner among the views lies at.
    pub corner_at: Option<Face>,
}

/// A view's best reading so far; kept small, since a device holds many of them on its stack.
#[derive(Clone, Copy)]
pub(super) struct Candidate<'a> {
    pub(super) reading: Pooled<'a>,
    /// Probe, side, face and leg, in this order, the highest bits first; the lowest bit: it and all others of its view lie
    /// on the flank of a series.
    key: u32,
    /// Its level in decibels; −∞ of none.
    level: f32,
    /// Its path, mm.
    path: f32,
}

/// The lowest bit of a candidate's key.
const NO_PEAK: u32 = 1;

impl<'a> Candidate<'a> {
    fn new(finding: &ReadingFinding<'a>) -> Option<Self> {
        let (place, reading) = (finding.place.ok()?, finding.reading);
        let side = u32::from(reading.side() == Side::B);
        let face = u32::from(reading.face() == Face::Far);
        let key =
            (u32::from(reading.probe()) << 24) | (side << 23) | (face << 22) | ((place.leg & 0xf_ffff) << 1);
        let level = finding.level.ok().map_or(f32::NEG_INFINITY, |found| found.level.db.get());
        let path = finding.path.map_or(0.0, Millimetres::get);
        (!finding.unseen()).then_some(Self { reading, key, level, path })
    }

    /// Corners before echoes, peaked alone before seen together, then the stronger; what is left of the rank only keeps
    /// the order of entry out of the answer.
    fn beats(&self, other: &Self) -> bool {
        let rank = |candidate: &Self| {
            let reading = candidate.reading;
            let corner = reading.point() == PointPeaked::Corner;
            let place = (-reading.x().get(), -reading.standoff().get(), -candidate.path);
            (corner, reading.together() == 0, candidate.level, place)
        };
        rank(self) > rank(other)
    }
}

/// The best reading of each view.
pub(super) type Views<'a> = Vec<Candidate<'a>, VIEWS>;

/// What a place is first sought from.
const ECHOES: &[PointPeaked] = &[PointPeaked::Echo, PointPeaked::Corner];
const UPPER: &[PointPeaked] = &[PointPeaked::UpperTip];
const LOWER: &[PointPeaked] = &[PointPeaked::LowerTip];

/// Finds the best reading of each view, among those of these `points`; one list serves for one kind after the other,
/// since a device has little room for such lists.
///
/// A member of a moving series stands for its view only where the series has a peak: the flank of an echo that walks
/// into the next leg is no view of that leg. `None` when there are more views than can be held.
#[inline(never)]
fn views<'a>(
    facts: &Facts<'a>,
    indication: u8,
    points: &'static [PointPeaked],
    best: &mut Views<'a>,
) -> Option<()> {
    best.clear();
    let readings = facts.readings_of(indication).filter(|reading| points.contains(&reading.point()));
    let candidates = readings.filter_map(|reading| Candidate::new(&evaluate(facts, reading)));
    for candidate in candidates.clone() {
        match best.iter_mut().find(|held| held.key == candidate.key) {
            Some(held) if candidate.beats(held) => *held = candidate,
            Some(_) => {}
            None => insert(best, candidate)?,
        }
    }
    for held in best.iter_mut() {
        while held.key & NO_PEAK == 0 && !is_peak(facts, &evaluate(facts, held.reading)) {
            let weaker = candidates.clone().filter(|other| other.key == held.key && held.beats(other));
            match weaker.reduce(|held, other| if other.beats(&held) { other } else { held }) {
                Some(next) => *held = next,
                None => held.key |= NO_PEAK,
            }
        }
    }
    best.retain(|candidate| candidate.key & NO_PEAK == 0);
    Some(())
}

/// Puts a view in the order of the keys, so that the order of entry changes no sum.
fn insert<'a>(views: &mut Views<'a>, candidate: Candidate<'a>) -> Option<()> {
    let mut carried = candidate;
    for held in views.iter_mut() {
        if carried.key < held.key {
            core::mem::swap(held, &mut carried);
        }
    }
    views.push(carried).ok()
}

/// How far a member of a series has moved.
fn travel(reading: Pooled<'_>, sweep: Sweep) -> f32 {
    match sweep {
        Sweep::Along => reading.x().get(),
        Sweep::Across => reading.standoff().get(),
        Sweep::Swivel | Sweep::Orbit => reading.skew().map_or(0.0, |skew| skew.get()),
    }
}

/// Whether no neighbour in a reading's own series is stronger; a reading outside any series was peaked by hand.
pub(super) fn is_peak(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> bool {
    let reading = finding.reading;
    let (Some(sweep), Ok(own)) = (reading.sweep(), finding.level) else { return true };
    let at = travel(reading, sweep);
    let run = Run::of(facts, finding);
    // Across the weld an echo walks from leg to leg; along it each leg is a series of its own.
    let in_run =
        |other: Pooled<'_>| sweep != Sweep::Along || run.holds(&Run::of(facts, &evaluate(facts, other)));
    let beside = facts.readings_of(reading.indication()).filter(|other| {
        other.sweep() == Some(sweep)
            && other.point() == reading.point()
            && (other.probe(), other.side(), other.face())
                == (reading.probe(), reading.side(), reading.face())
    });
    let nearest = |ahead: f32| {
        let gap = |other: Pooled<'_>| (travel(other, sweep) - at) * ahead;
        let on_this_side = beside.clone().filter(|other| gap(*other) > 0.0);
        // To tell the run takes a place: what lies nearest is asked alone, and as a rule belongs to it.
        let first = math::smallest_by(on_this_side.clone(), |other| gap(*other))?;
        if in_run(first) {
            return Some(first);
        }
        let mut held: Option<Pooled<'_>> = None;
        for other in on_this_side {
            if held.is_none_or(|held| gap(other) < gap(held)) && in_run(other) {
                held = Some(other);
            }
        }
        held
    };
    let stronger = |neighbour: Option<Pooled<'_>>| {
        neighbour.is_some_and(|other| heard(facts, other).1.is_ok_and(|found| found.level.db > own.level.db))
    };
    !stronger(nearest(1.0)) && !stronger(nearest(-1.0))
}

fn fused(facts: &Facts<'_>, candidates: &[Candidate<'_>]) -> Option<Fused> {
    let views = candidates.iter().filter_map(|candidate| evaluate(facts, candidate.reading).view());
    let Some(face) = common_face(facts, candidates) else { return fuse(views) };
    // Corners of one face know their depth: only y is left to find.
    let only_y = fuse(views.map(|view| View { z: None, ..view }))?;
    let u_z = candidates.first().and_then(|corner| evaluate(facts, corner.reading).uncertainty());
    Some(Fused { z: Some(face), u_z: u_z.map(|(_, u_z)| u_z), ..only_y })
}

/// The depth that all candidates share when all are corners of one face.
fn common_face(facts: &Facts<'_>, candidates: &[Candidate<'_>]) -> Option<f32> {
    let depth = |corner: &Candidate<'_>| {
        let at_face = corner.reading.point() == PointPeaked::Corner;
        let place = at_face.then(|| evaluate(facts, corner.reading).place.ok()).flatten();
        place.map(|place| place.z.get())
    };
    let face = candidates.first().and_then(depth)?;
    candidates.iter().all(|candidate| depth(candidate) == Some(face)).then_some(face)
}

/// The readings that the [`point`] of an indication rests on, the best of each view; upper tips before lower ones.
#[must_use]
pub fn point_views<'a>(facts: &Facts<'a>, indication: u8) -> Vec<Pooled<'a>, VIEWS> {
    let mut found = Vec::new();
    list_views(facts, indication, &mut found);
    found
}

#[inline(never)]
fn list_views<'a>(facts: &Facts<'a>, indication: u8, found: &mut Vec<Pooled<'a>, VIEWS>) {
    let mut best = Views::new();
    for points in [ECHOES, UPPER, LOWER] {
        if views(facts, indication, points, &mut best).is_none() {
            continue;
        }
        for candidate in &best {
            let _ = found.push(candidate.reading);
        }
        if points == ECHOES && !found.is_empty() {
            break;
        }
    }
}

/// The point of an indication; none when no reading of it has a place.
#[must_use]
#[inline(never)]
pub fn point(facts: &Facts<'_>, indication: u8) -> Option<Point> {
    let mut best = Views::new();
    echoes(facts, indication, &mut best)?;
    point_by(facts, indication, &mut best)
}

/// The best echo or corner of each view; `None` when there are more views than can be held.
pub(super) fn echoes<'a>(facts: &Facts<'a>, indication: u8, best: &mut Views<'a>) -> Option<()> {
    views(facts, indication, ECHOES, best)
}

/// The point of an indication by its [`echoes`], or by its tips where those give none; the list serves for these too.
pub(super) fn point_by<'a>(facts: &Facts<'a>, indication: u8, best: &mut Views<'a>) -> Option<Point> {
    if let Some(found) = fused(facts, best) {
        let corner = best.iter().find(|candidate| candidate.reading.point() == PointPeaked::Corner);
        let place = corner.and_then(|corner| evaluate(facts, corner.reading).place.ok());
        // A corner's depth is the thickness at the far face and nothing at the near one.
        let corner_at =
            place.map(|place| if place.z_partials.thickness == 0.0 { Face::Near } else { Face::Far });
        return finish(facts, Basis::Echoes, strongest(best)?, found, corner_at);
    }
    views(facts, indication, UPPER, best)?;
    let (upper, strongest_upper) = (fused(facts, best), strongest(best));
    views(facts, indication, LOWER, best)?;
    let found = match (upper, fused(facts, best)) {
        (Some(upper), Some(lower)) => middle(&upper, &lower)?,
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => return None,
    };
    finish(facts, Basis::Tips, strongest_upper.or(strongest(best))?, found, None)
}

/// The strongest view; of two that are equally strong, the one nearer the datum.
fn strongest<'a>(views: &[Candidate<'a>]) -> Option<Pooled<'a>> {
    let rank = |candidate: &&Candidate<'_>| (candidate.level, -candidate.reading.x().get());
    Some(math::largest_by(views.iter(), rank)?.reading)
}

/// The middle between two fused points. Their errors are mostly shared, so their uncertainties are averaged, which holds
/// for any correlation.
fn middle(one: &Fused, other: &Fused) -> Option<Fused> {
    Some(Fused {
        y: (one.y + other.y) / 2.0,
        z: Some((one.z? + other.z?) / 2.0),
        u_y: (one.u_y + other.u_y) / 2.0,
        u_z: Some((one.u_z? + other.u_z?) / 2.0),
        views: one.views.saturating_add(other.views),
        chi_squared: one.chi_squared + other.chi_squared,
        degrees_of_freedom: one.degrees_of_freedom.saturating_add(other.degrees_of_freedom),
    })
}

fn finish(
    facts: &Facts<'_>,
    basis: Basis,
    strongest: Pooled<'_>,
    found: Fused,
    corner_at: Option<Face>,
) -> Option<Point> {
    Some(Point {
        basis,
        x: evaluate(facts, strongest).place.ok()?.x.get(),
        y: found.y,
        z: found.z?,
        u_y: found.u_y,
        u_z: found.u_z?,
        views: found.views,
        chi_squared: found.chi_squared,
        degrees_of_freedom: found.degrees_of_freedom,
        consistent: found.consistent(),
        corner_at,
    })
}
