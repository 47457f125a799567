//! A quantity as it was typed: the decimal, and which of its units.

use core::fmt;
use core::marker::PhantomData;
use core::num::NonZeroU32;

use super::{Decimal, DecimalError};
use crate::units::error::{Range, RangeError};
use crate::units::{Alternative, Quantity};

/// A typed quantity: exact digits and the unit they were given in, in four bytes.
///
/// ```
/// use halfskip::units::decimal::{Decimal, Entered};
/// use halfskip::units::Millimetres;
/// let path = Entered::<Millimetres>::in_alternative(Decimal::parse("1.25").unwrap()).unwrap();
/// assert_eq!(path.quantity().get(), 31.75);
/// assert_eq!(path.to_string(), "1.25in");
/// ```
pub struct Entered<Q> {
    // The biased exponent is never zero, so that an absent quantity needs no room of its own.
    bits: NonZeroU32,
    quantity: PhantomData<Q>,
}

/// Bit 6 of the packed decimal: the number is in the quantity's alternative unit.
pub(super) const ALTERNATIVE: u32 = 0x40;

impl<Q: Quantity> Entered<Q> {
    /// A decimal in the quantity's own unit.
    ///
    /// # Errors
    /// [`RangeError`] outside the quantity's range.
    pub fn new(number: Decimal) -> Result<Self, RangeError> {
        Self::checked(number.pack())
    }

    /// A decimal in the quantity's alternative unit (its own when it has none).
    ///
    /// # Errors
    /// [`RangeError`] outside the quantity's range.
    pub fn in_alternative(number: Decimal) -> Result<Self, RangeError> {
        let flag = if Q::ALTERNATIVE.is_some() { ALTERNATIVE } else { 0 };
        Self::checked(number.pack() | flag)
    }

    /// A decimal in the quantity's own unit or in its alternative, held to a narrower range.
    ///
    /// # Errors
    /// [`RangeError`] outside `range`, or outside the quantity's own.
    ///
    /// ```
    /// use halfskip::units::decimal::{Decimal, Entered};
    /// use halfskip::{units::limits, units::Millimetres};
    /// let depth = Entered::<Millimetres>::held(Decimal::parse("50").unwrap(), true, limits::DEPTH);
    /// assert_eq!(depth.unwrap_err().value, 1270.0);
    /// ```
    pub fn held(number: Decimal, in_alternative: bool, range: Range) -> Result<Self, RangeError> {
        let flag = if in_alternative && Q::ALTERNATIVE.is_some() { ALTERNATIVE } else { 0 };
        let entered = Self::packed(number.pack() | flag);
        let value = entered.number();
        range.check(value)?;
        Q::RANGE.check(value)?;
        Ok(entered)
    }

    /// The decimal of `places` digits nearest to a computed quantity; for devices that record what they measured.
    ///
    /// # Errors
    /// [`DecimalError`] when that takes more than seven digits.
    pub fn nearest(quantity: Q, places: u8) -> Result<Self, DecimalError> {
        let number = Decimal::nearest(quantity.number(), places)?;
        Self::new(number).map_err(|_| DecimalError::TooLargeOrSmall)
    }

    /// The packed form, as a frame and a pool of readings keep it.
    #[cfg(feature = "serde")]
    pub(crate) const fn bits(self) -> u32 {
        self.bits.get()
    }

    /// Reads back what [`Self::bits`] gave; refuses any other bits.
    #[cfg(feature = "serde")]
    pub(crate) fn from_bits(bits: u32) -> Option<Self> {
        Decimal::unpack(bits & !ALTERNATIVE)?;
        (bits & ALTERNATIVE == 0 || Q::ALTERNATIVE.is_some()).then_some(())?;
        Self::checked(bits).ok()
    }

    fn checked(bits: u32) -> Result<Self, RangeError> {
        let entered = Self::packed(bits);
        Q::checked(entered.number())?;
        Ok(entered)
    }

    /// Takes bits that [`Self::bits`] gave for this very quantity, without a second look.
    pub(crate) fn packed(bits: u32) -> Self {
        let bits = NonZeroU32::new(bits).unwrap_or(NonZeroU32::MIN);
        Self { bits, quantity: PhantomData }
    }

    /// The number in the quantity's own unit.
    #[must_use]
    pub fn number(self) -> f32 {
        match Q::ALTERNATIVE {
            Some(other) if self.is_alternative() => in_own_unit(self.decimal(), other),
            _ => self.decimal().value(),
        }
    }

    /// The quantity; its range was checked when it was made.
    #[must_use]
    pub fn quantity(self) -> Q {
        // The fallback is not reachable: every constructor has checked this very number.
        Q::checked(self.number()).unwrap_or_else(|_| Q::smallest())
    }

    /// The number in the quantity's own unit, held to a narrower range.
    ///
    /// # Errors
    /// [`RangeError`] outside `range`.
    pub fn within(self, range: Range) -> Result<Q, RangeError> {
        Q::checked(range.check(self.number())?)
    }

    /// What was typed, without its unit.
    #[must_use]
    pub const fn decimal(self) -> Decimal {
        Decimal::unpack_own(self.bits.get())
    }

    /// Whether it was typed in the alternative unit.
    #[must_use]
    pub const fn is_alternative(self) -> bool {
        self.bits.get() & ALTERNATIVE != 0
    }

    /// The unit it was typed in.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match Q::ALTERNATIVE {
            Some(other) if self.is_alternative() => other.unit,
            _ => Q::RANGE.unit,
        }
    }
}

/// A number of the alternative unit in the quantity's own.
fn in_own_unit(decimal: Decimal, other: Alternative) -> f32 {
    // Exact in f64: a 24-bit mantissa times a small factor, over an exact power of ten.
    let product = f64::from(decimal.mantissa) * f64::from(other.numerator);
    let mut scale = 1.0f64;
    for _ in 0..(other.power - decimal.exponent).unsigned_abs() {
        scale *= 10.0;
    }
    let value = if decimal.exponent < other.power { product / scale } else { product * scale } as f32;
    if decimal.negative { -value } else { value }
}

impl<Q> Clone for Entered<Q> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<Q> Copy for Entered<Q> {}

impl<Q> PartialEq for Entered<Q> {
    fn eq(&self, other: &Self) -> bool {
        self.bits == other.bits
    }
}

impl<Q> Eq for Entered<Q> {}

impl<Q: Quantity> fmt::Debug for Entered<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl<Q: Quantity> fmt::Display for Entered<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.decimal(), self.unit())
    }
}

#[cfg(feature = "defmt")]
impl<Q: Quantity> defmt::Format for Entered<Q> {
    fn format(&self, f: defmt::Formatter<'_>) {
        defmt::write!(f, "{=f32}{=str}", self.decimal().value(), self.unit());
    }
}

#[cfg(feature = "serde")]
impl<Q: Quantity> serde::Serialize for Entered<Q> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u32(self.bits())
    }
}

#[cfg(feature = "serde")]
impl<'de, Q: Quantity> serde::Deserialize<'de> for Entered<Q> {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let bits = u32::deserialize(deserializer)?;
        Self::from_bits(bits).ok_or(serde::de::Error::custom("not a quantity"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Millimetres;

    #[test]
    fn two_inches_to_the_left_are_minus_50_8_mm() {
        let left = Entered::<Millimetres>::in_alternative(Decimal::parse("-2").unwrap()).unwrap();
        assert_eq!((left.quantity().get(), left.unit()), (-50.8, "in"));
    }
}
