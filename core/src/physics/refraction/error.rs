//! What refraction refuses, with the angle that still works.

use core::fmt;

use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};
use crate::units::{Degrees, MillimetresPerMicrosecond};

/// Why there is no such refracted beam.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum RefractionError {
    /// The angle in the wedge is past the first critical angle: no longitudinal wave enters the part.
    PastFirstCritical {
        /// The angle in the wedge.
        angle: Degrees,
        /// The first critical angle.
        critical: Degrees,
    },
    /// The angle is past the second critical angle: no shear wave enters the part.
    PastSecondCritical {
        /// The angle that was offered: in the wedge, or the marked one where a marked angle was asked about.
        angle: Degrees,
        /// The largest such angle that sends a shear wave.
        critical: Degrees,
    },
    /// Nothing is cut off, because the part is no faster than the wedge.
    NoCriticalAngle {
        /// Velocity in the wedge.
        wedge: MillimetresPerMicrosecond,
        /// Velocity of the wave in the part.
        part: MillimetresPerMicrosecond,
    },
    /// Even a beam along the wedge's face would be refracted less than that.
    BeyondGrazing {
        /// The refracted angle that was asked for.
        angle: Degrees,
        /// The largest one, reached at 90 degrees in the wedge.
        largest: Degrees,
    },
    /// The material's longitudinal velocity is not known.
    NoLongitudinalVelocity,
    /// A number outside its range.
    Range(RangeError),
}

impl fmt::Display for RefractionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::PastFirstCritical { angle, critical } => write!(
                f,
                "angle {} deg is past the first critical angle {} deg: no longitudinal wave enters",
                fixed(angle.get()),
                fixed(critical.get())
            ),
            Self::PastSecondCritical { angle, critical } => write!(
                f,
                "angle {} deg is past the second critical angle {} deg: no shear wave enters",
                fixed(angle.get()),
                fixed(critical.get())
            ),
            Self::NoCriticalAngle { wedge, part } => write!(
                f,
                "no critical angle: the part ({} mm/us) is no faster than the wedge ({} mm/us)",
                fixed(part.get()),
                fixed(wedge.get())
            ),
            Self::BeyondGrazing { angle, largest } => write!(
                f,
                "refracted angle {} deg cannot be reached: this wedge gives at most {} deg",
                fixed(angle.get()),
                fixed(largest.get())
            ),
            Self::NoLongitudinalVelocity => f.write_str("the material's longitudinal velocity is not known"),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(RefractionError: Range(RangeError));
