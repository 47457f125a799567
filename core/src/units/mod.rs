//! The quantities of the trade, what is refused of them, and numbers as text.
//!
//! Nothing behind a constructor meets a NaN, an infinity or a negative zero. Arithmetic exists only where it makes
//! physical sense.

pub mod decimal;
pub mod error;
pub mod limits;
mod quantity;

pub use quantity::{
    Decibels, DecibelsPerMillimetre, Degrees, Megahertz, Microseconds, Millimetres,
    MillimetresPerMicrosecond, Percent, ScreenPercent, VelocityDifference,
};

use crate::units::error::{Range, RangeError};

/// A quantity that can be typed: its range, its unit, and the other unit it may be given in.
pub trait Quantity: Copy {
    /// Word, unit and limits.
    const RANGE: Range;
    /// A second unit that text may use, or none.
    const ALTERNATIVE: Option<Alternative> = None;
    /// Checks a number in the quantity's own unit.
    ///
    /// # Errors
    /// [`RangeError`] outside [`Self::RANGE`].
    fn checked(value: f32) -> Result<Self, RangeError>;
    /// The number in the quantity's own unit.
    fn number(self) -> f32;
    /// The smallest value of the range.
    fn smallest() -> Self;
}

/// A second unit: one of it is `numerator / 10^power` of the quantity's own unit, exactly.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Alternative {
    /// Its symbol.
    pub unit: &'static str,
    /// Whole part of the factor.
    pub numerator: u32,
    /// Power of ten that divides it.
    pub power: i8,
}
