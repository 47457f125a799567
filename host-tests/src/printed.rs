//! A number as a publication prints it: the value, and how much its last digit is worth.

use std::fmt;

/// A printed number. Half a unit of its last digit is what the print itself leaves open.
///
/// ```
/// use halfskip_host_tests::printed::Printed;
/// let depth = Printed::read("16.63").unwrap();
/// assert_eq!((depth.value(), depth.last_digit()), (16.63, 0.01));
/// assert_eq!(Printed::read("81").unwrap().last_digit(), 1.0);
/// ```
#[derive(Clone, PartialEq, Debug)]
pub struct Printed {
    text: String,
    value: f64,
    last_digit: f64,
}

impl Printed {
    /// Reads plain decimal text: a sign, digits, at most one point. Anything else is no printed number.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('-').unwrap_or(text);
        let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
        let plain = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty() || !plain(whole) || !plain(fraction) || digits.ends_with('.') {
            return None;
        }
        Some(Self {
            text: text.to_owned(),
            value: text.parse().ok()?,
            last_digit: format!("1e-{}", fraction.len()).parse().ok()?,
        })
    }

    /// The number.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.value
    }

    /// The worth of one unit of the last printed digit.
    #[must_use]
    pub fn last_digit(&self) -> f64 {
        self.last_digit
    }
}

impl fmt::Display for Printed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trailing_zeros_are_printed_digits() {
        assert_eq!(Printed::read("5.000").unwrap().last_digit(), 0.001);
        assert_eq!(Printed::read("-0").unwrap().value(), 0.0);
    }

    #[test]
    fn text_that_is_no_plain_number_is_refused() {
        for text in ["", "-", ".5", "5.", "1e3", "+1", "1,5", "5 mm", "accept"] {
            assert_eq!(Printed::read(text), None, "{text}");
        }
    }
}
