//! Accuracy of a calibrated gain control over its range, by a chain of equal steps.
//!
//! An echo is brought to about 40 % of the screen, 6 dB are added, and gain and height are noted; the probe is slid
//! back until the echo is at 40 % again, and so on to the end of the range.
//!
//! | row | meaning | unit |
//! | --- | --- | --- |
//! | a | gain read | dB |
//! | b | height read | % |
//! | c | gain corrected for the height: `20 log10(b̄ / b) + a`, b̄ the mean height without the first and last three | dB |
//! | d | error: `a − c` | dB |
//! | e | cumulative error: starts as the d nearest zero and adds the d's outwards, both ways | dB |
//!
//! The qualified range is the longest run of readings whose cumulative errors span no more than 2 dB: its number of
//! readings less one, times 6 dB. It has to reach 60 dB. The rows and steps were seen in AWS D1.1:2010, annex M
//! \[R9\]; the limits of 2 dB and 60 dB only in what was quoted of its form M-8 in that society's forum: the code
//! itself has to confirm them.

use core::fmt;

use heapless::Vec;

use crate::math;
use crate::physics::decibels::{self, DecibelsError};
use crate::units::decimal::fixed;
use crate::units::error::RangeError;
use crate::units::{Decibels, ScreenPercent};

/// Readings a chain may have: 6 dB each, they reach beyond any gain control.
pub const MAX_READINGS: usize = 32;
/// Readings left out of the mean at either end.
const LEFT_OUT: usize = 3;
/// Gain added from one reading to the next.
const STEP: f32 = 6.0;
/// What the cumulative errors of a qualified run may span.
const SPAN: f32 = 2.0;
/// What a qualified range has to reach.
const LEAST: f32 = 60.0;

/// Why a chain gives no range.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum GainAccuracyError {
    /// The mean leaves out three readings at either end; one at least must remain.
    TooFew {
        /// How many there are.
        readings: usize,
    },
    /// More readings than a chain may have.
    TooMany {
        /// How many it may have.
        capacity: usize,
    },
    /// A reading's gain is not 6 dB above the one before.
    Step {
        /// Which reading, from 0.
        reading: usize,
        /// How far it is above, dB.
        step: f32,
    },
    /// A reading's height is zero.
    NoHeight,
    /// A level outside its range.
    Range(RangeError),
}

impl fmt::Display for GainAccuracyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew { readings } => write!(f, "{readings} readings: the chain takes seven or more"),
            Self::TooMany { capacity } => write!(f, "the chain holds {capacity} readings"),
            Self::Step { reading, step } => write!(
                f,
                "reading {} is {} dB above the one before, not 6 dB",
                reading.saturating_add(1),
                fixed(*step)
            ),
            Self::NoHeight => f.write_str("a reading has a height of 0 %"),
            Self::Range(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for GainAccuracyError {}

impl From<DecibelsError> for GainAccuracyError {
    fn from(error: DecibelsError) -> Self {
        match error {
            DecibelsError::Range(error) => Self::Range(error),
            _ => Self::NoHeight,
        }
    }
}

/// A chain worked out.
///
/// ```
/// use halfskip::calibration::gain_accuracy::GainAccuracy;
/// use halfskip::units::{Decibels, ScreenPercent};
/// let perfect: Vec<_> = (0..14)
///     .map(|n| (Decibels::new(6.0 * n as f32).unwrap(), ScreenPercent::new(80.0).unwrap()))
///     .collect();
/// let found = GainAccuracy::of(&perfect).unwrap();
/// assert_eq!((found.range().get(), found.verdict()), (78.0, true));
/// assert!(GainAccuracy::of(&perfect[..6]).is_err());
/// ```
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct GainAccuracy {
    mean: f32,
    errors: Vec<f32, MAX_READINGS>,
    cumulative: Vec<f32, MAX_READINGS>,
    qualified: usize,
}

impl GainAccuracy {
    /// Works out a chain of readings (gain, height), each 6 dB above the one before.
    ///
    /// # Errors
    /// [`GainAccuracyError`]: fewer than seven readings or more than [`MAX_READINGS`], a step that is not 6 dB, a
    /// height of zero.
    pub fn of(readings: &[(Decibels, ScreenPercent)]) -> Result<Self, GainAccuracyError> {
        let middle = readings
            .len()
            .checked_sub(2 * LEFT_OUT)
            .filter(|middle| *middle > 0)
            .ok_or(GainAccuracyError::TooFew { readings: readings.len() })?;
        let after = readings.iter().skip(1);
        for (index, ((gain, _), (before, _))) in (1..).zip(after.zip(readings)) {
            let step = gain.get() - before.get();
            // A gain control shows tenths; less than half of one is the rounding of the numbers.
            if (step - STEP).abs() >= 0.05 {
                return Err(GainAccuracyError::Step { reading: index, step });
            }
        }
        let sum =
            readings.iter().skip(LEFT_OUT).take(middle).fold(0.0, |sum, (_, height)| sum + height.get());
        let mean = sum / middle as f32;
        let mut errors = Vec::new();
        for (_, height) in readings {
            // d = a − c = −20 log10(b̄ / b); a height of zero has none.
            let error = decibels::ratio_to_decibels(height.get() / mean)?.get();
            errors.push(error).map_err(|_| GainAccuracyError::TooMany { capacity: MAX_READINGS })?;
        }
        let cumulative = outwards(&errors);
        let qualified = longest_run(&cumulative);
        Ok(Self { mean, errors, cumulative, qualified })
    }

    /// b̄, the mean height the others are compared with, % of full screen height.
    #[must_use]
    pub const fn mean(&self) -> f32 {
        self.mean
    }

    /// Rows d and e of each reading: its error and the cumulative error, dB.
    pub fn rows(&self) -> impl Iterator<Item = (f32, f32)> + '_ {
        self.errors.iter().copied().zip(self.cumulative.iter().copied())
    }

    /// The qualified range: readings of the longest run less one, times 6 dB.
    #[must_use]
    pub fn range(&self) -> Decibels {
        // At most 31 steps of 6 dB: inside the range of a level.
        Decibels::new(STEP * self.qualified.saturating_sub(1) as f32)
            .unwrap_or(const { Decibels::constant(0.0) })
    }

    /// Whether the qualified range reaches 60 dB.
    #[must_use]
    pub fn verdict(&self) -> bool {
        self.range().get() >= LEAST
    }
}

/// Row e: sums of the errors outwards from the one nearest zero, the first of them if several are.
fn outwards(errors: &Vec<f32, MAX_READINGS>) -> Vec<f32, MAX_READINGS> {
    let nearest = errors
        .iter()
        .enumerate()
        .fold(
            (0, f32::MAX),
            |(at, least), (index, error)| {
                if error.abs() < least { (index, error.abs()) } else { (at, least) }
            },
        )
        .0;
    let mut sums = errors.clone();
    let mut sum = 0.0;
    for held in sums.iter_mut().skip(nearest) {
        sum += *held;
        *held = sum;
    }
    let mut sum = errors.get(nearest).copied().unwrap_or(0.0);
    let before = errors.len().saturating_sub(nearest);
    for held in sums.iter_mut().rev().skip(before) {
        sum += *held;
        *held = sum;
    }
    sums
}

/// How many readings the longest run has whose cumulative errors span no more than [`SPAN`].
fn longest_run(cumulative: &[f32]) -> usize {
    let from = |start: usize| {
        let (mut low, mut high) = (f32::MAX, f32::MIN);
        cumulative
            .iter()
            .skip(start)
            .take_while(|error| {
                low = math::smaller(low, **error);
                high = math::larger(high, **error);
                high - low <= SPAN
            })
            .count()
    };
    (0..cumulative.len()).map(from).fold(0, core::cmp::Ord::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec as List;

    fn chain(heights: &[f32]) -> List<(Decibels, ScreenPercent)> {
        let gains = (0..).map(|n: u8| Decibels::new(6.0 * f32::from(n)).unwrap());
        gains.zip(heights.iter().map(|h| ScreenPercent::new(*h).unwrap())).collect()
    }

    #[test]
    fn an_error_spreads_outwards_from_the_reading_nearest_zero() {
        let mut heights = [80.0; 13];
        (heights[1], heights[11]) = (72.0, 88.0);
        let found = GainAccuracy::of(&chain(&heights)).unwrap();
        assert_eq!(found.mean(), 80.0);
        let rows: List<_> = found.rows().collect();
        let [low, high] = [rows[1].0, rows[11].0];
        assert!(low < -0.9 && high > 0.8);
        // The first reading without error starts the sums, so the low one lies after it.
        let expected = |n: usize| if n == 0 { 0.0 } else { low } + if n < 11 { 0.0 } else { high };
        for (n, (_, cumulative)) in rows.iter().enumerate() {
            assert!((cumulative - expected(n)).abs() < 1e-5, "reading {n}");
        }
    }

    #[test]
    fn the_range_ends_where_the_errors_span_more_than_two_decibels() {
        // Each of the last three readings is 1 dB high: the third takes the span past 2 dB.
        let mut heights = [80.0; 13];
        heights[10..].fill(80.0 * crate::physics::decibels::decibels_to_ratio(Decibels::constant(0.99)));
        let found = GainAccuracy::of(&chain(&heights)).unwrap();
        assert_eq!((found.range().get(), found.verdict()), (66.0, true));
        heights[9] = heights[10];
        heights[8] = heights[10];
        assert!(!GainAccuracy::of(&chain(&heights)).unwrap().verdict());
    }

    #[test]
    fn a_start_in_the_middle_sums_both_ways() {
        let up = 80.0 * crate::physics::decibels::decibels_to_ratio(Decibels::constant(0.5));
        let heights = [up, up, up, 80.0, 80.0, 80.0, 80.0, up, up, up];
        let found = GainAccuracy::of(&chain(&heights)).unwrap();
        let sums: List<f32> = found.rows().map(|(_, cumulative)| cumulative).collect();
        for (n, expected) in [1.5, 1.0, 0.5, 0.0, 0.0, 0.0, 0.0, 0.5, 1.0, 1.5].iter().enumerate() {
            assert!((sums[n] - expected).abs() < 1e-5, "reading {n}");
        }
    }

    #[test]
    fn a_broken_chain_is_refused() {
        let mut broken = chain(&[80.0; 8]);
        broken[4].0 = Decibels::constant(25.0);
        let refused = GainAccuracy::of(&broken);
        assert_eq!(refused, Err(GainAccuracyError::Step { reading: 4, step: 7.0 }));
        let few = GainAccuracy::of(&chain(&[80.0; 6]));
        assert_eq!(few, Err(GainAccuracyError::TooFew { readings: 6 }));
        let many = GainAccuracy::of(&chain(&[80.0; 33]));
        let capacity = MAX_READINGS;
        assert_eq!(many, Err(GainAccuracyError::TooMany { capacity }));
        let dark = GainAccuracy::of(&chain(&[80.0, 80.0, 0.0, 80.0, 80.0, 80.0, 80.0]));
        assert_eq!(dark, Err(GainAccuracyError::NoHeight));
    }
}
