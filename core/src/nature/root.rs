//! Flaw or the weld's own shape, for echoes at or past a face.
//!
//! A flaw at a face lies where it lies: both sides plot it at one place, its depth is the face's, and its corner keeps
//! the level of a corner at every angle. The flank of a bead or cap answers from beyond the middle, past the face, and
//! loses far more than a corner does towards the higher angles. Unfolded depth counts by the walk, which knows no angle;
//! by the axis it is too weak above 60 degrees.

use super::case::{Case, Notes, largest};
use super::corner::corner_strength;
use super::crossing::crossings;
use super::echo::Echo;
use super::evidence::{Fact, Says};
use super::group::stands;
use super::site::Site;
use crate::findings::geometry;
use crate::math;
use crate::side::Face;

/// How far under a corner's change of level counts as a corner's, and from where it counts as falling, dB. Common
/// practice, no source.
const HOLDS: f32 = -5.0;
const FALLS: f32 = -9.0;
/// What is allowed more either way near 60 degrees, dB: how much a corner loses there depends on the very angle. Common
/// practice, no source.
const ALLOWED: f32 = 3.0;
/// The least difference of angles that is compared, deg. Common practice, no source.
const STEP: f32 = 8.0;
/// The highest reinforcement that is likely, mm. Common practice, no source.
const HIGH: f32 = 4.0;
/// Agreement of the sides counts only where it could have been told from a bead, mm.
const TELLING: f32 = 2.5;

/// Notes what tells flaw from shape at one face; what is too wide for a corner is no flaw there on account of its level
/// or place, but may be buried.
#[inline(never)]
pub(super) fn note(case: &Case<'_>, face: Face, wide: bool, notes: &mut Notes) {
    if case.at(face).chain(case.past(face)).next().is_none() {
        return;
    }
    past(case, face, notes);
    for crossing in crossings(&case.facts, &case.echoes, face) {
        let (by, u, pairs) = (crossing.by, crossing.u, crossing.pairs);
        if by - u > widest(case, face) {
            // Farther apart than any root is wide: not two views of one thing.
            continue;
        }
        if crossing.crossed() {
            notes.add(Fact::Crossed { face, by, u, pairs }, Says::flaw(if pairs > 1 { -2 } else { -1 }));
        } else if crossing.apart() {
            notes.add(Fact::Apart { face, by, u, pairs }, Says::flaw(1));
        } else {
            let says = match (wide, u <= TELLING) {
                (_, false) => Says::NOTHING,
                (true, true) => Says::buried(1),
                (false, true) => Says::flaw(1),
            };
            notes.add(Fact::SamePlace { face, by, u, pairs }, says);
        }
    }
    with_angle(case, face, wide, notes);
    if let Some(fell) = case.observed.damped {
        notes.add(Fact::Damped { fell }, Says::flaw(if fell { -2 } else { 1 }));
    }
    if let Some(like) = case.observed.like_clean_length {
        notes.add(Fact::LikeCleanLength { like }, Says::flaw(if like { -2 } else { 1 }));
    }
    if let Some((y, half)) = elsewhere(case, face) {
        notes.add(Fact::Elsewhere { face, y, half }, Says::flaw(2));
    }
    if let Some(found) = geometry(&case.facts, case.indication) {
        let (feature, distance) = (found.feature, found.distance);
        notes.add(Fact::ExpectedThere { feature, distance }, Says::flaw(-1));
    }
}

/// The widest that the reinforcement of a face can be, mm: as the joint says, else 8 mm (common practice, no source).
fn widest(case: &Case<'_>, face: Face) -> f32 {
    let joint = case.facts.common().joint.as_ref().map(|(_, joint)| joint.spec());
    let width = joint.and_then(|spec| if face == Face::Far { spec.bead } else { spec.cap });
    width.map_or(8.0, |width| width.get())
}

/// How far from the centreline the echoes at a face lie, and half the width of its reinforcement, where the joint gives
/// that and every echo lies clear of it.
fn elsewhere(case: &Case<'_>, face: Face) -> Option<(f32, f32)> {
    let spec = case.facts.common().joint.as_ref().map(|(_, joint)| joint.spec())?;
    let half = (if face == Face::Far { spec.bead } else { spec.cap })?.get() / 2.0;
    let places = case.at(face).filter_map(|echo| echo.at_face.map(|at| (at.y.abs(), echo.u_y)));
    let (y, u_y) = math::smallest_by(places, |(y, _)| *y)?;
    (y - u_y > half).then_some((y, half))
}

/// Echoes past the face: firmly so where two views by their walk say it.
fn past(case: &Case<'_>, face: Face, notes: &mut Notes) {
    let views = stands(case.past(face));
    if views == 0 {
        return;
    }
    let (mut sum, mut weights, mut walked) = (0.0f32, 0.0f32, 0u32);
    for echo in case.past(face) {
        if let Site::Past { by, .. } = echo.site {
            let weight = 1.0 / (echo.u_depth * echo.u_depth + 1e-6);
            (sum, weights) = (sum + weight * by, weights + weight);
            walked = walked.saturating_add(echo.walked.into());
        }
    }
    let least = case.past(face).map(|echo| echo.u_depth).fold(f32::INFINITY, math::smaller);
    // A bead is a few millimetres high.
    let weight = if walked > 1 && sum / weights <= HIGH { -2 } else { -1 };
    notes.add(Fact::PastFace { face, views, by: sum / weights, u: least }, Says::flaw(weight));
}

/// The change of level from one angle to a higher one beside that of a corner.
fn with_angle(case: &Case<'_>, face: Face, too_wide: bool, notes: &mut Notes) {
    let material = case.facts.common().material.as_ref().map(|(_, material)| material);
    let ratio = material.and_then(|material| Some(material.longitudinal()?.get() / material.shear().get()));
    let Some(ratio) = ratio else { return };
    let level = |echo: &Echo<'_>| echo.seen_level().filter(|_| !echo.cut);
    let echoes = || case.at(face).chain(case.past(face)).filter(|echo| level(echo).is_some());
    let best = |angle: f32| {
        largest(echoes().filter(|echo| (echo.angle - angle).abs() < STEP / 2.0).filter_map(level))
    };
    // Where a corner loses most, how much it loses is least certain.
    let weak = |angle: f32| (54.0..=66.0).contains(&angle);
    // The pair of angles that falls farthest short of a corner, and the widest pair.
    let mut worst: Option<(f32, Fact, bool)> = None;
    let mut widest: Option<(f32, Fact, bool)> = None;
    for from in echoes().map(|echo| echo.angle) {
        for to in echoes().map(|echo| echo.angle).filter(|to| *to >= from + STEP) {
            let (Some(low), Some(high)) = (best(from), best(to)) else { continue };
            let (change, corner) = (high - low, corner_strength(to, ratio) - corner_strength(from, ratio));
            let firm = !weak(from) && !weak(to);
            let off = change - corner + if firm { 0.0 } else { ALLOWED };
            if worst.is_none_or(|(held, ..)| off < held) {
                worst = Some((off, Fact::FallsWithAngle { from, to, change, corner }, firm));
            }
            let span = to - from;
            if widest.is_none_or(|(held, ..)| span > held) {
                widest = Some((span, Fact::HoldsWithAngle { from, to, change, corner }, firm));
            }
        }
    }
    let (Some((off, falls, firm)), Some((_, holds, wide))) = (worst, widest) else { return };
    if off <= FALLS {
        notes.add(falls, Says::flaw(if firm || off <= FALLS - ALLOWED { -2 } else { -1 }));
    } else if off >= HOLDS && !too_wide {
        notes.add(holds, Says { flaw: if wide { 2 } else { 1 }, ..Says::breaks(face, 1) });
    }
}
