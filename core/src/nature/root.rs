//! Flaw or the weld's own shape, for echoes at or past a face.
//!
//! A flaw at a face lies where it lies: both sides plot it at one place, its depth is the face's, and its corner keeps
//! the level of a corner at every angle. The flank of a bead or cap answers from beyond the middle, past the face, and
//! loses far more than a corner does towards the higher angles. Unfolded depth counts by the walk, which knows no angle;
//! by the axis it is too weak above 60 degrees.

use super::case::{Case, Notes, largest, smallest};
use super::corner::corner_strength;
use super::crossing::crossings;
use super::evidence::{Fact, Says};
use super::group::stands;
use super::site::Site;
use crate::math;
use crate::side::Face;

/// How far under a corner's change of level counts as a corner's, and from where it counts as falling, dB. Common
/// practice, no source.
const HOLDS: f32 = -5.0;
const FALLS: f32 = -9.0;
/// The least difference of angles that is compared, deg. Common practice, no source.
const STEP: f32 = 8.0;
/// Agreement of the sides counts only where it could have been told from a bead, mm.
const TELLING: f32 = 2.5;

/// Notes what tells flaw from shape at one face.
pub(super) fn note(case: &Case<'_>, face: Face, notes: &mut Notes) {
    if case.at(face).chain(case.past(face)).next().is_none() {
        return;
    }
    past(case, face, notes);
    for crossing in crossings(&case.facts, &case.echoes, face) {
        let (by, u, pairs) = (crossing.by, crossing.u, crossing.pairs);
        if crossing.crossed() {
            notes.add(Fact::Crossed { face, by, u, pairs }, Says::flaw(-2));
        } else if crossing.apart() {
            notes.add(Fact::Apart { face, by, u, pairs }, Says::flaw(1));
        } else {
            let says = if u <= TELLING { Says::flaw(1) } else { Says::NOTHING };
            notes.add(Fact::SamePlace { face, by, u, pairs }, says);
        }
    }
    with_angle(case, face, notes);
    if let Some(fell) = case.observed.damped {
        notes.add(Fact::Damped { fell }, Says::flaw(if fell { -2 } else { 1 }));
    }
    if let Some(like) = case.observed.like_clean_length {
        notes.add(Fact::LikeCleanLength { like }, Says::flaw(if like { -2 } else { 1 }));
    }
    if reinforcement(case, face) {
        notes.add(Fact::ReinforcementThere { face }, Says::flaw(-1));
    }
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
    let weight = if walked > 1 { -2 } else { -1 };
    notes.add(Fact::PastFace { face, views, by: sum / weights, u: least }, Says::flaw(weight));
}

/// The change of level from one angle to a higher one beside that of a corner.
fn with_angle(case: &Case<'_>, face: Face, notes: &mut Notes) {
    let material = case.facts.common().material.as_ref().map(|(_, material)| material);
    let ratio = material.and_then(|material| Some(material.longitudinal()?.get() / material.shear().get()));
    let Some(ratio) = ratio else { return };
    let echoes = || case.at(face).chain(case.past(face)).filter(|echo| echo.seen_level().is_some());
    // Where a corner loses most it tells least: other angles first.
    let weak = |angle: f32| (54.0..=66.0).contains(&angle);
    let ends = |firmly: bool| {
        let angles = || echoes().map(|echo| echo.angle).filter(|angle| !firmly || !weak(*angle));
        let (low, high) = (smallest(angles())?, largest(angles())?);
        (high - low >= STEP).then_some((low, high))
    };
    let Some((low, high)) = ends(true).or_else(|| ends(false)) else { return };
    let best = |angle: f32| {
        largest(echoes().filter(|echo| (echo.angle - angle).abs() < 4.0).filter_map(|echo| echo.seen_level()))
    };
    let (Some(at_low), Some(at_high)) = (best(low), best(high)) else { return };
    let (change, corner) = (at_high - at_low, corner_strength(high, ratio) - corner_strength(low, ratio));
    let firm = if weak(low) || weak(high) { 1 } else { 2 };
    if change - corner >= HOLDS {
        notes.add(Fact::HoldsWithAngle { from: low, to: high, change, corner }, Says::flaw(firm));
    } else if change - corner <= FALLS {
        notes.add(Fact::FallsWithAngle { from: low, to: high, change, corner }, Says::flaw(-firm));
    }
}

/// Whether the joint has reinforcement on this face where the echoes plot.
fn reinforcement(case: &Case<'_>, face: Face) -> bool {
    let Some((_, joint)) = case.facts.common().joint.as_ref() else { return false };
    let (width, height) = match face {
        Face::Far => (joint.spec().bead, joint.spec().excess),
        Face::Near => (joint.spec().cap, joint.spec().crown),
    };
    let (Some(width), Some(_)) = (width, height.filter(|height| height.get() > 0.0)) else { return false };
    let echoes = case.at(face).chain(case.past(face));
    let mut any = echoes.filter_map(|echo| echo.at_face);
    any.any(|at| at.y.abs() <= width.get() / 2.0 + 1.0)
}
