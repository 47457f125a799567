//! Decimal numbers as people type and read them: exact in, correctly rounded out.
//!
//! A [`Decimal`] keeps what was typed, up to seven significant digits, so that a record shows the examiner's own
//! figures. [`fixed`] and [`Fixed`] print a computed number without the float formatting of the language, which would
//! cost a device more flash than all the geometry.

mod entered;
mod printed;
#[cfg(feature = "record")]
mod short;

pub use entered::Entered;
pub use printed::{Fixed, fixed};
#[cfg(feature = "record")]
pub(crate) use short::Short;

use core::fmt;

/// Powers of ten that an `f32` holds exactly.
const POWERS: [f32; 11] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10];
/// The largest exponent, either sign: within it a number of seven digits turns into `f32` with one rounding.
const MAX_EXPONENT: i8 = 10;
const MAX_MANTISSA: u32 = 9_999_999;

/// A decimal number of at most seven significant digits: `± mantissa × 10^exponent`.
///
/// ```
/// use halfskip::units::decimal::Decimal;
/// let path = Decimal::parse("36.90").unwrap();
/// assert_eq!(path.value(), 36.9);
/// assert_eq!(path.to_string(), "36.90");
/// assert!(Decimal::parse("3.14159265").is_err());
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Decimal {
    mantissa: u32,
    exponent: i8,
    negative: bool,
}

/// Why a text is not a [`Decimal`].
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum DecimalError {
    /// It does not read as digits with at most one point, one sign and one exponent.
    NotANumber,
    /// More than seven significant digits: refused, since dropping some would change the record.
    TooManyDigits,
    /// Its power of ten is beyond ±10.
    TooLargeOrSmall,
}

impl fmt::Display for DecimalError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotANumber => "is not a number; expected digits such as 36.9",
            Self::TooManyDigits => "has more than seven significant digits",
            Self::TooLargeOrSmall => "is too large or too small to be a reading",
        })
    }
}

impl core::error::Error for DecimalError {}

impl Decimal {
    /// Reads digits with an optional sign, point and exponent.
    ///
    /// # Errors
    /// [`DecimalError`]: not a number, more than seven significant digits, or beyond ±10 powers of ten.
    pub fn parse(text: &str) -> Result<Self, DecimalError> {
        let (negative, digits) = match text.as_bytes().split_first() {
            Some((b'-', rest)) => (true, rest),
            Some((b'+', rest)) => (false, rest),
            _ => (false, text.as_bytes()),
        };
        let mut number = Reader::default();
        let mut rest = digits.iter();
        for byte in rest.by_ref() {
            match byte {
                b'0'..=b'9' => number.digit(byte - b'0')?,
                b'.' if !number.after_point => number.after_point = true,
                b'e' | b'E' if number.digits => {
                    return number.finish(negative, exponent(rest.as_slice())?);
                }
                _ => return Err(DecimalError::NotANumber),
            }
        }
        number.finish(negative, 0)
    }

    /// `± mantissa × 10^exponent`, in its one canonical form.
    ///
    /// # Errors
    /// [`DecimalError`] beyond seven digits or ten powers of ten.
    pub fn new(negative: bool, mantissa: u32, exponent: i8) -> Result<Self, DecimalError> {
        if mantissa > MAX_MANTISSA {
            return Err(DecimalError::TooManyDigits);
        }
        let (mut mantissa, mut exponent) = (mantissa, exponent);
        // A whole number keeps its zeros in the mantissa while they fit, so that 1e2 and 100 are one number.
        while exponent > 0 && mantissa <= MAX_MANTISSA / 10 {
            mantissa *= 10;
            exponent -= 1;
            if mantissa == 0 {
                exponent = 0;
            }
        }
        if !(-MAX_EXPONENT..=MAX_EXPONENT).contains(&exponent) {
            return Err(DecimalError::TooLargeOrSmall);
        }
        Ok(Self { mantissa, exponent, negative: negative && mantissa > 0 })
    }

    /// The decimal nearest to `value` with `places` digits after the point; for devices that record what they
    /// computed.
    ///
    /// # Errors
    /// [`DecimalError`] when that takes more than seven digits, or the value is no number.
    pub fn nearest(value: f32, places: u8) -> Result<Self, DecimalError> {
        let places = places.min(6);
        let scaled = printed::scaled(value, places).ok_or(DecimalError::TooLargeOrSmall)?;
        let mantissa = u32::try_from(scaled).map_err(|_| DecimalError::TooManyDigits)?;
        Self::new(value.is_sign_negative(), mantissa, -(places as i8))
    }

    /// The nearest `f32`: one correctly rounded division or multiplication.
    #[must_use]
    pub fn value(self) -> f32 {
        let power = POWERS.get(usize::from(self.exponent.unsigned_abs())).copied().unwrap_or(1.0);
        let mantissa = self.mantissa as f32;
        let value = if self.exponent < 0 { mantissa / power } else { mantissa * power };
        if self.negative { -value } else { value }
    }

    /// Packs the number into 31 bits with the mantissa on top, so that few digits stay few bytes in a
    /// variable-length frame. The exponent is biased by 15 into five bits; bit 6 is left to the owner of the number.
    const fn pack(self) -> u32 {
        (self.mantissa << 7) | ((self.negative as u32) << 5) | ((self.exponent + 15) as u32)
    }

    /// Reads back what [`Self::pack`] wrote; refuses any other bits.
    #[cfg(feature = "serde")]
    fn unpack(bits: u32) -> Option<Self> {
        let read = Self::unpack_own(bits);
        let number = Self::new(read.negative, read.mantissa, read.exponent).ok()?;
        (number.pack() == bits & !0x40).then_some(number)
    }

    /// Reads back what [`Self::pack`] is known to have written, without a second look.
    const fn unpack_own(bits: u32) -> Self {
        Self { mantissa: bits >> 7, exponent: (bits & 0x1f) as i8 - 15, negative: bits & 0x20 != 0 }
    }
}

/// Digits as they are read, before the exponent is known.
#[derive(Default)]
struct Reader {
    mantissa: u32,
    exponent: i32,
    digits: bool,
    after_point: bool,
    dropped_zeros: i32,
}

impl Reader {
    fn digit(&mut self, digit: u8) -> Result<(), DecimalError> {
        self.digits = true;
        let grown = self.mantissa.saturating_mul(10).saturating_add(u32::from(digit));
        if grown <= MAX_MANTISSA && self.dropped_zeros == 0 {
            self.mantissa = grown;
            if self.after_point {
                self.exponent = self.exponent.saturating_sub(1);
            }
            return Ok(());
        }
        // A zero beyond the seventh digit says nothing new; any other digit would have to be dropped.
        if digit != 0 {
            return Err(DecimalError::TooManyDigits);
        }
        if !self.after_point {
            self.exponent = self.exponent.saturating_add(1);
        }
        self.dropped_zeros = 1;
        Ok(())
    }

    fn finish(self, negative: bool, exponent: i32) -> Result<Decimal, DecimalError> {
        if !self.digits {
            return Err(DecimalError::NotANumber);
        }
        let exponent = self.exponent.saturating_add(exponent);
        // A zero is zero at any power of ten.
        let exponent = if self.mantissa == 0 { exponent.max(-10) } else { exponent };
        let exponent = i8::try_from(exponent).map_err(|_| DecimalError::TooLargeOrSmall)?;
        Decimal::new(negative, self.mantissa, exponent)
    }
}

/// The digits behind an `e`, at most three of them.
fn exponent(text: &[u8]) -> Result<i32, DecimalError> {
    let (negative, digits) = match text.split_first() {
        Some((b'-', rest)) => (true, rest),
        Some((b'+', rest)) => (false, rest),
        _ => (false, text),
    };
    if digits.is_empty() || !digits.iter().all(u8::is_ascii_digit) {
        return Err(DecimalError::NotANumber);
    }
    let magnitude =
        digits.iter().fold(0i32, |sum, digit| sum.saturating_mul(10).saturating_add(i32::from(digit - b'0')));
    if magnitude > 999 {
        return Err(DecimalError::TooLargeOrSmall);
    }
    Ok(if negative { -magnitude } else { magnitude })
}

#[cfg(feature = "serde")]
impl serde::Serialize for Decimal {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u32(self.pack())
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Decimal {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let bits = u32::deserialize(deserializer)?;
        Self::unpack(bits).ok_or(serde::de::Error::custom("not a decimal"))
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.negative {
            f.write_str("-")?;
        }
        printed::point(f, u64::from(self.mantissa), -self.exponent)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_printed_again() {
        for text in ["0", "0.00", "36.9", "36.90", "-0.5", "9999999", "0.000001", "1000000000"] {
            assert_eq!(std::format!("{}", Decimal::parse(text).unwrap()), text);
        }
    }

    #[test]
    fn an_eighth_digit_is_refused_unless_it_is_a_zero() {
        assert_eq!(Decimal::parse("1.2345678"), Err(DecimalError::TooManyDigits));
        assert_eq!(Decimal::parse("16777217"), Err(DecimalError::TooManyDigits));
        assert_eq!(Decimal::parse("1.23456700").unwrap().value(), 1.234567);
        assert_eq!(Decimal::parse("10000000.01"), Err(DecimalError::TooManyDigits));
    }

    #[test]
    fn what_only_looks_like_a_number_is_refused() {
        for text in ["", ".", "-", "nan", "inf", "1e", "e5", "1.2.3", "0x10", "1e99999999999", "--1", "1 2"] {
            assert!(Decimal::parse(text).is_err(), "{text}");
        }
        assert_eq!(Decimal::parse("e1000"), Err(DecimalError::NotANumber));
        assert_eq!(Decimal::parse("1e99"), Err(DecimalError::TooLargeOrSmall));
        assert_eq!(Decimal::parse("0e-999").unwrap().value(), 0.0);
        assert_eq!(Decimal::parse("0e-1000"), Err(DecimalError::TooLargeOrSmall));
    }

    #[test]
    fn packing_loses_nothing_and_takes_nothing_else() {
        for text in ["0", "-12.5", "9999999", "0.0000000001", "99999990000"] {
            let number = Decimal::parse(text).unwrap();
            assert_eq!(Decimal::unpack(number.pack()), Some(number));
        }
        assert_eq!(Decimal::unpack(u32::MAX), None);
    }
}
