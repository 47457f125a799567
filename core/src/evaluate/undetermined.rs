//! Why a reading has no place or no level.

use core::fmt;

use crate::calibration::curve::CurveError;
use crate::calibration::level::LevelError;
use crate::calibration::timebase::TimeBaseError;
use crate::part::locate::LocateError;
use crate::physics::refraction::RefractionError;
use crate::units::error::RangeError;

/// Why a reading has no place or no level.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Undetermined {
    /// No joint is in force and the reading gives no thickness.
    NoJoint,
    /// The path does not fit the part, or what was peaked.
    Place(LocateError),
    /// The probe's entry was voided.
    ProbeVoid,
    /// The probe's beam does not exist in the part, by its velocity or by the warmth of the wedge.
    NoBeam(RefractionError),
    /// The probe has no time base to turn a time into a path.
    NoTimebase,
    /// The time base gives no path for this time.
    TimeBase(TimeBaseError),
    /// A value is outside its range.
    Range(RangeError),
    /// A tip seen together with others, but with no corner among them and no view that tells the surface distance.
    NothingTogether {
        /// The number that ties them.
        together: u8,
    },
    /// A tip said to be seen together with a corner that was read at another probe position.
    NotTogether {
        /// The number that ties them.
        together: u8,
        /// The corner's entry.
        corner: u32,
    },
    /// No reference point is recorded for the probe, or the path lies outside them.
    Curve(CurveError),
    /// The height gives no level.
    Level(LevelError),
}

impl fmt::Display for Undetermined {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoJoint => f.write_str("no joint is recorded and the reading gives no thickness"),
            Self::Place(error) => error.fmt(f),
            Self::ProbeVoid => f.write_str("the probe's entry was voided"),
            Self::NoBeam(error) => write!(f, "the probe's beam does not exist in the part: {error}"),
            Self::NoTimebase => f.write_str("the probe has no time base"),
            Self::TimeBase(error) => error.fmt(f),
            Self::Range(error) => error.fmt(f),
            Self::NothingTogether { together } => {
                write!(f, "no corner seen together={together} and no peaked view fix the surface distance")
            }
            Self::NotTogether { together, corner } => write!(
                f,
                "together={together} ties it to the corner of entry {corner}, which has another x, stand-off, skew or \
                 thickness; what is seen together shares the probe position"
            ),
            Self::Curve(error) => error.fmt(f),
            Self::Level(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for Undetermined {}

impl From<RangeError> for Undetermined {
    fn from(error: RangeError) -> Self {
        Self::Range(error)
    }
}

impl From<LocateError> for Undetermined {
    fn from(error: LocateError) -> Self {
        match error {
            LocateError::Range(error) => Self::Range(error),
            error => Self::Place(error),
        }
    }
}
