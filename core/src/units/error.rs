//! What can be refused: one shape for every value out of its range, and what each concern adds.
//!
//! The text is the same on host and device: quantity, value, limits.

use core::fmt;

use crate::units::decimal::fixed;

/// An error, and those that it may come from, each held by a variant.
macro_rules! comes_from {
    ($error:ident: $($variant:ident($from:ty)),+) => {
        impl core::error::Error for $error {}

        $(impl From<$from> for $error {
            fn from(error: $from) -> Self {
                Self::$variant(error)
            }
        })+
    };
}
pub(crate) use comes_from;

/// A value outside the range of its quantity.
///
/// ```
/// use halfskip::units::Degrees;
/// let error = Degrees::new(400.0).unwrap_err();
/// assert_eq!(error.to_string(), "angle 400 deg is outside -360 to 360 deg");
/// let error = Degrees::new(f32::NAN).unwrap_err();
/// assert_eq!(error.to_string(), "angle is not a number; expected -360 to 360 deg");
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct RangeError {
    /// The quantity, in the trade's word.
    pub quantity: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// The value that was offered.
    pub value: f32,
    /// The smallest value taken.
    pub min: f32,
    /// The largest value taken.
    pub max: f32,
}

impl fmt::Display for RangeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { quantity, unit, value, min, max } = *self;
        let gap = if unit.is_empty() { "" } else { " " };
        if !value.is_finite() {
            let (min, max) = (fixed(min), fixed(max));
            return write!(f, "{quantity} is {}; expected {min} to {max}{gap}{unit}", fixed(value));
        }
        write!(
            f,
            "{quantity} {}{gap}{unit} is outside {} to {}{gap}{unit}",
            fixed(value),
            fixed(min),
            fixed(max)
        )
    }
}

impl core::error::Error for RangeError {}

/// A named closed range of one quantity, to check a bare number against.
///
/// ```
/// use halfskip::units::error::Range;
/// const THICKNESS: Range = Range { quantity: "thickness", unit: "mm", min: 0.5, max: 1000.0 };
/// assert_eq!(THICKNESS.check(20.0), Ok(20.0));
/// assert!(THICKNESS.check(f32::NAN).is_err());
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Range {
    /// The quantity, in the trade's word.
    pub quantity: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// The smallest value taken.
    pub min: f32,
    /// The largest value taken.
    pub max: f32,
}

impl Range {
    /// The value itself when it lies in the range.
    ///
    /// # Errors
    /// [`RangeError`] when it does not, or is no number.
    pub const fn check(self, value: f32) -> Result<f32, RangeError> {
        if value >= self.min && value <= self.max {
            // Adding zero turns -0 into +0, so that no result depends on the sign of a zero.
            Ok(value + 0.0)
        } else {
            let Self { quantity, unit, min, max } = self;
            Err(RangeError { quantity, unit, value, min, max })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_zero_has_no_sign() {
        let range = Range { quantity: "x", unit: "mm", min: -1.0, max: 1.0 };
        assert_eq!(range.check(-0.0).unwrap().to_bits(), 0);
    }
}
