//! What a curved part makes impossible, by name.

use core::fmt;

use crate::units::Millimetres;
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};

/// Why a path in a curved part ends nowhere.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum CurvedError {
    /// A value is outside its range.
    Range(RangeError),
    /// The wall is as thick as the radius, or thicker: there would be no bore.
    NoBore {
        /// The wall.
        thickness: Millimetres,
        /// The outside diameter.
        od: Millimetres,
    },
    /// The beam from the outside misses the bore and does not get that deep.
    TooDeep {
        /// The depth asked for, mm.
        depth: f32,
        /// The deepest point of the beam, mm.
        deepest: f32,
    },
    /// The path is too short for a corner that so many legs away.
    CornerTooShort {
        /// The path, mm.
        path: f32,
        /// The shortest path with so many legs, mm.
        shortest: f32,
    },
    /// A straight leg of that length would have to pass through the bore.
    ThroughTheBore {
        /// The length of the leg, mm.
        leg: f32,
        /// The longest that grazes the bore, mm.
        longest: f32,
    },
    /// The path is shorter than the surface distance that the other echo fixes allows.
    TipTooShort {
        /// The path, mm.
        path: f32,
        /// The surface distance, mm.
        distance: f32,
    },
    /// No ray near the beam's axis has that path and that surface distance.
    NoRay {
        /// The path, mm.
        path: f32,
        /// The surface distance, mm.
        distance: f32,
    },
    /// A corner, or a tip seen together with one, read with the probe skewed: no formula places it on a curved part.
    Skewed,
}

impl fmt::Display for CurvedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Range(error) => error.fmt(f),
            Self::NoBore { thickness, od } => write!(
                f,
                "wall {} mm leaves no bore in a pipe of {} mm",
                fixed(thickness.get()),
                fixed(od.get())
            ),
            Self::TooDeep { depth, deepest } => write!(
                f,
                "the beam misses the bore: it gets {} mm deep, not {} mm",
                fixed(deepest),
                fixed(depth)
            ),
            Self::CornerTooShort { path, shortest } => write!(
                f,
                "path {} mm is too short for a corner: {} mm straight through the wall",
                fixed(path),
                fixed(shortest)
            ),
            Self::ThroughTheBore { leg, longest } => write!(
                f,
                "a leg of {} mm would pass through the bore; the longest is {} mm",
                fixed(leg),
                fixed(longest)
            ),
            Self::TipTooShort { path, distance } => write!(
                f,
                "path {} mm is too short for a tip at the surface distance {} mm",
                fixed(path),
                fixed(distance)
            ),
            Self::NoRay { path, distance } => write!(
                f,
                "no ray near the axis has path {} mm and surface distance {} mm",
                fixed(path),
                fixed(distance)
            ),
            Self::Skewed => f.write_str(
                "a corner, or a tip seen together with one, is placed on a curved part only with the probe square to \
                 the weld",
            ),
        }
    }
}

comes_from!(CurvedError: Range(RangeError));
