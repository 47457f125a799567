//! The quantities of the trade, one a file: a checked number with its unit in the name of its type.
//!
//! Nothing behind a constructor meets a NaN, an infinity or a negative zero. Arithmetic exists only where it makes
//! physical sense.

mod decibels;
mod decibels_per_millimetre;
mod degrees;
mod megahertz;
mod microseconds;
mod millimetres;
mod millimetres_per_microsecond;
mod screen_percent;
mod velocity_difference;

pub use decibels::Decibels;
pub use decibels_per_millimetre::DecibelsPerMillimetre;
pub use degrees::Degrees;
pub use megahertz::Megahertz;
pub use microseconds::Microseconds;
pub use millimetres::Millimetres;
pub use millimetres_per_microsecond::MillimetresPerMicrosecond;
pub use screen_percent::ScreenPercent;
pub use velocity_difference::VelocityDifference;

use crate::error::{Range, RangeError};

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

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $unit:literal, $min:expr, $max:expr $(, $alternative:expr)?) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
        #[cfg_attr(feature = "defmt", derive(defmt::Format))]
        #[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
        #[cfg_attr(feature = "serde", serde(try_from = "f32", into = "f32"))]
        pub struct $name(f32);

        impl $name {
            /// The quantity's word, unit and limits.
            pub const RANGE: $crate::error::Range =
                $crate::error::Range { quantity: $what, unit: $unit, min: $min, max: $max };

            /// A checked number of the unit.
            ///
            /// # Errors
            /// [`RangeError`](crate::error::RangeError) outside [`Self::RANGE`], or for what is no number.
            pub const fn new(value: f32) -> Result<Self, $crate::error::RangeError> {
                match Self::RANGE.check(value) {
                    Ok(value) => Ok(Self(value)),
                    Err(error) => Err(error),
                }
            }

            /// A number known when the program is written; for `const` items, where a wrong one does not compile.
            ///
            /// # Panics
            /// Outside [`Self::RANGE`].
            #[must_use]
            pub const fn constant(value: f32) -> Self {
                match Self::new(value) {
                    Ok(quantity) => quantity,
                    Err(_) => panic!("constant outside its range"),
                }
            }

            /// A number that its formula keeps in [`Self::RANGE`], and off negative zero.
            #[allow(dead_code, reason = "not every quantity is computed so")]
            #[must_use]
            pub(crate) const fn computed(value: f32) -> Self {
                Self(value)
            }

            /// The number of the unit.
            #[must_use]
            pub const fn get(self) -> f32 {
                self.0
            }
        }

        impl $crate::units::Quantity for $name {
            const RANGE: $crate::error::Range = Self::RANGE;
            $(const ALTERNATIVE: Option<$crate::units::Alternative> = Some($alternative);)?

            fn checked(value: f32) -> Result<Self, $crate::error::RangeError> {
                Self::new(value)
            }

            fn number(self) -> f32 {
                self.0
            }

            fn smallest() -> Self {
                Self(Self::RANGE.min)
            }
        }

        impl TryFrom<f32> for $name {
            type Error = $crate::error::RangeError;

            fn try_from(value: f32) -> Result<Self, Self::Error> {
                Self::new(value)
            }
        }

        impl From<$name> for f32 {
            fn from(quantity: $name) -> Self {
                quantity.0
            }
        }
    };
}
use quantity;
