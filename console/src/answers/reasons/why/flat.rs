//! From a path to depth and surface distance on a flat plate.

use core::fmt;

use halfskip::math;
use halfskip::record::entry::PointPeaked;
use halfskip::record::examination::Facts;
use halfskip::units::decimal::Fixed;

use super::derivation::Derivation;
use super::steps::{Source, Steps};

/// Steps to z and d.
pub(super) fn answer(facts: &Facts<'_>, how: &Derivation<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
    if how.reading.point() == PointPeaked::Corner {
        corner(how, steps)
    } else if how.is_tied() {
        together(facts, how, steps)
    } else {
        on_the_axis(how, steps)
    }
}

fn unfolded(how: &Derivation<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let (path, angle) = (how.lengths.fine(how.path), Fixed(how.angle(), 2));
    let u = how.lengths.fine(how.place.unfolded.get());
    let from = match (how.state.angle_stated(), how.state.angle_check()) {
        (Some(_), _) => "stated",
        (None, Some(_)) => "measured",
        (None, None) => "nominal",
    };
    steps.step("u", format_args!("s cos a = {path} cos {angle} deg = {u}, a as {from}"), Source::Geometry)
}

/// The leg of an unfolded depth, and the depth of its end below the scanned face.
fn leg_and_depth(how: &Derivation<'_>, unfolded: f32, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let (lengths, leg) = (how.lengths, how.place.leg);
    let (u, t) = (lengths.fine(unfolded), lengths.fine(how.thickness));
    let legs = Fixed(unfolded / how.thickness, 3);
    steps.step(
        "n",
        format_args!("u / t = {u} / {t} = {legs}, rounded up; at a face the leg that ends there: {leg}"),
        Source::Welds,
    )?;
    let (below, depth) = (leg.saturating_sub(1), lengths.fine(how.depth()));
    if leg % 2 == 1 {
        steps.step("z", format_args!("u - (n - 1) t = {u} - {below} x {t} = {depth}"), Source::Geometry)?;
    } else {
        steps.step("z", format_args!("n t - u = {leg} x {t} - {u} = {depth}"), Source::Geometry)?;
    }
    how.below_near_face(steps)
}

fn on_the_axis(how: &Derivation<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
    unfolded(how, steps)?;
    leg_and_depth(how, how.place.unfolded.get(), steps)?;
    let (path, angle) = (how.lengths.fine(how.path), Fixed(how.angle(), 2));
    let distance = how.lengths.fine(how.place.distance.get());
    steps.step("d", format_args!("s sin a = {path} sin {angle} deg = {distance}"), Source::Geometry)
}

fn corner(how: &Derivation<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
    unfolded(how, steps)?;
    let (lengths, leg) = (how.lengths, how.place.leg);
    let legs = Fixed(how.place.unfolded.get() / how.thickness, 3);
    steps.step(
        "n",
        format_args!("a corner lies at a face: the whole number nearest u / t = {legs}, at least 1: {leg}"),
        Source::Geometry,
    )?;
    how.corner_depth(steps)?;
    let (path, face) = (lengths.fine(how.path), lengths.fine(leg as f32 * how.thickness));
    let distance = lengths.fine(how.place.distance.get());
    steps.step(
        "d",
        format_args!("sqrt(s^2 - (n t)^2) = sqrt({path}^2 - {face}^2) = {distance}; the angle drops out"),
        Source::Geometry,
    )
}

fn together(facts: &Facts<'_>, how: &Derivation<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
    how.known_distance(facts, steps)?;
    let (lengths, distance) = (how.lengths, how.place.distance.get());
    let squared = f64::from(how.path) * f64::from(how.path) - f64::from(distance) * f64::from(distance);
    let unfolded = math::sqrt_f64(squared).unwrap_or(0.0) as f32;
    let (s, d, u) = (lengths.fine(how.path), lengths.fine(distance), lengths.fine(unfolded));
    steps.step(
        "u",
        format_args!("sqrt(s^2 - d^2) = sqrt({s}^2 - {d}^2) = {u}: seen together, not on the axis"),
        Source::Geometry,
    )?;
    leg_and_depth(how, unfolded, steps)
}
