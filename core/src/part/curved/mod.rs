//! Curved parts: a beam that runs around the circumference of a pipe, as when a longitudinal seam is scanned.
//!
//! | identifier | symbol | unit | meaning |
//! | --- | --- | --- | --- |
//! | `outer`, `inner` | R, r | mm | radius of the outside and of the bore |
//! | `scanned`, `other` | q, o | mm | radius of the face the probe stands on, and of the opposite one |
//! | `inward` | k | – | −1 scanned from the outside, +1 from the bore |
//! | `path` | s | mm | sound path |
//! | – | a | deg | refracted angle at the index point |
//! | – | ρ | mm | radius that the path has reached |
//! | `leg` | L | mm | length of one leg |
//! | `arc` | q φ | mm | distance along the scanned surface, φ the angle about the pipe's axis |
//!
//! Within leg 1 ρ² = q² + s² + 2 k q s cos a, depth = k (ρ − q), φ = atan2(s sin a, q + k s cos a). From the outside
//! L = R cos a − √(r² − R² sin² a), and the bore is reached only while R sin a < r; from the bore
//! L = √(R² − r² sin² a) − r cos a, and the outside is always reached. Leg 2 mirrors leg 1, and so on. A beam that
//! misses the bore turns at its deepest point R (1 − sin a) and comes back to the outside at the chord 2 R cos a; its
//! first half counts as leg 1 and its second as leg 2. Source: the cosine rule; sin a = r / R for the largest angle is in
//! every text on tubes (\[R13\] prints it with a worked number).
//!
//! Everything is computed in `f64`: depth is the small difference of two radii, and near the largest angle the leg's
//! length is the small difference of two nearly equal squares.

mod corner;
mod course;
mod error;
mod slopes;
mod together;

pub(crate) use corner::corner;
pub use course::Course;
pub use error::CurvedError;
pub(crate) use slopes::Slopes;
pub(crate) use together::together;

use crate::math;
use crate::part::joint::ScannedFrom;
use crate::part::path::Axis;
use crate::units::error::RangeError;
use crate::units::limits::{OD, THICKNESS};
use crate::units::{Degrees, Millimetres};

/// A pipe's wall, scanned around the circumference.
///
/// ```
/// use halfskip::part::curved::Pipe;
/// use halfskip::part::joint::ScannedFrom;
/// use halfskip::units::Millimetres;
/// let mm = |value| Millimetres::new(value).unwrap();
/// let pipe = Pipe::new(mm(152.4), mm(19.05), ScannedFrom::Outside).unwrap();
/// assert!((pipe.largest_angle().unwrap().get() - 48.59).abs() < 0.005);
/// assert_eq!(pipe.from_inside().largest_angle(), None);
/// assert!(Pipe::new(mm(152.4), mm(80.0), ScannedFrom::Outside).is_err());
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Pipe {
    outer: f64,
    inner: f64,
    from: ScannedFrom,
}

impl Pipe {
    /// A pipe of that outside diameter (5 to 100 000 mm) and wall (0.5 to 1000 mm).
    ///
    /// # Errors
    /// [`CurvedError::Range`]; [`CurvedError::NoBore`] for a wall as thick as the radius, or thicker.
    pub fn new(od: Millimetres, thickness: Millimetres, from: ScannedFrom) -> Result<Self, CurvedError> {
        let outer = f64::from(OD.check(od.get())?) / 2.0;
        let inner = outer - f64::from(THICKNESS.check(thickness.get())?);
        if inner > 0.0 { Ok(Self { outer, inner, from }) } else { Err(CurvedError::NoBore { thickness, od }) }
    }

    /// The same pipe scanned from the outside.
    #[must_use]
    pub const fn from_outside(self) -> Self {
        Self { from: ScannedFrom::Outside, ..self }
    }

    /// The same pipe scanned from the bore.
    #[must_use]
    pub const fn from_inside(self) -> Self {
        Self { from: ScannedFrom::Inside, ..self }
    }

    /// The same pipe scanned from the opposite face.
    #[must_use]
    pub const fn turned(self) -> Self {
        match self.from {
            ScannedFrom::Outside => self.from_inside(),
            ScannedFrom::Inside => self.from_outside(),
        }
    }

    /// The scanned face.
    #[must_use]
    pub const fn from(&self) -> ScannedFrom {
        self.from
    }

    /// Outside diameter.
    #[must_use]
    pub fn od(&self) -> Option<Millimetres> {
        Millimetres::new((2.0 * self.outer) as f32).ok()
    }

    /// Wall thickness, mm.
    #[must_use]
    pub const fn thickness(&self) -> f32 {
        (self.outer - self.inner) as f32
    }

    /// Radius of the scanned face, mm.
    #[must_use]
    pub const fn scanned_radius(&self) -> f32 {
        self.scanned() as f32
    }

    pub(crate) const fn scanned(&self) -> f64 {
        match self.from {
            ScannedFrom::Outside => self.outer,
            ScannedFrom::Inside => self.inner,
        }
    }

    pub(crate) const fn other(&self) -> f64 {
        match self.from {
            ScannedFrom::Outside => self.inner,
            ScannedFrom::Inside => self.outer,
        }
    }

    /// k: −1 from the outside, where the beam runs toward the axis; +1 from the bore.
    pub(crate) const fn inward(&self) -> f64 {
        match self.from {
            ScannedFrom::Outside => -1.0,
            ScannedFrom::Inside => 1.0,
        }
    }

    /// The refracted angle at and beyond which the beam misses the bore, sin a = r / R; `None` from the bore, from
    /// where the outside is always reached.
    #[must_use]
    pub fn largest_angle(&self) -> Option<Degrees> {
        match self.from {
            ScannedFrom::Outside => Degrees::new(math::asin(self.inner / self.outer)?).ok(),
            ScannedFrom::Inside => None,
        }
    }

    /// How a length changes with the thickness, the outside diameter being what it is: the bore is what moves.
    pub(crate) const fn per_thickness(&self, slopes: &Slopes) -> f64 {
        match self.from {
            ScannedFrom::Outside => -slopes.other,
            ScannedFrom::Inside => -slopes.scanned,
        }
    }
}

/// The deepest that a beam from the outside gets in a pipe of that diameter, R (1 − sin a), if no bore is in the way.
///
/// # Errors
/// [`RangeError`] for a diameter outside 5 to 100 000 mm.
///
/// ```
/// use halfskip::part::curved::deepest_point;
/// use halfskip::part::path::Axis;
/// use halfskip::units::{Degrees, Millimetres};
/// let axis = Axis::new(Degrees::new(45.0).unwrap()).unwrap();
/// let depth = deepest_point(Millimetres::new(200.0).unwrap(), &axis).unwrap();
/// assert!((depth.get() - 29.289).abs() < 0.001);
/// assert!(deepest_point(Millimetres::new(1.0).unwrap(), &axis).is_err());
/// ```
pub fn deepest_point(od: Millimetres, axis: &Axis) -> Result<Millimetres, RangeError> {
    let radius = f64::from(OD.check(od.get())?) / 2.0;
    Millimetres::new((radius * (1.0 - math::sin_cos_f64(axis.angle().get()).0)) as f32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pipe_keeps_its_diameter_from_whichever_face() {
        let mm = |value| Millimetres::new(value).unwrap();
        let pipe = Pipe::new(mm(152.4), mm(19.05), ScannedFrom::Outside).unwrap();
        assert_eq!((pipe.od(), pipe.turned().od()), (Some(mm(152.4)), Some(mm(152.4))));
    }
}
