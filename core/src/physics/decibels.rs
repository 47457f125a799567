//! Echo heights and decibels: `L = 20 log10(h1 / h2)`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | L | level or change of gain | dB |
//! | h1, h2 | echo heights | % of full screen height |
//!
//! The law of the decibel for amplitudes is \[R4\]. Shop talk takes 6 dB as a factor of two; the exact figure is
//! 6.0206 dB, and these functions use the exact one.

use core::fmt;

use crate::math;
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};
use crate::units::{Decibels, ScreenPercent};

/// Decibels in one neper: `20 / ln 10`. It turns a small relative change of height into decibels.
pub const DECIBELS_PER_NEPER: f32 = 8.685_889;

/// Why heights give no level, or a level no height.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum DecibelsError {
    /// A ratio that is not above zero has no level.
    Ratio {
        /// The ratio that was offered.
        value: f32,
    },
    /// A height of zero has no level.
    NoHeight,
    /// The result is outside the range of its quantity.
    Range(RangeError),
}

impl fmt::Display for DecibelsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ratio { value } => {
                write!(f, "ratio {} has no level in dB: it must be above 0", fixed(*value))
            }
            Self::NoHeight => f.write_str("a height of 0 % has no level in dB"),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(DecibelsError: Range(RangeError));

/// The level of a ratio of echo heights, `20 log10(ratio)`.
///
/// ```
/// use halfskip::physics::decibels::ratio_to_decibels;
/// assert_eq!(ratio_to_decibels(10.0).unwrap().get(), 20.0);
/// assert!(ratio_to_decibels(0.0).is_err());
/// ```
///
/// # Errors
/// [`DecibelsError::Ratio`] unless the ratio is above zero, [`DecibelsError::Range`] beyond ±300 dB.
pub fn ratio_to_decibels(ratio: f32) -> Result<Decibels, DecibelsError> {
    let log = math::log10(ratio).ok_or(DecibelsError::Ratio { value: ratio })?;
    // L = 20 log10(r)
    Ok(Decibels::new(20.0 * log)?)
}

/// The ratio of echo heights of a level, `10^(L / 20)`; good to 1e-6 of itself within ±160 dB.
///
/// ```
/// use halfskip::physics::decibels::decibels_to_ratio;
/// use halfskip::units::Decibels;
/// assert_eq!(decibels_to_ratio(Decibels::new(-20.0).unwrap()), 0.1);
/// ```
#[must_use]
pub fn decibels_to_ratio(level: Decibels) -> f32 {
    // r = 10^(L / 20)
    math::exp10(level.get() / 20.0)
}

/// How many decibels `height` lies above `reference`, `20 log10(height / reference)`.
///
/// ```
/// use halfskip::physics::decibels::above;
/// use halfskip::units::ScreenPercent;
/// let (eighty, eight) = (ScreenPercent::new(80.0).unwrap(), ScreenPercent::new(8.0).unwrap());
/// assert_eq!(above(eight, eighty).unwrap().get(), -20.0);
/// assert!(above(eight, ScreenPercent::new(0.0).unwrap()).is_err());
/// ```
///
/// # Errors
/// [`DecibelsError::NoHeight`] when either height is zero, [`DecibelsError::Range`] beyond ±300 dB.
pub fn above(height: ScreenPercent, reference: ScreenPercent) -> Result<Decibels, DecibelsError> {
    let (height, reference) = (height.get(), reference.get());
    // A height is not negative, so that only +0 has no bit set.
    if height.to_bits() == 0 || reference.to_bits() == 0 {
        return Err(DecibelsError::NoHeight);
    }
    ratio_to_decibels(height / reference)
}

/// The height an echo takes when the gain is changed, `h · 10^(L / 20)`.
///
/// ```
/// use halfskip::physics::decibels::height_after;
/// use halfskip::units::{Decibels, ScreenPercent};
/// let shown = height_after(ScreenPercent::new(8.0).unwrap(), Decibels::new(20.0).unwrap()).unwrap();
/// assert_eq!(shown.get(), 80.0);
/// assert!(height_after(shown, Decibels::new(60.0).unwrap()).is_err());
/// ```
///
/// # Errors
/// [`RangeError`] when the echo would stand higher than a height can be recorded.
pub fn height_after(height: ScreenPercent, change: Decibels) -> Result<ScreenPercent, RangeError> {
    // h' = h · 10^(L / 20)
    ScreenPercent::new(height.get() * decibels_to_ratio(change))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn level_and_ratio_undo_each_other() {
        for level in [-119.5f32, -6.0, -0.1, 0.0, 0.1, 3.5, 6.0, 80.0] {
            let there = decibels_to_ratio(Decibels::new(level).unwrap());
            let back = ratio_to_decibels(there).unwrap().get();
            assert!((back - level).abs() < 2e-5, "{level} came back as {back}");
        }
    }

    #[test]
    fn what_has_no_level_is_refused() {
        for ratio in [0.0, -1.0, f32::NAN, f32::INFINITY] {
            assert!(ratio_to_decibels(ratio).is_err(), "{ratio}");
        }
        let (some, none) = (ScreenPercent::new(40.0).unwrap(), ScreenPercent::new(0.0).unwrap());
        assert_eq!(above(none, some), Err(DecibelsError::NoHeight));
        assert_eq!(above(some, none), Err(DecibelsError::NoHeight));
    }

    #[test]
    fn swapping_the_heights_turns_the_sign() {
        let (high, low) = (ScreenPercent::new(90.0).unwrap(), ScreenPercent::new(40.0).unwrap());
        let sum = above(high, low).unwrap().get() + above(low, high).unwrap().get();
        assert!(sum.abs() < 2e-6);
    }
}
