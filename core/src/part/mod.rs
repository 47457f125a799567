//! The part under the probe: flat as the beam meets it, or curved; and the legs of a beam in it.
//!
//! A beam that runs along the axis of a pipe meets straight lines only, so that flat-plate geometry holds.

pub mod curved;
pub mod girth;
pub mod joint;
pub mod locate;
pub mod path;
pub mod side;

use crate::part::curved::{Course, CurvedError, Pipe};
use crate::part::joint::{Curvature, Joint};
use crate::part::path::{Axis, Plate, Unfolded};
use crate::units::error::RangeError;
use crate::units::{Degrees, Millimetres};

/// The part as the beam meets it.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Part {
    /// A plate, or a pipe along its axis.
    Flat(Plate),
    /// A pipe around its circumference.
    Around(Pipe),
}

impl Part {
    /// The part of that thickness and curvature; without one it is flat.
    ///
    /// # Errors
    /// [`CurvedError::Range`]; [`CurvedError::NoBore`] for a wall that leaves none.
    ///
    /// ```
    /// use halfskip::part::joint::{Curvature, ScannedFrom};
    /// use halfskip::part::Part;
    /// use halfskip::units::Millimetres;
    /// let mm = |value| Millimetres::new(value).unwrap();
    /// let (od, from) = (mm(60.0), ScannedFrom::Outside);
    /// let along = Part::new(mm(8.0), Some(Curvature::AlongPipe { od, from })).unwrap();
    /// assert!(matches!(along, Part::Flat(_)));
    /// assert!(Part::new(mm(31.0), Some(Curvature::AroundPipe { od, from })).is_err());
    /// ```
    pub fn new(thickness: Millimetres, curvature: Option<Curvature>) -> Result<Self, CurvedError> {
        match curvature {
            None | Some(Curvature::AlongPipe { .. }) => Ok(Self::Flat(Plate::new(thickness)?)),
            Some(Curvature::AroundPipe { od, from }) => Pipe::new(od, thickness, from).map(Self::Around),
        }
    }

    /// The part that a checked joint is in; `None` never happens there.
    #[must_use]
    pub fn of(joint: &Joint) -> Option<Self> {
        Self::new(joint.thickness(), joint.spec().curvature).ok()
    }

    /// Its thickness, mm.
    #[must_use]
    pub const fn thickness(&self) -> f32 {
        match self {
            Self::Flat(plate) => plate.thickness(),
            Self::Around(pipe) => pipe.thickness(),
        }
    }

    /// Length of a line at a depth for each millimetre of it at the scanned surface.
    #[must_use]
    pub fn stretch(&self, depth: f32) -> f32 {
        match self {
            Self::Flat(_) => 1.0,
            // ρ / q = 1 + k z / q
            Self::Around(pipe) => 1.0 + pipe.inward() as f32 * depth / pipe.scanned_radius(),
        }
    }

    /// The legs of a beam in it.
    #[must_use]
    pub fn legs(&self, axis: &Axis) -> Legs {
        match self {
            Self::Flat(plate) => Legs::Flat(*axis, *plate),
            Self::Around(pipe) => Legs::Around(Course::new(axis, pipe)),
        }
    }
}

/// The legs of a beam in a part, its trigonometry done once.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Legs {
    /// In a plate, or along a pipe.
    Flat(Axis, Plate),
    /// Around a pipe.
    Around(Course),
}

impl Legs {
    /// Length of one leg, mm.
    #[must_use]
    pub fn length(&self) -> f32 {
        match self {
            Self::Flat(axis, plate) => plate.leg_length(axis),
            Self::Around(course) => course.leg_length(),
        }
    }

    /// Half skip along the surface, mm.
    #[must_use]
    pub fn half_skip(&self) -> f32 {
        match self {
            Self::Flat(axis, plate) => plate.half_skip(axis),
            Self::Around(course) => course.half_skip(),
        }
    }

    /// Whether the beam passes the bore of a pipe without meeting it.
    #[must_use]
    pub const fn misses_bore(&self) -> bool {
        match self {
            Self::Flat(..) => false,
            Self::Around(course) => course.misses_bore(),
        }
    }

    /// Where a path ends, its distance along the scanned surface.
    ///
    /// # Errors
    /// [`RangeError`] for a path outside 0.01 to 10 000 mm.
    pub fn at(&self, path: Millimetres) -> Result<Unfolded, RangeError> {
        match self {
            Self::Flat(axis, plate) => path::unfold(axis, plate, path),
            Self::Around(course) => course.at(path),
        }
    }

    /// The path and surface distance by which a leg reaches a depth.
    ///
    /// # Errors
    /// [`CurvedError::Range`] for a depth outside the part, a leg of 0, or a path beyond 10 000 mm;
    /// [`CurvedError::TooDeep`] when the beam misses the bore above that depth.
    pub fn reach(&self, leg: u32, depth: Millimetres) -> Result<(Millimetres, Millimetres), CurvedError> {
        match self {
            Self::Flat(axis, plate) => Ok(path::reach(axis, plate, leg, depth)?),
            Self::Around(course) => course.reach(leg, depth),
        }
    }

    /// The path and surface distance by which a leg reaches a depth, straight on through the far face where the depth
    /// lies beyond it, as in a bead.
    ///
    /// # Errors
    /// As [`reach`](Self::reach); a depth beyond the far face is an error on legs that come up.
    pub fn through(&self, leg: u32, depth: Millimetres) -> Result<(Millimetres, Millimetres), CurvedError> {
        if depth.get() <= self.thickness() || leg.is_multiple_of(2) {
            return self.reach(leg, depth);
        }
        match self {
            Self::Flat(axis, plate) => {
                // u = (n − 1) t + z
                let u = (leg.saturating_sub(1) as f32) * plate.thickness() + depth.get();
                Ok((Millimetres::new(u / axis.cos())?, Millimetres::new(u * (axis.sin() / axis.cos()))?))
            }
            Self::Around(course) => course.through(leg, depth),
        }
    }

    const fn thickness(&self) -> f32 {
        match self {
            Self::Flat(_, plate) => plate.thickness(),
            Self::Around(course) => course.pipe().thickness(),
        }
    }

    /// The beam's angle from the surface's normal at a depth; `None` deeper than it gets.
    #[must_use]
    pub fn angle_at(&self, depth: f32) -> Option<Degrees> {
        match self {
            Self::Flat(axis, _) => Some(axis.angle()),
            Self::Around(course) => course.angle_at(depth),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_depth_in_the_plate_is_held_to_the_range_of_paths() {
        let mm = |value| Millimetres::new(value).unwrap();
        let legs =
            Part::Flat(Plate::new(mm(20.0)).unwrap()).legs(&Axis::new(Degrees::constant(60.0)).unwrap());
        // (998 · 20 + 10) / cos 60
        assert!(legs.through(999, mm(10.0)).is_err());
        let (path, distance) = legs.through(1, mm(22.0)).unwrap();
        assert!((path.get() - 44.0).abs() < 1e-4 && (distance.get() - 38.105).abs() < 1e-3);
    }
}
