//! The sound path on a flat plate: unfolding it into leg, depth and surface distance, and back.
//!
//! | identifier | symbol | unit | meaning |
//! | --- | --- | --- | --- |
//! | `path` | s | mm | index point to reflector along the beam, one way |
//! | `angle` | a | deg | refracted angle, from the surface normal |
//! | `thickness` | t | mm | plate thickness |
//! | `unfolded` | u | mm | s cos a, the depth if the plate had no far face |
//! | `leg` | n | – | 1 goes down, 2 comes up, 3 goes down |
//! | `depth` | z | mm | below the scanned face |
//! | `distance` | – | mm | s sin a, along the surface from the index point |
//!
//! Source: \[R1\], \[R4\]; the same unfolding serves every angle-beam text.

use crate::math;
use crate::units::error::{Range, RangeError};
use crate::units::limits::{ANGLE, PATH, THICKNESS};
use crate::units::{Degrees, Millimetres};

/// The beam's axis in the part, its trigonometry done once.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Axis {
    angle: Degrees,
    sin: f32,
    cos: f32,
    fall: f32,
}

impl Axis {
    /// The axis at a refracted angle of 1 to 89 degrees from the normal.
    ///
    /// # Errors
    /// [`RangeError`] outside that: a beam along the normal or the surface has no legs.
    pub fn new(angle: Degrees) -> Result<Self, RangeError> {
        let (sin, cos) = math::sin_cos(ANGLE.check(angle.get())?);
        // cos a (1 − tan² a) = cos a − sin² a / cos a
        Ok(Self { angle, sin, cos, fall: cos - sin * (sin / cos) })
    }

    /// The refracted angle.
    #[must_use]
    pub const fn angle(&self) -> Degrees {
        self.angle
    }

    /// Its sine.
    #[must_use]
    pub const fn sin(&self) -> f32 {
        self.sin
    }

    /// Its cosine.
    #[must_use]
    pub const fn cos(&self) -> f32 {
        self.cos
    }

    /// How the unfolded depth follows the velocity, for each mm of path and unit of relative change: cos a (1 − tan² a),
    /// since the path grows with c and the sine of the angle does too.
    #[must_use]
    pub const fn fall(&self) -> f32 {
        self.fall
    }
}

/// A flat plate.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Plate {
    thickness: f32,
}

impl Plate {
    /// A plate 0.5 to 1000 mm thick.
    ///
    /// # Errors
    /// [`RangeError`] outside that.
    pub fn new(thickness: Millimetres) -> Result<Self, RangeError> {
        Ok(Self { thickness: THICKNESS.check(thickness.get())? })
    }

    /// Its thickness in millimetres.
    #[must_use]
    pub const fn thickness(&self) -> f32 {
        self.thickness
    }

    /// Half skip, t tan a: surface distance to the first far-face hit.
    #[must_use]
    pub fn half_skip(&self, axis: &Axis) -> f32 {
        self.thickness * axis.sin / axis.cos
    }

    /// Leg length, t / cos a; the V path is two of them.
    #[must_use]
    pub fn leg_length(&self, axis: &Axis) -> f32 {
        self.thickness / axis.cos
    }
}

/// Where a sound path ends, seen from the index point.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Unfolded {
    /// The leg, counted from 1.
    pub leg: u32,
    /// Depth below the scanned face, mm.
    pub depth: f32,
    /// Unfolded depth s cos a, mm.
    pub unfolded: f32,
    /// Surface distance s sin a, mm.
    pub distance: f32,
}

/// How close to a face, relative to the unfolded depth, counts as at it: the rounding of one product and one quotient.
pub(crate) const AT_A_FACE: f32 = 4e-7;

/// The leg of an unfolded depth, and its depth below the scanned face.
///
/// n = ceil(u / t); u = 0 is leg 1; u exactly at n t belongs to leg n.
/// z = u − (n − 1) t on odd legs, n t − u on even ones.
pub(crate) fn leg_at(unfolded: f32, thickness: f32) -> (u32, f32) {
    let legs = unfolded / thickness;
    let whole = legs as i32;
    let below = whole as f32;
    let upper_half = legs - below >= 0.5;
    let nearest = if upper_half { below + 1.0 } else { below };
    let at_face = nearest >= 1.0 && (legs - nearest).abs() <= AT_A_FACE * nearest;
    let leg = if at_face && !upper_half { whole } else { whole.wrapping_add(1) }.cast_unsigned();
    let depth = match (leg % 2 == 1, at_face) {
        (true, true) => thickness,
        (false, true) => 0.0,
        (true, false) => unfolded - below * thickness,
        (false, false) => (below + 1.0) * thickness - unfolded,
    };
    (leg, depth)
}

/// Unfolds a path on a flat plate.
///
/// u = s cos a; n = ceil(u / t); z = u − (n − 1) t on odd legs, n t − u on even ones; distance = s sin a.
///
/// # Errors
/// [`RangeError`] for a path outside 0.01 to 10 000 mm.
///
/// ```
/// use halfskip::part::path::{Axis, Plate, unfold};
/// use halfskip::units::{Degrees, Millimetres};
/// let axis = Axis::new(Degrees::new(60.0)?)?;
/// let plate = Plate::new(Millimetres::new(25.0)?)?;
/// let end = unfold(&axis, &plate, Millimetres::new(40.0)?)?;
/// assert_eq!((end.leg, end.depth), (1, 20.0));
/// assert!(unfold(&axis, &plate, Millimetres::new(0.0)?).is_err());
/// # Ok::<(), halfskip::units::error::RangeError>(())
/// ```
pub fn unfold(axis: &Axis, plate: &Plate, path: Millimetres) -> Result<Unfolded, RangeError> {
    let path = PATH.check(path.get())?;
    let unfolded = path * axis.cos;
    let distance = path * axis.sin;
    let (leg, depth) = leg_at(unfolded, plate.thickness);
    Ok(Unfolded { leg, depth, unfolded, distance })
}

/// The depths inside a part.
pub(crate) const fn depths(thickness: f32) -> Range {
    Range { quantity: "depth", unit: "mm", min: 0.0, max: thickness }
}

/// The leg 0, which is none.
pub(crate) const NO_LEG: RangeError =
    RangeError { quantity: "leg", unit: "", value: 0.0, min: 1.0, max: 20_000.0 };

/// The path and surface distance by which leg `leg` reaches depth `depth`: the inverse of [`unfold`].
///
/// u = (n − 1) t + z on odd legs, n t − z on even ones; s = u / cos a; distance = u tan a.
///
/// # Errors
/// [`RangeError`] for a depth outside the plate, a leg of 0, or a path that grows beyond 10 000 mm.
///
/// ```
/// use halfskip::part::path::{Axis, Plate, reach};
/// use halfskip::units::{Degrees, Millimetres};
/// let axis = Axis::new(Degrees::new(45.0)?)?;
/// let plate = Plate::new(Millimetres::new(20.0)?)?;
/// let (path, distance) = reach(&axis, &plate, 2, Millimetres::new(0.0)?)?;
/// assert_eq!(distance.get(), 40.0);
/// assert!((path.get() - 56.5685).abs() < 1e-3);
/// assert!(reach(&axis, &plate, 0, Millimetres::new(0.0)?).is_err());
/// # Ok::<(), halfskip::units::error::RangeError>(())
/// ```
pub fn reach(
    axis: &Axis,
    plate: &Plate,
    leg: u32,
    depth: Millimetres,
) -> Result<(Millimetres, Millimetres), RangeError> {
    let depth = depths(plate.thickness).check(depth.get())?;
    let below = leg.checked_sub(1).ok_or(NO_LEG)?;
    let unfolded = if leg % 2 == 1 {
        below as f32 * plate.thickness + depth
    } else {
        leg as f32 * plate.thickness - depth
    };
    let path = Millimetres::new(PATH.check(unfolded / axis.cos)?)?;
    Ok((path, Millimetres::new(unfolded * (axis.sin / axis.cos))?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unfold_at(angle: f32, thickness: f32, path: f32) -> Unfolded {
        let axis = Axis::new(Degrees::constant(angle)).unwrap();
        let plate = Plate::new(Millimetres::constant(thickness)).unwrap();
        unfold(&axis, &plate, Millimetres::constant(path)).unwrap()
    }

    #[test]
    fn a_path_that_ends_at_a_face_belongs_to_the_leg_that_reaches_it() {
        for leg in 1..=40u32 {
            let end = unfold_at(60.0, 20.0, 40.0 * leg as f32);
            assert_eq!(end.leg, leg);
            assert_eq!(end.depth, if leg % 2 == 1 { 20.0 } else { 0.0 });
        }
    }

    #[test]
    fn a_rounding_short_of_a_face_is_at_it() {
        assert_eq!(leg_at(20f32.next_down(), 20.0), (1, 20.0));
        assert_eq!(leg_at(40f32.next_down(), 20.0), (2, 0.0));
        assert_eq!(leg_at(60f32.next_down(), 20.0), (3, 20.0));
    }

    #[test]
    fn the_second_leg_comes_up_and_the_third_goes_down() {
        assert_eq!(unfold_at(60.0, 20.0, 50.0).depth, 15.0);
        assert_eq!(unfold_at(60.0, 20.0, 90.0).depth, 5.0);
        assert_eq!(unfold_at(60.0, 20.0, 90.0).leg, 3);
    }

    #[test]
    fn a_beam_along_the_normal_or_the_surface_is_refused() {
        assert!(Axis::new(Degrees::constant(0.0)).is_err());
        assert!(Axis::new(Degrees::constant(90.0)).is_err());
    }
}
