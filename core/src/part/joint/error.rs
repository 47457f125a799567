//! What cannot be a joint, by the name of what is wrong.

use core::fmt;

use super::Preparation;
use crate::units::Millimetres;
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};

/// Why a spec is no joint.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum JointError {
    /// A number outside its range.
    Range(RangeError),
    /// The preparation needs a value that was not given.
    Missing {
        /// The value's name.
        quantity: &'static str,
        /// The preparation that needs it.
        preparation: Preparation,
    },
    /// The preparation has no such value.
    NotUsed {
        /// The value's name.
        quantity: &'static str,
        /// The preparation that lacks it.
        preparation: Preparation,
    },
    /// A height or a place without the width that it is of.
    Without {
        /// What was given.
        quantity: &'static str,
        /// What it needs.
        needs: &'static str,
    },
    /// The land takes the whole thickness, or more: nothing is left to bevel, or the bevels of both faces would cross.
    LandTooThick {
        /// The land.
        land: Millimetres,
        /// The plate's thickness.
        thickness: Millimetres,
    },
    /// The root radius does not fit between land and face; from both faces the curves would cross.
    RadiusTooLarge {
        /// The radius, the assumed one when none was given.
        radius: Millimetres,
        /// The largest that fits.
        largest: f32,
    },
    /// The far face is no bore that ends along the axis.
    NoBoreToStep,
    /// The step of a counterbore would lie in gap, bead or backing bar.
    StepInWeld {
        /// Its distance from the centreline.
        distance: Millimetres,
        /// It must be beyond this.
        least: f32,
    },
    /// The pipe would have no bore.
    WallThickerThanPipe {
        /// The wall's thickness.
        thickness: Millimetres,
        /// The outside diameter.
        od: Millimetres,
    },
}

impl fmt::Display for JointError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Range(error) => error.fmt(f),
            Self::Missing { quantity, preparation } => {
                write!(f, "a {preparation} preparation needs {quantity}")
            }
            Self::NotUsed { quantity, preparation } => {
                write!(f, "a {preparation} preparation has no {quantity}")
            }
            Self::Without { quantity, needs } => write!(f, "{quantity} needs {needs} as well"),
            Self::LandTooThick { land, thickness } => write!(
                f,
                "land {} mm leaves nothing to bevel in {} mm",
                fixed(land.get()),
                fixed(thickness.get())
            ),
            Self::RadiusTooLarge { radius, largest } => write!(
                f,
                "root radius {} mm does not fit: at most {} mm between land and face",
                fixed(radius.get()),
                fixed(largest)
            ),
            Self::NoBoreToStep => f.write_str(
                "a counterbore steps the bore along the axis: not with curvature=around or from=inside",
            ),
            Self::StepInWeld { distance, least } => write!(
                f,
                "counterbore at {} mm lies in gap, bead or backing: needs more than {} mm from the centreline",
                fixed(distance.get()),
                fixed(least)
            ),
            Self::WallThickerThanPipe { thickness, od } => write!(
                f,
                "wall {} mm leaves no bore in a pipe of {} mm",
                fixed(thickness.get()),
                fixed(od.get())
            ),
        }
    }
}

comes_from!(JointError: Range(RangeError));
