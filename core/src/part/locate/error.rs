//! Why an echo has no place, by name.

use core::fmt;

use crate::part::curved::CurvedError;
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};

/// Why an echo has no place.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum LocateError {
    /// A value is outside its range.
    Range(RangeError),
    /// The path is not longer than the depth of the face that a corner should lie at.
    CornerTooShort {
        /// The path, mm.
        path: f32,
        /// The unfolded depth n t of the face, mm.
        face: f32,
    },
    /// The path is shorter than the surface distance that the other echo fixes.
    TipTooShort {
        /// The path, mm.
        path: f32,
        /// The surface distance, mm.
        distance: f32,
    },
    /// The path does not fit the curved part.
    Curved(CurvedError),
}

impl fmt::Display for LocateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Range(error) => error.fmt(f),
            Self::CornerTooShort { path, face } => write!(
                f,
                "path {} mm is too short for a corner at unfolded depth {} mm",
                fixed(path),
                fixed(face)
            ),
            Self::TipTooShort { path, distance } => write!(
                f,
                "path {} mm is shorter than the surface distance {} mm",
                fixed(path),
                fixed(distance)
            ),
            Self::Curved(error) => error.fmt(f),
        }
    }
}

comes_from!(LocateError: Range(RangeError));

impl From<CurvedError> for LocateError {
    fn from(error: CurvedError) -> Self {
        match error {
            CurvedError::Range(error) => Self::Range(error),
            error => Self::Curved(error),
        }
    }
}
