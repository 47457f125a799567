//! The limits that a row states: of thickness and measure in their units, of length also in multiples of t.

use core::fmt;

use super::span::{Span, number, thousandths};
use crate::units::decimal::fixed;
use crate::units::error::{Range, RangeError};
use crate::units::{Millimetres, Quantity};

/// One end of a range.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Limit<Q> {
    /// Where it lies.
    pub at: Q,
    /// Whether the value itself still belongs: "from" and "to" of thickness, "at least" and "at most" of the measure
    /// include it; "over" and "below", "above" and "below" do not.
    pub included: bool,
}

/// A range with either end open or absent.
///
/// ```
/// use halfskip::acceptance::criteria::{Bounds, Limit};
/// use halfskip::units::Millimetres;
/// let bounds = Bounds {
///     low: Some(Limit { at: Millimetres::constant(8.0), included: true }),
///     high: Some(Limit { at: Millimetres::constant(15.0), included: false }),
/// };
/// assert!(bounds.contain(Millimetres::constant(8.0)));
/// assert!(!bounds.contain(Millimetres::constant(15.0)));
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Bounds<Q> {
    /// The lower end, or none.
    pub low: Option<Limit<Q>>,
    /// The upper end, or none.
    pub high: Option<Limit<Q>>,
}

impl<Q> Bounds<Q> {
    /// No end on either side.
    pub const ANY: Self = Self { low: None, high: None };
}

impl<Q: Quantity> Bounds<Q> {
    /// Whether a value lies in the range, compared in thousandths of the unit.
    #[must_use]
    pub fn contain(&self, value: Q) -> bool {
        let value = thousandths(value.number());
        let span = self.span();
        span.low <= value && value <= span.high
    }

    pub(super) fn span(&self) -> Span {
        let mut span = Span::ALL;
        if let Some(Limit { at, included }) = self.low {
            let at = thousandths(at.number());
            span.low = if included { at } else { at.saturating_add(1) };
        }
        if let Some(Limit { at, included }) = self.high {
            let at = thousandths(at.number());
            span.high = if included { at } else { at.saturating_sub(1) };
        }
        span
    }

    /// The limits as stated, in thousandths.
    pub(super) fn stated(&self) -> impl Iterator<Item = i32> {
        let at = |limit: Limit<Q>| thousandths(limit.at.number());
        self.low.map(at).into_iter().chain(self.high.map(at))
    }

    /// Writes ", {name} {low word} 8 {high word} 15 {unit}" in the words given for included and excluded ends.
    pub(super) fn write(
        &self,
        f: &mut fmt::Formatter<'_>,
        name: &str,
        low: [&str; 2],
        high: [&str; 2],
    ) -> fmt::Result {
        let [low_included, low_excluded] = low;
        let [high_included, high_excluded] = high;
        if let Some(limit) = self.low {
            let word = if limit.included { low_included } else { low_excluded };
            write!(f, "{name} {word} {} {}, ", fixed(limit.at.number()), Q::RANGE.unit)?;
        }
        if let Some(limit) = self.high {
            let word = if limit.included { high_included } else { high_excluded };
            write!(f, "{name} {word} {} {}, ", fixed(limit.at.number()), Q::RANGE.unit)?;
        }
        Ok(())
    }
}

const TIMES: Range = Range { quantity: "multiple", unit: "", min: 1.0, max: 1_000_000.0 };

/// A multiple of a length, kept as the fraction it was written as, so that a third of 30 mm is 10 mm.
///
/// ```
/// use halfskip::acceptance::criteria::Multiple;
/// assert_eq!(Multiple::new(2, 3).unwrap().to_string(), "2/3");
/// assert!(Multiple::new(1, 0).is_err());
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "(u32, u32)", into = "(u32, u32)"))]
pub struct Multiple {
    times: u32,
    divisor: u32,
}

impl Multiple {
    /// `times / divisor`.
    ///
    /// # Errors
    /// [`RangeError`] unless both are 1 to 1 000 000.
    pub fn new(times: u32, divisor: u32) -> Result<Self, RangeError> {
        TIMES.check(times as f32)?;
        TIMES.check(divisor as f32)?;
        Ok(Self { times, divisor })
    }

    /// The multiple of a length in thousandths, rounded to the nearest.
    pub(super) fn of(self, length: i32) -> i32 {
        let (times, divisor) = (i64::from(self.times), i64::from(self.divisor));
        // round(x) = floor((2x + 1) / 2), with x = times · length / divisor; at most 2e6 · 1e8 + 1e6.
        let twice = (2 * times * i64::from(length)).saturating_add(divisor);
        let rounded = twice.checked_div_euclid(2 * divisor).unwrap_or(i64::MAX);
        i32::try_from(rounded).unwrap_or(i32::MAX)
    }

    /// The smallest length, in thousandths, whose multiple is at least `limit`.
    pub(super) fn reaching(self, limit: i32) -> Option<i32> {
        let (times, divisor) = (i64::from(self.times), i64::from(self.divisor));
        // round(times · length / divisor) ≥ limit  ⇔  2 · times · length ≥ (2 · limit − 1) · divisor
        let twice = (2 * i64::from(limit) - 1).saturating_mul(divisor);
        let length = twice.saturating_add(2 * times - 1).checked_div_euclid(2 * times)?;
        i32::try_from(length).ok()
    }
}

impl TryFrom<(u32, u32)> for Multiple {
    type Error = RangeError;

    fn try_from((times, divisor): (u32, u32)) -> Result<Self, RangeError> {
        Self::new(times, divisor)
    }
}

impl From<Multiple> for (u32, u32) {
    fn from(multiple: Multiple) -> Self {
        (multiple.times, multiple.divisor)
    }
}

impl fmt::Display for Multiple {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { times, divisor } = self;
        // A decimal fraction was typed as a decimal: 5/10 is shown as 0.5.
        match divisor {
            1 => write!(f, "{times}"),
            10 | 100 | 1_000 | 10_000 => write!(f, "{}", fixed(*times as f32 / *divisor as f32)),
            _ => write!(f, "{times}/{divisor}"),
        }
    }
}

/// A limit of length along the weld.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum LengthLimit {
    /// In millimetres.
    Fixed(Millimetres),
    /// A multiple of the thickness.
    Thicknesses(Multiple),
}

impl LengthLimit {
    /// The limit in thousandths of a millimetre, on a part that thick.
    pub(super) fn at(self, thickness: i32) -> i32 {
        match self {
            Self::Fixed(length) => thousandths(length.get()),
            Self::Thicknesses(multiple) => multiple.of(thickness),
        }
    }

    /// The limit in millimetres on a part of that thickness.
    #[must_use]
    pub fn on(self, thickness: Millimetres) -> f32 {
        number(self.at(thousandths(thickness.get())))
    }
}

impl fmt::Display for LengthLimit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Fixed(length) => write!(f, "{} mm", fixed(length.get())),
            Self::Thicknesses(multiple) => write!(f, "{multiple} t"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_third_of_thirty_is_ten() {
        let third = Multiple::new(1, 3).unwrap();
        assert_eq!(third.of(30_000), 10_000);
        assert_eq!(third.of(31_000), 10_333);
    }

    #[test]
    fn the_first_length_that_reaches_a_limit_is_the_first() {
        for (times, divisor, limit) in [(1, 3, 10_000), (7, 5, 12_345), (1, 1, 1), (999_999, 1, 77)] {
            let multiple = Multiple::new(times, divisor).unwrap();
            let first = multiple.reaching(limit).unwrap();
            assert!(multiple.of(first) >= limit, "{times}/{divisor}");
            assert!(multiple.of(first - 1) < limit, "{times}/{divisor}");
        }
    }
}
