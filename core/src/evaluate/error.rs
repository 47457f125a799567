//! Why a reading says nothing, whichever of the steps to its figures refuses.

use core::fmt;

use crate::calibration::curve::CurveError;
use crate::calibration::level::LevelError;
use crate::calibration::timebase::TimeBaseError;
use crate::calibration::transfer::TransferError;
use crate::part::locate::LocateError;
use crate::units::error::{RangeError, comes_from};

/// What keeps one reading from a path, a place or a level: the errors of all steps, so that `?` serves for each.
///
/// ```
/// use halfskip::calibration::curve::{Beyond, Dac};
/// use halfskip::evaluate::ReadingError;
/// use halfskip::units::{Decibels, Millimetres, ScreenPercent};
/// fn gain(path: f32) -> Result<Decibels, ReadingError> {
///     let dac: Dac = Dac::new(ScreenPercent::new(80.0)?);
///     Ok(dac.gain_at(Millimetres::new(path)?, Beyond::Refuse)?.gain)
/// }
/// assert!(matches!(gain(1e9), Err(ReadingError::Range(_))));
/// assert!(matches!(gain(30.0), Err(ReadingError::Curve(_))));
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum ReadingError {
    /// A value is outside its range.
    Range(RangeError),
    /// The time base gives no path.
    TimeBase(TimeBaseError),
    /// It has no place.
    Locate(LocateError),
    /// There is no reference at its path.
    Curve(CurveError),
    /// There is no transfer correction at its path.
    Transfer(TransferError),
    /// It has no level.
    Level(LevelError),
}

impl fmt::Display for ReadingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(error) => error.fmt(f),
            Self::TimeBase(error) => error.fmt(f),
            Self::Locate(error) => error.fmt(f),
            Self::Curve(error) => error.fmt(f),
            Self::Transfer(error) => error.fmt(f),
            Self::Level(error) => error.fmt(f),
        }
    }
}

comes_from!(
    ReadingError: Range(RangeError),
    TimeBase(TimeBaseError),
    Locate(LocateError),
    Curve(CurveError),
    Transfer(TransferError),
    Level(LevelError)
);
