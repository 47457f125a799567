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
    if let (Travel::Time(time), Some(fit)) = (found.reading.travel(), state.timebase()) {
        let (velocity, delay) = (Fixed(fit.base().velocity.get(), 3), Fixed(fit.base().delay.get(), 3));
        let time = fixed(time.quantity().get());
        steps.step(
            "s",
            format_args!(
                "c (time - delay) / 2 = {velocity} mm/us ({time} - {delay}) us / 2 = {}",
                lengths.finely(path)
            ),
            Source::Practice,
        )?;
    }
    let place = match found.place {
        Ok(place) => place,
        Err(reason) => return steps.given("y, z", format_args!("not known: {reason}")),
    };
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.thickness());
    let Some(thickness) = found.reading.thickness().or(joint) else { return Ok(()) };
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
