//! What a reading calls for.

use super::super::grounds::{off, out_of_place};
use super::super::{ReadingFinding, Why, evaluate, suspicion};
use super::Shared;
use crate::calibration::curve::How;
use crate::evaluate::seen;
use crate::math;
use crate::part::Part;
use crate::part::joint::{Joint, Section};
use crate::part::side::Face;
use crate::physics::beam::{EdgeDrop, spread};
use crate::physics::material::STEEL_SHEAR;
use crate::physics::probe::{Probe, wavelength};
use crate::planning::geometry_echoes::Seen;
use crate::record::entry::PointPeaked;
use crate::record::examination::{Facts, Pooled};
use crate::units::Millimetres;

pub(super) fn of_reading(
    facts: &Facts<'_>,
    weld: Option<&(&Joint, Section)>,
    reading: Pooled<'_>,
    tell: &mut impl FnMut(Shared),
) {
    if let Some(suspicion) = suspicion(facts, reading) {
        tell(Shared::Suspect(suspicion));
    }
    let finding = evaluate(facts, reading);
    if let Ok(found) = finding.level
        && matches!(found.reference.how, How::Held | How::Sloped)
    {
        tell(Shared::Extended { probe: reading.probe(), how: found.reference.how });
    }
    let Some((joint, section)) = weld else { return };
    for why in out_of_place(facts, joint, section, &finding).into_iter().flatten() {
        if let Some(shared) = placed(joint, section, &finding, why) {
            tell(shared);
        }
    }
    let t = joint.thickness();
    if let Some(own) = reading.thickness().filter(|own| off(*own, t) > THICKNESS) {
        tell(Shared::Thickness { from: own.get(), to: own.get(), joint: t.get() });
    }
    let Some(seen) = seen(facts, &finding) else { return };
    if let Some((ray, axis)) = corner_off_axis(facts, &finding) {
        tell(Shared::OffAxis { from: ray, to: ray, axis });
    }
    if reading.thickness().is_none()
        && let Some(turn) = turns_beyond_step(joint, &seen)
    {
        tell(Shared::TurnsBeyondStep { turn });
    }
}

/// A thickness that differs from the joint's by more than this part of it is told. Ours: half of what blocks an accept.
const THICKNESS: f32 = 0.10;

/// What is told of a probe or an echo that is where it cannot be. The flanks of a scan plot beside their reflector: of
/// them only what lies another thickness beyond is told.
fn placed(joint: &Joint, section: &Section, finding: &ReadingFinding<'_>, why: Why) -> Option<Shared> {
    let reading = finding.reading;
    match why {
        Why::SideNotReached { .. } => Some(Shared::OutOfReach { side: reading.side() }),
        Why::InTheWay { standoff, least, .. } => {
            let of = section.clearance(reading.side(), reading.face())?.of;
            let (standoff, least) = (standoff.get(), least.get());
            Some(Shared::InTheWay { probe: reading.probe(), of, standoff, least })
        }
        Why::OffWeld { y, edge, .. } => {
            let (u_y, _) = finding.uncertainty()?;
            let further = if reading.sweep().is_some() { joint.thickness().get() } else { 0.0 };
            let off = y.get().abs() - u_y > edge.get().abs() + further;
            off.then_some(Shared::OffWeld { y: y.get(), edge: edge.get() })
        }
        _ => None,
    }
}

/// The ray to what was read as a corner, and the axis, in degrees, when the ray is so far off that it may be none.
pub(in crate::findings) fn corner_off_axis(
    facts: &Facts<'_>,
    finding: &ReadingFinding<'_>,
) -> Option<(f32, f32)> {
    let reading = finding.reading;
    let probe = facts.probe(reading.probe())?.probe().filter(|_| reading.point() == PointPeaked::Corner)?;
    let seen = seen(facts, finding)?;
    Some((off_axis(facts, probe, &seen)?, seen.axis.angle().get()))
}

/// The ray to a corner, cos r = n t / s, when it leaves the axis by more than the main lobe's edge for 20 dB in
/// pulse-echo. The lobe is taken in the part about the axis: the wedge need not be known.
fn off_axis(facts: &Facts<'_>, probe: &Probe, seen: &Seen) -> Option<f32> {
    let Part::Flat(plate) = seen.part else { return None };
    let steep = math::asin(f64::from(seen.place.leg as f32 * plate.thickness() / seen.path.get()))?;
    let ray = 90.0 - steep;
    let shear = facts.common().material.as_ref().map_or(STEEL_SHEAR, |(_, material)| material.shear());
    let element = probe.element();
    let factor = EdgeDrop::PULSE_ECHO_20.factor(&element);
    let lobe = spread(factor, wavelength(shear, probe.frequency()), element.in_plane())?.get();
    leaves(ray, seen.axis.angle().get(), lobe).then_some(ray)
}

/// Whether a ray lies beyond the edge of the lobe about an axis, all in degrees.
fn leaves(ray: f32, axis: f32, lobe: f32) -> bool {
    (ray - axis).abs() > lobe
}

/// Where the beam first turned at the far face, when that is beyond the step of a counterbore.
fn turns_beyond_step(joint: &Joint, seen: &Seen) -> Option<f32> {
    let bore = joint.spec().counterbore?;
    let Part::Flat(plate) = seen.part else { return None };
    if seen.place.leg < 2 || seen.position.face() == Face::Far {
        return None;
    }
    // y = g (t tan a − d), d from the index point to the centreline
    let centreline = seen.position.distance_to(const { Millimetres::constant(0.0) });
    let turn = seen.position.side().sign() * (plate.half_skip(&seen.axis) - centreline);
    (turn.abs() > bore.distance.get()).then_some(turn)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint::{Counterbore, JointSpec, Preparation};
    use crate::part::locate::{Budget, Partials, Place, Position};
    use crate::part::path::{Axis, Plate};
    use crate::part::side::Side;
    use crate::units::{Degrees, Millimetres};

    fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    /// 20 mm with a counterbore 10 mm off the centreline.
    fn joint() -> Joint {
        let counterbore = Some(Counterbore { distance: mm(10.0), height: mm(2.0) });
        let spec =
            JointSpec { gap: Some(mm(2.0)), counterbore, ..JointSpec::new(mm(20.0), Preparation::Square) };
        Joint::new(spec).unwrap()
    }

    /// A reading at 45 degrees from side A, at that y and known without any doubt.
    fn seen(standoff: f32, y: f32) -> Seen {
        let none = Partials::default();
        let place = Place {
            leg: 2,
            x: mm(0.0),
            y: mm(y),
            z: mm(10.0),
            unfolded: mm(30.0),
            distance: mm(30.0),
            y_partials: none,
            z_partials: none,
        };
        Seen {
            part: Part::Flat(Plate::new(mm(20.0)).unwrap()),
            axis: Axis::new(Degrees::constant(45.0)).unwrap(),
            position: Position::new(Side::A, mm(0.0), mm(standoff), mm(0.0)).unwrap(),
            path: mm(42.0),
            place,
            budget: Budget::DEFAULT,
        }
    }

    #[test]
    fn a_ray_at_the_edge_of_the_lobe_is_still_in_it() {
        assert_eq!(
            [49.5, 50.0, 60.0, 70.0, 70.5].map(|ray| leaves(ray, 60.0, 10.0)),
            [true, false, false, false, true]
        );
    }

    #[test]
    fn a_beam_that_turns_at_the_step_turns_before_it() {
        // 20 tan 45° − p
        let turns = |standoff| turns_beyond_step(&joint(), &seen(standoff, 0.0));
        assert_eq!([5.0, 10.0, 20.0, 30.0, 35.0].map(turns), [Some(15.0), None, None, None, Some(-15.0)]);
    }
}
