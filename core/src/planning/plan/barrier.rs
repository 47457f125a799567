//! What keeps a beam from a part of the weld.

use core::fmt;

use crate::part::curved::CurvedError;
use crate::part::side::Side;
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};

/// Why a leg's axis does not meet a point.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Barrier {
    /// The probe would have to stand closer than the cap lets it.
    Cap {
        /// The stand-off it would take, mm.
        standoff: f32,
        /// The least that clears the cap, mm.
        least: f32,
    },
    /// The probe would have to stand past the centreline, where no plan sends it, even on a weld dressed flush.
    Centreline,
    /// The path is longer than the range.
    Range {
        /// The path, mm.
        path: f32,
        /// The range, mm.
        range: f32,
    },
    /// The path is shorter than any with a reference.
    Short {
        /// The path, mm.
        path: f32,
        /// The shortest with a reference, mm.
        nearest: f32,
    },
    /// Where the beam should turn it meets a cap, a bead or the weld on a backing bar.
    Turn {
        /// The stand-off, mm.
        standoff: f32,
        /// From this stand-off on it does, mm.
        from: f32,
        /// Up to this one, mm.
        to: f32,
    },
    /// The beam misses the bore and does not get that deep.
    BoreMissed {
        /// The deepest that it gets, mm.
        deepest: f32,
    },
    /// No recorded movement put the beam there.
    NotScanned,
}

impl fmt::Display for Barrier {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Cap { standoff, least } => {
                write!(f, "cap in the way: stand-off {} mm, {} mm clears it", fixed(standoff), fixed(least))
            }
            Self::Range { path, range } => {
                write!(f, "beyond range: path {} mm, range {} mm", fixed(path), fixed(range))
            }
            Self::Short { path, nearest } => {
                write!(f, "no reference so near: path {} mm, first at {} mm", fixed(path), fixed(nearest))
            }
            Self::Turn { standoff, from, to } => write!(
                f,
                "cap or bead where it turns: stand-off {} mm, between {} and {} mm",
                fixed(standoff),
                fixed(from),
                fixed(to)
            ),
            Self::BoreMissed { deepest } => {
                write!(f, "bore missed: the beam gets {} mm deep", fixed(deepest))
            }
            Self::Centreline => f.write_str("beyond the centreline"),
            Self::NotScanned => f.write_str("not scanned"),
        }
    }
}

/// Why there is no plan for a probe on a side.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum PlanError {
    /// A value is outside its range.
    Range(RangeError),
    /// The curved part makes it impossible.
    Curved(CurvedError),
    /// The joint says that the probe cannot use that side.
    OutOfReach {
        /// The side.
        side: Side,
    },
    /// The cap is not dressed flush and the probe's nose is not known: nobody can say how near the probe gets.
    NoFront,
    /// The cap is wider than any stand-off from which the allowed legs meet the weld.
    CapTooWide {
        /// The least stand-off that clears the cap, mm.
        least: f32,
        /// The greatest from which a leg meets the weld or its heat-affected zone, mm.
        greatest: f32,
    },
}

impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Range(error) => error.fmt(f),
            Self::Curved(error) => error.fmt(f),
            Self::OutOfReach { side } => {
                write!(f, "the joint says that side {} cannot be reached", side.letter())
            }
            Self::NoFront => f.write_str(
                "the cap is not flush and the probe's nose is not recorded (front=): how near it gets is not known",
            ),
            Self::CapTooWide { least, greatest } => write!(
                f,
                "the cap is wider than any reachable stand-off: {} mm clears it, {} mm is the greatest that meets the \
                 weld",
                fixed(least),
                fixed(greatest)
            ),
        }
    }
}

comes_from!(PlanError: Range(RangeError), Curved(CurvedError));
