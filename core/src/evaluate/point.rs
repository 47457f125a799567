//! Where an indication lies: one point from all its views.

use heapless::Vec;

use super::scan::Scan;
use super::{Indication, ReadingFinding, evaluate};
use crate::evaluate::fusion::{Body, Fused, Prior, View, fuse_within};
use crate::math;
use crate::part::side::{Face, Side};
use crate::record::entry::{PointPeaked, Sweep};
use crate::record::examination::Pooled;
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
    /// How large the reflector is.
    pub body: Body,
    /// U of y and z by the fit alone, though the views disagree.
    pub of_fit: [f32; 2],
    /// Echoes that lie off what the tips mark, beyond their uncertainty; the views then disagree.
    pub off_tips: u32,
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
    fn new(indication: Indication<'_>, reading: Pooled<'a>) -> Option<Self> {
        let heard = indication.heard(reading);
        let leg = heard.spot?.leg;
        let side = u32::from(reading.side() == Side::B);
        let face = u32::from(reading.face() == Face::Far);
        let key = (u32::from(reading.probe()) << 24) | (side << 23) | (face << 22) | ((leg & 0xf_ffff) << 1);
        let path = heard.path.map_or(0.0, Millimetres::get);
        (!heard.unseen).then_some(Self { reading, key, level: heard.db(), path })
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
fn views<'a>(indication: Indication<'a>, points: &'static [PointPeaked], best: &mut Views<'a>) -> Option<()> {
    best.clear();
    let readings = indication.readings().filter(|reading| points.contains(&reading.point()));
    let candidates = readings.filter_map(|reading| Candidate::new(indication, reading));
    for candidate in candidates.clone() {
        match best.iter_mut().find(|held| held.key == candidate.key) {
            Some(held) if candidate.beats(held) => *held = candidate,
            Some(_) => {}
            None => insert(best, candidate)?,
        }
    }
    for held in best.iter_mut() {
        while held.key & NO_PEAK == 0 && !is_peak(indication, held.reading) {
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

/// Whether no neighbour in a reading's own scan is stronger; a reading outside any scan was peaked by hand.
pub(super) fn is_peak(indication: Indication<'_>, reading: Pooled<'_>) -> bool {
    let Some(own) = indication.heard(reading).level.map(|(level, _)| level.db) else { return true };
    let Some(scan) = Scan::by(indication, reading) else { return true };
    let at = scan.travel(reading);
    let beside = scan.readings().filter(|other| other.point() == reading.point());
    let girth = indication.facts().girth().filter(|_| reading.sweep() == Some(Sweep::Along));
    let nearest = |ahead: f32| {
        let off = |to: f32| girth.map_or(to - at, |girth| girth.step(at, to));
        let gap = |other: Pooled<'_>| off(scan.travel(other)) * ahead;
        let on_this_side = beside.clone().filter(|other| gap(*other) > 0.0);
        math::smallest_by(on_this_side, |other| gap(*other))
    };
    let stronger = |neighbour: Option<Pooled<'_>>| {
        neighbour.and_then(|other| indication.heard(other).level).is_some_and(|(level, _)| level.db > own)
    };
    !stronger(nearest(1.0)) && !stronger(nearest(-1.0))
}

fn fused(indication: Indication<'_>, candidates: &[Candidate<'_>]) -> Option<Fused> {
    let facts = indication.facts();
    let views = candidates.iter().filter_map(|candidate| evaluate(facts, candidate.reading).view());
    let prior = prior(indication, candidates);
    let Some(face) = common_face(indication, candidates) else { return fuse_within(views, &prior) };
    // Corners of one face know their depth: only y is left to find.
    let only_y = fuse_within(views.map(|view| View { z: None, ..view }), &prior)?;
    let u_z = candidates.first().and_then(|corner| evaluate(facts, corner.reading).uncertainty());
    let (u_z, [of_y, _]) = (u_z.map(|(_, u_z)| u_z), only_y.of_fit);
    Some(Fused { z: Some(face), u_z, of_fit: [of_y, u_z.unwrap_or(0.0)], ..only_y })
}

/// How large a body may be, and the thickest wall that a view was read at.
fn prior(indication: Indication<'_>, candidates: &[Candidate<'_>]) -> Prior {
    let common = indication.facts().common();
    let joint = common.joint.as_ref().map(|(_, joint)| joint.thickness());
    let thickness = |view: &Candidate<'_>| Some(view.reading.thickness().or(joint)?.get());
    let thickest = candidates.iter().filter_map(thickness).reduce(math::larger);
    Prior { across: common.reflector.get(), thickness: thickest }
}

/// The depth that all candidates share when all are corners of one face.
fn common_face(indication: Indication<'_>, candidates: &[Candidate<'_>]) -> Option<f32> {
    let depth = |corner: &Candidate<'_>| {
        let at_face = corner.reading.point() == PointPeaked::Corner;
        let spot = at_face.then(|| indication.heard(corner.reading).spot).flatten();
        spot.map(|spot| spot.z)
    };
    let face = candidates.first().and_then(depth)?;
    candidates.iter().all(|candidate| depth(candidate) == Some(face)).then_some(face)
}

#[inline(never)]
fn list_views<'a>(indication: Indication<'a>, found: &mut Vec<Pooled<'a>, VIEWS>) {
    let mut best = Views::new();
    for points in [ECHOES, UPPER, LOWER] {
        if views(indication, points, &mut best).is_none() {
            continue;
        }
        if points == ECHOES && !has_corner(&best) && has_tips(indication) {
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

fn has_corner(views: &[Candidate<'_>]) -> bool {
    views.iter().any(|view| view.reading.point() == PointPeaked::Corner)
}

/// Whether an upper and a lower tip are known: without a corner they place the indication, whatever else was seen of it.
#[inline(never)]
fn has_tips(indication: Indication<'_>) -> bool {
    [UPPER, LOWER].into_iter().all(|points| {
        let mut tips = indication.readings().filter(|reading| points.contains(&reading.point()));
        tips.any(|tip| Candidate::new(indication, tip).is_some() && is_peak(indication, tip))
    })
}

impl<'a> Indication<'a> {
    /// Where it lies: the fused point of its views; none when no reading of it has a place.
    #[must_use]
    #[inline(never)]
    pub fn place(self) -> Option<Point> {
        let mut best = Views::new();
        self.echoes(&mut best)?;
        self.place_by(&mut best)
    }

    /// The readings that its [`place`](Self::place) rests on, the best of each view; upper tips before lower ones.
    #[must_use]
    pub fn views(self) -> Vec<Pooled<'a>, VIEWS> {
        let mut found = Vec::new();
        list_views(self, &mut found);
        found
    }

    /// The best echo or corner of each view; `None` when there are more views than can be held.
    pub(super) fn echoes(self, best: &mut Views<'a>) -> Option<()> {
        views(self, ECHOES, best)
    }

    /// The place by its [`echoes`](Self::echoes), or by its tips where those give none; the list serves for these too.
    fn place_by(self, best: &mut Views<'a>) -> Option<Point> {
        let by_tips = !has_corner(best) && has_tips(self);
        if let Some(found) = (!by_tips).then(|| fused(self, best)).flatten() {
            let corner = best.iter().find(|candidate| candidate.reading.point() == PointPeaked::Corner);
            let place = corner.and_then(|corner| evaluate(self.facts(), corner.reading).place.ok());
            // A corner's depth is the thickness at the far face and nothing at the near one.
            let corner_at =
                place.map(|place| if place.z_partials.thickness == 0.0 { Face::Near } else { Face::Far });
            return finish(self, Basis::Echoes, strongest(best)?, found, corner_at);
        }
        views(self, UPPER, best)?;
        let (upper, strongest_upper) = (fused(self, best), strongest(best));
        views(self, LOWER, best)?;
        let strongest = strongest_upper.or(strongest(best))?;
        let (upper, lower) = match (upper, fused(self, best)) {
            (Some(upper), Some(lower)) => (upper, lower),
            (Some(one), None) | (None, Some(one)) => return finish(self, Basis::Tips, strongest, one, None),
            (None, None) => return None,
        };
        let point = finish(self, Basis::Tips, strongest, middle(&upper, &lower)?, None)?;
        self.echoes(best)?;
        let is_off = |view: &&Candidate<'_>| is_off(&evaluate(self.facts(), view.reading), [&upper, &lower]);
        let off = best.iter().filter(is_off).count();
        let consistent = if off > 0 { Some(false) } else { point.consistent };
        Some(Point { consistent, off_tips: off as u32, ..point })
    }
}

/// Whether a reading lies off all that two tips mark, by more than its uncertainty and theirs.
fn is_off(finding: &ReadingFinding<'_>, tips: [&Fused; 2]) -> bool {
    let (Ok(place), Some((u_y, u_z))) = (finding.place, finding.uncertainty()) else { return false };
    let off = |at: f32, u: f32, [one, other]: [(f32, f32); 2]| {
        let within = |(tip, of_tip): (f32, f32)| (tip, math::sqrt(u * u + of_tip * of_tip).unwrap_or(u));
        let ((one, near), (other, far)) = (within(one), within(other));
        at < math::smaller(one - near, other - far) || at > math::larger(one + near, other + far)
    };
    let depth = |tip: &Fused| Some((tip.z?, tip.u_z?));
    let across = tips.map(|tip| (tip.y, tip.u_y));
    let [upper, lower] = tips;
    let down = depth(upper).zip(depth(lower));
    off(place.y.get(), u_y, across) || down.is_some_and(|(one, other)| off(place.z.get(), u_z, [one, other]))
}

/// The strongest view; of two that are equally strong, the one nearer the datum.
fn strongest<'a>(views: &[Candidate<'a>]) -> Option<Pooled<'a>> {
    let rank = |candidate: &&Candidate<'_>| (candidate.level, -candidate.reading.x().get());
    Some(math::largest_by(views.iter(), rank)?.reading)
}

/// The middle between two fused points. Their errors are mostly shared, so their uncertainties are averaged, which holds
/// for any correlation.
fn middle(one: &Fused, other: &Fused) -> Option<Fused> {
    let ([y_1, z_1], [y_2, z_2]) = (one.of_fit, other.of_fit);
    Some(Fused {
        y: (one.y + other.y) / 2.0,
        z: Some((one.z? + other.z?) / 2.0),
        u_y: (one.u_y + other.u_y) / 2.0,
        u_z: Some((one.u_z? + other.u_z?) / 2.0),
        views: one.views.saturating_add(other.views),
        chi_squared: one.chi_squared + other.chi_squared,
        degrees_of_freedom: one.degrees_of_freedom.saturating_add(other.degrees_of_freedom),
        body: Body::Point,
        of_fit: [(y_1 + y_2) / 2.0, (z_1 + z_2) / 2.0],
    })
}

fn finish(
    indication: Indication<'_>,
    basis: Basis,
    strongest: Pooled<'_>,
    found: Fused,
    corner_at: Option<Face>,
) -> Option<Point> {
    Some(Point {
        basis,
        x: indication.heard(strongest).spot?.x.get(),
        y: found.y,
        z: found.z?,
        u_y: found.u_y,
        u_z: found.u_z?,
        views: found.views,
        chi_squared: found.chi_squared,
        degrees_of_freedom: found.degrees_of_freedom,
        consistent: found.consistent(),
        corner_at,
        body: found.body,
        of_fit: found.of_fit,
        off_tips: 0,
    })
}
