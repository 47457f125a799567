//! Places in a plate, or along a pipe: the formulas of [`locate`](super::locate).

use super::{LocateError, Partials, Place, Position, SeenTogether};
use crate::math::{self, RADIANS_PER_DEGREE};
use crate::part::path::{Axis, Plate, leg_at, unfold};
use crate::units::Millimetres;
use crate::units::error::RangeError;
use crate::units::limits::{DISTANCE, PATH};

/// An echo on the beam's axis: u = s cos a, distance = s sin a.
pub(crate) fn on_axis(
    axis: &Axis,
    plate: &Plate,
    position: &Position,
    path: Millimetres,
) -> Result<Place, RangeError> {
    let end = unfold(axis, plate, path)?;
    let odd = end.leg % 2 == 1;
    let g = position.side.sign();
    let across = |distance| position.side.signed(position.square(distance));
    let y_partials = Partials {
        angle: across(end.unfolded) * RADIANS_PER_DEGREE,
        path: across(axis.sin()),
        standoff: -g,
        index: g,
        thickness: 0.0,
        velocity: across(2.0 * end.distance),
    };
    let z_on_odd_leg = Partials {
        angle: -end.distance * RADIANS_PER_DEGREE,
        path: axis.cos(),
        standoff: 0.0,
        index: 0.0,
        thickness: 0.0,
        velocity: path.get() * axis.fall(),
    };
    let z_partials = if odd {
        Partials { thickness: -((end.leg - 1) as f32), ..z_on_odd_leg }
    } else {
        Partials { thickness: end.leg as f32, ..z_on_odd_leg.negated() }
    };
    let (z, z_partials) = position.counted_from_near(end.depth, z_partials, plate.thickness());
    Ok(Place {
        leg: end.leg,
        x: position.along(end.distance)?,
        y: position.across(end.distance)?,
        // No depth leaves the plate but by rounding; s cos a and s sin a are above 0 and at most s.
        z: Millimetres::computed(z),
        unfolded: Millimetres::computed(end.unfolded),
        distance: Millimetres::computed(end.distance),
        y_partials,
        z_partials,
    })
}

/// A corner echo: n = the whole number nearest u / t, distance = sqrt(s² − (n t)²).
pub(super) fn corner(
    axis: &Axis,
    plate: &Plate,
    position: &Position,
    path: Millimetres,
) -> Result<Place, LocateError> {
    let (s, t, g) = (PATH.check(path.get())?, plate.thickness(), position.side.sign());
    let n = math::larger(math::floor(s * axis.cos() / t + 0.5), 1.0);
    let face = n * t;
    // In f64 the difference is exact; in f32 the product's rounding would grow by s / distance.
    let beyond = (f64::from(s) - f64::from(n) * f64::from(t)) as f32;
    let distance = math::sqrt(beyond * (s + face)).filter(|distance| *distance > 0.0);
    let distance = distance.ok_or(LocateError::CornerTooShort { path: s, face })?;
    let leg = n as u32;
    let distance_per_path = s / distance;
    let y_partials = Partials {
        angle: 0.0,
        path: g * distance_per_path * position.skew_cos,
        standoff: -g,
        index: g,
        thickness: -g * (n * n * t / distance) * position.skew_cos,
        velocity: g * distance_per_path * position.skew_cos * s,
    };
    let (z, z_partials) = position.at_face(leg % 2 == 1, t);
    Ok(Place {
        leg,
        x: position.along(distance)?,
        y: position.across(distance)?,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new(s * axis.cos())?,
        distance: Millimetres::new(distance)?,
        y_partials,
        z_partials,
    })
}

/// An echo whose surface distance X is known from another observation: u = sqrt(s² − X²).
pub(super) fn together(
    axis: &Axis,
    plate: &Plate,
    position: &Position,
    path: Millimetres,
    known: &SeenTogether,
) -> Result<Place, LocateError> {
    let s = PATH.check(path.get())?;
    // A reflector behind the probe is none that its beam meets.
    let x = DISTANCE.check(known.distance)?;
    // s² − X² in f64: the two squares may nearly cancel when the echo lies close under the surface.
    let squared = f64::from(s) * f64::from(s) - f64::from(x) * f64::from(x);
    let unfolded = math::sqrt_f64(squared).filter(|unfolded| *unfolded > 0.0);
    let unfolded = unfolded.ok_or(LocateError::TipTooShort { path: s, distance: x })? as f32;
    let (leg, depth) = leg_at(unfolded, plate.thickness());
    let (rising, of_thickness) = if leg % 2 == 1 { (1.0, 1.0 - leg as f32) } else { (-1.0, leg as f32) };
    let from_distance = known.partials.scaled(-rising * x / unfolded);
    let mut z_partials = from_distance.with_path(rising * s / unfolded, s);
    z_partials.thickness += of_thickness;
    let (z, z_partials) = position.counted_from_near(depth, z_partials, plate.thickness());
    Ok(Place {
        leg,
        x: position.along(x)?,
        y: known.y,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new(s * axis.cos())?,
        distance: Millimetres::new(x)?,
        y_partials: known.y_partials,
        z_partials,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::side::Side;
    use crate::units::Degrees;

    fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    fn probe() -> (Axis, Plate, Position) {
        let axis = Axis::new(Degrees::constant(45.0)).unwrap();
        let position = Position::new(Side::A, mm(0.0), mm(30.0), mm(0.0)).unwrap();
        (axis, Plate::new(mm(25.0)).unwrap(), position)
    }

    #[test]
    fn a_corner_slightly_past_the_face_is_still_at_that_face() {
        let (axis, _, position) = probe();
        let plate = Plate::new(mm(16.0)).unwrap();
        assert_eq!(corner(&axis, &plate, &position, mm(23.2)).unwrap().leg, 1);
    }

    #[test]
    fn a_skewed_beam_is_as_much_longer_as_its_skew_takes_off() {
        let (axis, plate, position) = probe();
        let skewed = position.skewed(Degrees::constant(60.0)).unwrap();
        let place = on_axis(&axis, &plate, &position, mm(40.0)).unwrap();
        let known = SeenTogether::from_place(&skewed, &place, true);
        // 40 sin 45° / cos 60°; the place's own stand-off counts twice in 1 / cos 60°, as this one's does.
        assert!((known.distance - 56.569).abs() < 1e-3, "{}", known.distance);
        assert!((known.partials.standoff - 2.0 * core::f32::consts::SQRT_2).abs() < 1e-6, "{known:?}");
        assert!(known.partials.index.abs() < 1e-6);
    }

    #[test]
    fn a_tip_no_further_than_its_surface_distance_has_no_depth() {
        let (axis, plate, position) = probe();
        let partials = Partials::default();
        let known = SeenTogether { distance: 20.0, partials, y: mm(0.0), y_partials: partials };
        let at = |path| together(&axis, &plate, &position, mm(path), &known);
        assert_eq!(at(20.0), Err(LocateError::TipTooShort { path: 20.0, distance: 20.0 }));
        // √(25² − 20²)
        assert!((at(25.0).unwrap().z.get() - 15.0).abs() < 1e-5);
    }
}
