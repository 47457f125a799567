//! What a reading calls for.

use super::super::reading::seen;
use super::super::{ReadingFinding, evaluate};
use super::Caution;
use crate::beam::{EdgeDrop, spread};
use crate::curve::How;
use crate::entry::PointPeaked;
use crate::examination::{Facts, Pooled};
use crate::expected::Seen;
use crate::joint::{Clearance, Joint, Obstacle};
use crate::material::STEEL_SHEAR;
use crate::math;
use crate::part::Part;
use crate::probe::{Probe, wavelength};
use crate::side::{Face, Side};
use crate::units::Millimetres;

/// How far weld and heat-affected zone reach to each side, mm, and a crowned cap; worked out once for all readings.
#[derive(Clone, Copy)]
pub(super) struct Metal {
    a: f32,
    b: f32,
    cap: [Option<Clearance>; 2],
}

impl Metal {
    /// That of a joint.
    pub fn of(joint: &Joint) -> Self {
        let section = joint.section();
        let reach = |side| section.heat_affected_extent(side).unwrap_or(section.weld_extent(side));
        let cap = [Side::A, Side::B]
            .map(|side| section.clearance(side, Face::Near).filter(|clear| clear.of == Obstacle::Cap));
        Self { a: reach(Side::A), b: reach(Side::B), cap }
    }
}

pub(super) fn of_reading(
    facts: &Facts<'_>,
    metal: Option<Metal>,
    reading: Pooled<'_>,
    tell: &mut impl FnMut(Caution),
) {
    let number = reading.number();
    let finding = evaluate(facts, reading);
    if let Ok(found) = finding.level
        && matches!(found.reference.how, How::Held | How::Sloped)
    {
        tell(Caution::Extended { number, how: found.reference.how });
    }
    let Some((_, joint)) = facts.common().joint.as_ref() else { return };
    if !joint.spec().reach.allows(reading.side()) {
        tell(Caution::OutOfReach { number });
    }
    let probe = facts.probe(reading.probe()).and_then(|state| state.probe());
    let cap = metal.filter(|_| reading.face() == Face::Near).and_then(|metal| {
        let [a, b] = metal.cap;
        if reading.side() == Side::A { a } else { b }
    });
    if let (Some(cap), Some(front)) = (cap, probe.and_then(Probe::front)) {
        let (standoff, least) = (reading.standoff().get(), cap.least(Some(front)));
        if standoff < least {
            tell(Caution::OnTheCap { number, standoff, least });
        }
    }
    let Some(seen) = seen(facts, &finding) else { return };
    if let Some((ray, axis)) = corner_off_axis(facts, &finding) {
        tell(Caution::OffAxis { number, ray, axis });
    }
    if metal.is_some_and(|metal| far_from_weld(joint, metal, &seen)) {
        tell(Caution::FarFromWeld { number, y: seen.place.y.get() });
    }
    if reading.thickness().is_none()
        && let Some(turn) = turns_beyond_step(joint, &seen)
    {
        tell(Caution::TurnsBeyondStep { number, turn });
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

/// Whether a reading plots farther from weld and heat-affected zone than the plate is thick, its uncertainty included.
/// Common practice, no source.
fn far_from_weld(joint: &Joint, metal: Metal, seen: &Seen) -> bool {
    let y = seen.place.y.get();
    let metal = if y < 0.0 { metal.a } else { metal.b };
    y.abs() - seen.place.u_y(&seen.budget) > metal + joint.thickness().get()
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
    use crate::joint::{Counterbore, JointSpec, Preparation};
    use crate::locate::{Budget, Partials, Place, Position};
    use crate::path::{Axis, Plate};
    use crate::units::Degrees;

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
    fn far_from_the_weld_is_more_than_a_thickness_beyond_its_own_side() {
        let far = |y| far_from_weld(&joint(), Metal { a: 5.0, b: 15.0, cap: [None; 2] }, &seen(30.0, y));
        assert_eq!(
            [-26.0, -25.0, -20.0, 0.0, 30.0, 35.0, 36.0].map(far),
            [true, false, false, false, false, false, true]
        );
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
