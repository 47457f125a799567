//! Height from tip echoes.
//!
//! **The classic mistake** is to mix up the two ways of seeing a base and a tip. Peaked one after the other, the probe
//! moved between, each echo lies on the beam's axis: height = (s_c − s_t) cos a. Seen together at one probe position,
//! the rays are not parallel to the axis and the height tends to (s_c − s_t) / cos a. Source: \[R4\], tip diffraction;
//! the exact forms are plain geometry.

use crate::math;
use crate::part::locate::{Budget, Partials, Place};
use crate::part::path::{Axis, Plate};
use crate::units::Millimetres;
use crate::units::error::RangeError;
use crate::units::limits::PATH;

/// A height and how it depends on what was measured.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Height {
    /// The height, mm; negative where the tips lie the wrong way round.
    pub height: f32,
    /// Its partials.
    pub partials: Partials,
}

impl Height {
    /// Expanded uncertainty, k = 2.
    #[must_use]
    pub fn uncertainty(&self, budget: &Budget) -> f32 {
        budget.expanded(&self.partials)
    }
}

/// The face that a flaw breaks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum BrokenFace {
    /// The scanned face: height = z of the tip.
    Near,
    /// The opposite face: height = t − z of the tip.
    Far,
}

/// Height of a flaw that breaks a face, from the place of its tip.
///
/// Far face: h = t − z; near face: h = z. With the tip placed on the axis this is the formula for echoes peaked apart,
/// with the tip placed as [`Peaked::Together`](crate::part::locate::Peaked::Together) the one for echoes seen together.
#[must_use]
pub fn from_face(face: BrokenFace, plate: &Plate, tip: &Place) -> Height {
    match face {
        BrokenFace::Near => Height { height: tip.z.get(), partials: tip.z_partials },
        BrokenFace::Far => {
            let mut partials = tip.z_partials.negated();
            partials.thickness += 1.0;
            Height { height: plate.thickness() - tip.z.get(), partials }
        }
    }
}

/// Height of a buried flaw, from the places of its two tips seen by one probe: h = z_lower − z_upper.
///
/// The angle, velocity and thickness errors are common to both, so that only their differences act; the two paths were
/// read apart, so that their squares add.
#[must_use]
pub fn between_tips(upper: &Place, lower: &Place) -> Height {
    let (low, up) = (&lower.z_partials, &upper.z_partials);
    let partials = Partials {
        angle: low.angle - up.angle,
        path: math::sqrt(low.path * low.path + up.path * up.path).unwrap_or(0.0),
        standoff: 0.0,
        index: low.index - up.index,
        thickness: low.thickness - up.thickness,
        velocity: low.velocity - up.velocity,
    };
    Height { height: lower.z.get() - upper.z.get(), partials }
}

/// Base and tip peaked apart, by the paths alone: h = (s_c − s_t) cos a.
///
/// # Errors
/// [`RangeError`] for a path outside 0.01 to 10 000 mm.
///
/// ```
/// use halfskip::{part::path::Axis, evaluate::sizing::height::peaked_apart, units::{Degrees, Millimetres}};
/// let axis = Axis::new(Degrees::new(60.0)?)?;
/// assert_eq!(peaked_apart(&axis, Millimetres::new(50.0)?, Millimetres::new(40.0)?)?.get(), 5.0);
/// assert!(peaked_apart(&axis, Millimetres::new(50.0)?, Millimetres::new(0.0)?).is_err());
/// # Ok::<(), halfskip::units::error::RangeError>(())
/// ```
pub fn peaked_apart(axis: &Axis, corner: Millimetres, tip: Millimetres) -> Result<Millimetres, RangeError> {
    Millimetres::new((PATH.check(corner.get())? - PATH.check(tip.get())?) * axis.cos())
}

/// Corner at unfolded depth n t and tip seen together: h = |n t − sqrt(s_t² − (s_c² − (n t)²))|.
///
/// For small flaws it tends to (s_c − s_t) / cos a.
///
/// # Errors
/// [`RangeError`] for a path outside 0.01 to 10 000 mm, a corner no farther than its face, or a tip path too short for
/// that corner.
///
/// ```
/// use halfskip::{part::path::Plate, evaluate::sizing::height::seen_together, units::Millimetres};
/// let mm = Millimetres::new;
/// let plate = Plate::new(mm(25.0)?)?;
/// // 45 degrees, base peaked: the tip 5 mm above lies 3.340 mm nearer.
/// let height = seen_together(&plate, 1, mm(35.35534)?, mm(32.01562)?)?;
/// assert!((height.get() - 5.0).abs() < 1e-4);
/// assert!(seen_together(&plate, 1, mm(35.35534)?, mm(20.0)?).is_err());
/// # Ok::<(), halfskip::units::error::RangeError>(())
/// ```
pub fn seen_together(
    plate: &Plate,
    leg: u32,
    corner: Millimetres,
    tip: Millimetres,
) -> Result<Millimetres, RangeError> {
    let (s_c, s_t) = (f64::from(PATH.check(corner.get())?), f64::from(PATH.check(tip.get())?));
    // f64 because three squares of nearly equal size are added and subtracted.
    let face = f64::from(leg) * f64::from(plate.thickness());
    if s_c <= face {
        return Err(RangeError {
            quantity: "corner path",
            unit: "mm",
            value: corner.get(),
            min: face as f32,
            max: PATH.max,
        });
    }
    let shortest = math::sqrt_f64(s_c * s_c - face * face).unwrap_or(0.0) as f32;
    let depth = math::sqrt_f64(s_t * s_t - (s_c * s_c - face * face)).ok_or(RangeError {
        quantity: "tip path",
        unit: "mm",
        value: tip.get(),
        min: shortest,
        max: PATH.max,
    })?;
    Millimetres::new((face - depth).abs() as f32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::Part;
    use crate::part::locate::{Peaked, Position, SeenTogether, Side, locate};
    use crate::units::Degrees;

    fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    fn setup(angle: f32, thickness: f32) -> (Axis, Plate, Position) {
        let axis = Axis::new(Degrees::constant(angle)).unwrap();
        let plate = Plate::new(mm(thickness)).unwrap();
        (axis, plate, Position::new(Side::A, mm(0.0), mm(20.0), mm(0.0)).unwrap())
    }

    #[test]
    fn the_cosine_turns_over_between_peaked_apart_and_seen_together() {
        let (axis, plate, _) = setup(60.0, 25.0);
        let difference = 0.1;
        let apart = peaked_apart(&axis, mm(50.0), mm(50.0 - difference)).unwrap().get();
        let together = seen_together(&plate, 1, mm(50.0), mm(50.0 - difference)).unwrap().get();
        assert!((apart / difference - 0.5).abs() < 1e-3);
        assert!((together / difference - 2.0).abs() < 1e-2);
    }

    #[test]
    fn a_tip_seen_in_leg_two_of_a_far_face_flaw_gives_the_height_of_leg_one() {
        let (axis, plate, probe) = setup(45.0, 16.0);
        let corner = locate(&axis, &Part::Flat(plate), &probe, mm(22.627_417), Peaked::Corner).unwrap();
        let distance = SeenTogether::from_corner(&probe, &corner);
        // Tip 3 mm high at X = 16: leg 1 at depth 13, leg 2 at unfolded depth 19.
        for path in [20.615_53, 24.839_485] {
            let tip =
                locate(&axis, &Part::Flat(plate), &probe, mm(path), Peaked::Together(distance)).unwrap();
            assert!((from_face(BrokenFace::Far, &plate, &tip).height - 3.0).abs() < 1e-4, "{path}");
        }
    }

    #[test]
    fn the_thickness_partial_of_a_peaked_far_face_height_is_one_and_of_its_leg_two_twin_minus_one() {
        let (axis, plate, probe) = setup(45.0, 16.0);
        let leg_1 = locate(&axis, &Part::Flat(plate), &probe, mm(18.0), Peaked::Axis).unwrap();
        let leg_2 = locate(&axis, &Part::Flat(plate), &probe, mm(26.0), Peaked::Axis).unwrap();
        assert_eq!(from_face(BrokenFace::Far, &plate, &leg_1).partials.thickness, 1.0);
        assert_eq!(from_face(BrokenFace::Far, &plate, &leg_2).partials.thickness, -1.0);
    }
}
