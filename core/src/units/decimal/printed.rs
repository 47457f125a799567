//! Computed numbers as text: fixed decimals, correctly rounded, half away from zero.

use core::fmt;

/// A number to print with a fixed count of decimals.
///
/// ```
/// use halfskip::units::decimal::Fixed;
/// assert_eq!(Fixed(-0.04, 1).to_string(), "0.0");
/// assert_eq!(Fixed(2.25, 1).to_string(), "2.3");
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Fixed(
    /// The number.
    pub f32,
    /// Digits after the point, at most six.
    pub u8,
);

/// A number to print with as many decimals, at most four, as it needs: for limits and typed values.
///
/// ```
/// use halfskip::units::decimal::fixed;
/// assert_eq!(fixed(0.5).to_string(), "0.5");
/// assert_eq!(fixed(1000.0).to_string(), "1000");
/// ```
#[must_use]
pub fn fixed(value: f32) -> impl fmt::Display {
    Trimmed(value)
}

/// The magnitude times 10^places as a whole number, rounded half away from zero.
///
/// An `f32` has 24 bits and 10^6 fewer than 20, so the product is exact in `f64`; one rounding follows.
pub(super) fn scaled(value: f32, places: u8) -> Option<u64> {
    let power = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6].get(usize::from(places)).copied()?;
    let product = f64::from(value.abs()) * power;
    (product < 1e15).then_some((product + 0.5) as u64)
}

/// Writes `digits / 10^places`; a negative `places` appends zeros.
pub(super) fn point(f: &mut fmt::Formatter<'_>, digits: u64, places: i8) -> fmt::Result {
    let places = i32::from(places);
    let mut power = 1u64;
    for _ in 0..places.unsigned_abs() {
        power = power.saturating_mul(10);
    }
    if places <= 0 {
        return whole(f, digits.saturating_mul(power));
    }
    let part = digits.checked_rem(power).unwrap_or(0);
    whole(f, digits.checked_div(power).unwrap_or(0))?;
    f.write_str(".")?;
    padded(f, part, power)
}

/// Nine digits at a time: the language's own printing of an `u64` brings a panic path along where an `u32` brings none.
fn whole(f: &mut fmt::Formatter<'_>, value: u64) -> fmt::Result {
    const BILLION: u64 = 1_000_000_000;
    if let Ok(small) = u32::try_from(value) {
        return write!(f, "{small}");
    }
    // Seven digits and ten powers of ten at most: what stands above a billion fits.
    write!(f, "{}", u32::try_from(value / BILLION).unwrap_or(u32::MAX))?;
    padded(f, value % BILLION, BILLION)
}

/// A part below `power` with its leading zeros.
fn padded(f: &mut fmt::Formatter<'_>, part: u64, power: u64) -> fmt::Result {
    let mut step = power / 10;
    while step > 1 && part < step {
        f.write_str("0")?;
        step /= 10;
    }
    write!(f, "{}", u32::try_from(part).unwrap_or(u32::MAX))
}

struct Trimmed(f32);

impl fmt::Display for Fixed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = self.1.min(6);
        let Some(digits) = scaled(self.0, places) else {
            return f.write_str(if self.0.is_nan() { "not a number" } else { "beyond display" });
        };
        if self.0.is_sign_negative() && digits > 0 {
            f.write_str("-")?;
        }
        point(f, digits, places as i8)
    }
}

impl fmt::Display for Trimmed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (mut digits, mut places) = (scaled(self.0, 4).unwrap_or(0), 4u8);
        while places > 0 && digits % 10 == 0 {
            digits /= 10;
            places -= 1;
        }
        Fixed(self.0, places).fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::format;

    #[test]
    fn fixed_printing_agrees_with_exact_decimal_rounding() {
        for (value, places, text) in [
            (0.05f32, 2, "0.05"),
            (1.005, 2, "1.00"),
            (-12.3456, 3, "-12.346"),
            (0.0, 3, "0.000"),
            (7.0, 0, "7"),
        ] {
            assert_eq!(format!("{}", Fixed(value, places)), text);
        }
        assert_eq!(format!("{}", Fixed(0.000_5, 3)), "0.001");
    }

    #[test]
    fn large_numbers_keep_every_digit() {
        assert_eq!(format!("{}", Fixed(4_294_967_296.0, 1)), "4294967296.0");
        assert_eq!(format!("{}", Fixed(1_000_000_000_000.0, 0)), "999999995904");
        assert_eq!(format!("{}", Fixed(5_000_000_000.0, 2)), "5000000000.00");
        assert_eq!(
            format!("{}", crate::units::decimal::Decimal::parse("99999990000000000").unwrap()),
            "99999990000000000"
        );
    }

    #[test]
    fn what_is_no_number_says_so() {
        assert_eq!(format!("{}", Fixed(f32::NAN, 1)), "not a number");
        assert_eq!(format!("{}", Fixed(1e20, 1)), "beyond display");
        // Of fifteen digits and more none is shown.
        assert_eq!(format!("{}", Fixed(1e9, 6)), "beyond display");
        assert_eq!(format!("{}", Fixed(1e9f32.next_down(), 6)), "999999936.000000");
    }
}
