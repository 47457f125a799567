//! From a reading to its place.

use core::fmt;

use halfskip::findings::ReadingFinding;
use halfskip::part::Part;
use halfskip::record::entry::{PointPeaked, Travel};
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::decimal::{Fixed, fixed};

use super::derivation::{Derivation, expanded};
use super::steps::{Source, Steps};

/// Steps to the place, or why there is none.
#[inline(never)]
pub(super) fn answer(
    facts: &Facts<'_>,
    state: &ProbeState,
    found: &ReadingFinding<'_>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let lengths = steps.page.lengths;
    let path = match found.path {
        Ok(path) => path.get(),
        Err(reason) => return steps.given("s", format_args!("not known: {reason}")),
    };
    to_path(state, found, path, steps)?;
    let place = match found.place {
        Ok(place) => place,
        Err(reason) => return steps.given("y, z", format_args!("not known: {reason}")),
    };
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.thickness());
    let Some(thickness) = found.reading.thickness().or(joint) else { return Ok(()) };
    to_angle(state, steps)?;
    let behind_step = found.reading.point() == PointPeaked::Corner && place.z > thickness;
    if behind_step {
        let (z, t) = (place.z.get(), thickness.get());
        steps.step(
            "t",
            format_args!(
                "behind the counterbore's step, {} + {} = {}",
                lengths.fine(t),
                lengths.fine(z - t),
                lengths.fine(z)
            ),
            Source::Geometry,
        )?;
    }
    let thickness = if behind_step { place.z } else { thickness };
    let how = Derivation { lengths, state, reading: found.reading, path, thickness: thickness.get(), place };
    let curvature = facts.common().joint.as_ref().map(|(_, joint)| joint.spec().curvature);
    match Part::new(thickness, curvature.unwrap_or_default()) {
        Ok(Part::Around(pipe)) => super::pipe::answer(facts, &how, &pipe, steps)?,
        _ => {
            super::flat::answer(facts, &how, steps)?;
            how.across(steps)?;
        }
    }
    expanded("U(y)", &place.y_partials, &found.budget, steps)?;
    expanded("U(z)", &place.z_partials, &found.budget, steps)?;
    fold(&how, place.u_z(&found.budget), steps)
}

/// From what the time base shows to the path in the part.
fn to_path(
    state: &ProbeState,
    found: &ReadingFinding<'_>,
    path: f32,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let lengths = steps.page.lengths;
    let ratio = state.velocities().map(|turned| (turned.part().get(), turned.block().get()));
    let shown = match (found.reading.travel(), state.timebase()) {
        (Travel::Path(shown), _) => shown.quantity().get(),
        (Travel::Time(time), Some(fit)) => {
            let (velocity, delay) = (Fixed(fit.base().velocity.get(), 3), Fixed(fit.base().delay.get(), 3));
            let shown = fit.base().path(time.quantity()).map_or(path, |path| path.get());
            let time = fixed(time.quantity().get());
            let (s, c) = if ratio.is_some() { ("s_b", "c_b") } else { ("s", "c") };
            steps.step(
                s,
                format_args!(
                    "{c} (time - delay) / 2 = {velocity} mm/us ({time} - {delay}) us / 2 = {}",
                    lengths.finely(shown)
                ),
                Source::Practice,
            )?;
            shown
        }
        (Travel::Time(_), None) => return Ok(()),
    };
    let Some((part, block)) = ratio else { return Ok(()) };
    steps.step(
        "s",
        format_args!(
            "s_b c / c_b = {} x {} / {} = {}, c of the part, c_b of the time base's block",
            lengths.fine(shown),
            Fixed(part, 3),
            Fixed(block, 3),
            lengths.finely(path)
        ),
        Source::Practice,
    )
}

/// From the angle on the block to that in the part: by the wedge's warmth, and by the velocities.
fn to_angle(state: &ProbeState, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let (Some(probe), Some(axis)) = (state.probe(), state.axis()) else { return Ok(()) };
    let on_block = state.angle_on_block();
    // The nominal angle is the probe's own at the temperature of use already.
    let wedge = state.block_at().filter(|_| on_block.is_some()).and_then(|at| {
        let (spec, used) = (probe.spec(), probe.wedge()?);
        let heat = spec.temperature?;
        let then = heat.used_at(at).ok()?.velocity(spec.wedge?).ok()?;
        Some((then.get(), used.get(), at, heat.at()))
    });
    let (from, to) = (Fixed(on_block.unwrap_or(probe.refracted()).get(), 2), Fixed(axis.angle().get(), 2));
    let turned = state.velocities().map(|turned| (turned.part().get(), turned.block().get()));
    match (wedge, turned) {
        (Some((then, used, at, use_at)), None) => steps.step(
            "a",
            format_args!(
                "sin a = sin a_b w_b / w = sin {from} deg x {} / {}: {to} deg, w of the wedge at {} C, w_b at {} C",
                Fixed(then, 3),
                Fixed(used, 3),
                fixed(use_at),
                fixed(at)
            ),
            Source::Geometry,
        ),
        (None, Some((part, block))) => steps.step(
            "a",
            format_args!(
                "sin a = sin a_b c / c_b = sin {from} deg x {} / {}: {to} deg",
                Fixed(part, 3),
                Fixed(block, 3)
            ),
            Source::Geometry,
        ),
        (Some((then, used, at, use_at)), Some((part, block))) => steps.step(
            "a",
            format_args!(
                "sin a = sin a_b (w_b / w) (c / c_b) = sin {from} deg x {} / {} x {} / {}: {to} deg, w of the wedge at \
                 {} C, w_b at {} C",
                Fixed(then, 3),
                Fixed(used, 3),
                Fixed(part, 3),
                Fixed(block, 3),
                fixed(use_at),
                fixed(at)
            ),
            Source::Geometry,
        ),
        (None, None) => match state.turned_untold() {
            Some(turned) => steps.given(
                "a",
                format_args!(
                    "{to} deg as measured: the block's temperature is not recorded, and the wedge turns the beam by {} \
                     deg from the marked one to that of use",
                    Fixed(turned, 1)
                ),
            ),
            None => Ok(()),
        },
    }
}

/// Where z lies within its uncertainty of a face at which one leg ends and the next begins, first order is not enough.
fn fold(how: &Derivation<'_>, u_z: f32, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let (z, leg) = (how.depth(), how.place.leg);
    let to_far = how.thickness - z;
    let (ends, begins) = if leg % 2 == 1 { (to_far, z) } else { (z, to_far) };
    let next = (ends < u_z).then_some(leg.saturating_add(1));
    let before = (begins < u_z && leg > 1).then_some(leg.saturating_sub(1));
    match next.or(before) {
        Some(other) if how.reading.point() != PointPeaked::Corner => steps.remark(format_args!(
            "z lies within U(z) of the face between legs {leg} and {other}: either fits, and U(z), of first order, does \
             not see the fold there"
        )),
        _ => Ok(()),
    }
}
