//! Length along the weld: how far the echo stays up as the probe travels.
//!
//! The half-amplitude technique is that of EN 1330-4 (drop of 6 dB); the end-peak rule and the fixed level are
//! common practice \[R7\]. A drop length means something only for a reflector longer than the beam is wide.
//!
//! An end is open where the echo may go on beyond it: the length is then 'at least'.

use core::fmt;

use super::crossing::{End, Peaks, end_peak, leftward, over_screen, rightward, strongest};
use super::series::{Sample, SeriesView};
use crate::calibration::level::Bound;
use crate::units::decimal::fixed;
use crate::units::error::{Range, RangeError, comes_from};
use crate::units::{Decibels, Millimetres};

/// The drops that can be asked for; from common practice \[R7\], which knows 6, 12, 14 and 20 dB.
const DROP: Range = Range { quantity: "drop", unit: "dB", min: 0.1, max: 60.0 };

/// A length with its two ends and the echo it was read from.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Length {
    /// The end at the smaller travel.
    pub start: Millimetres,
    /// The end at the larger travel.
    pub end: Millimetres,
    /// The echo may go on before [`Self::start`].
    pub open_start: bool,
    /// The echo may go on behind [`Self::end`].
    pub open_end: bool,
    /// The echo rises to the threshold once more beyond an end, or may: it is more than this one length. Never so by the
    /// last peaks.
    pub rises_again: bool,
    /// The strongest echo; midway between the outermost ones where several are equally strong.
    pub peak: Sample,
    length: Millimetres,
}

impl Length {
    /// From one end to the other.
    #[must_use]
    pub const fn length(self) -> Millimetres {
        self.length
    }

    /// Whether the length is only 'at least'.
    #[must_use]
    pub const fn is_open(self) -> bool {
        self.open_start || self.open_end
    }
}

/// Why a series has no length.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum LengthError {
    /// Fewer than two places were sampled.
    TooFewSamples {
        /// How many were.
        samples: usize,
    },
    /// No sample saw an echo.
    NothingSeen,
    /// An echo went over the screen: its height is unknown, and so is what lies n dB under it.
    OverScreen {
        /// Where it did.
        travel: Millimetres,
    },
    /// The strongest echo stays under the level asked for.
    BelowLevel {
        /// The strongest echo.
        peak: Decibels,
        /// The level asked for.
        level: Decibels,
    },
    /// A drop or a length out of its range.
    Range(RangeError),
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::TooFewSamples { samples } => {
                write!(f, "a length needs 2 samples or more, this has {samples}")
            }
            Self::NothingSeen => f.write_str("no sample of the series saw an echo"),
            Self::OverScreen { travel } => write!(
                f,
                "the echo at {} mm is over the screen, so its peak and the drop from it are unknown",
                fixed(travel.get())
            ),
            Self::BelowLevel { peak, level } => write!(
                f,
                "the strongest echo, {} dB, stays under {} dB",
                fixed(peak.get()),
                fixed(level.get())
            ),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(LengthError: Range(RangeError));

/// Length by drop: from the strongest echo outward to the first crossing of peak − `drop` on each side.
///
/// # Errors
/// [`LengthError`]: fewer than two samples, nothing seen, any echo over the screen (the strongest is then unknown), or a
/// drop outside 0.1 to 60 dB.
///
/// ```
/// use halfskip::calibration::level::{Bound, Level};
/// use halfskip::evaluate::sizing::{length, series::{Sample, Series}};
/// use halfskip::units::{Decibels, Millimetres};
/// let mut series: Series = Series::new();
/// for (x, dB) in [(10.0, -9.0), (11.0, -3.0), (12.0, 0.0), (13.0, -4.0), (14.0, -8.0)] {
///     let (travel, db) = (Millimetres::constant(x), Decibels::constant(dB));
///     series.insert(Sample { travel, level: Level { db, bound: Bound::Exact } }).unwrap();
/// }
/// let half = length::by_drop(&series, Decibels::constant(6.0)).unwrap();
/// assert_eq!((half.start.get(), half.end.get()), (10.5, 13.5));
/// assert_eq!(half.length().get(), 3.0);
/// let deep = length::by_drop(&series, Decibels::constant(12.0)).unwrap();
/// assert!(deep.open_start && deep.open_end);
/// ```
pub fn by_drop(series: &SeriesView, drop: Decibels) -> Result<Length, LengthError> {
    let samples = series.samples();
    let drop = DROP.check(drop.get())?;
    let peaks = peaks(samples)?;
    if let Some(travel) = over_screen(samples) {
        return Err(LengthError::OverScreen { travel });
    }
    let threshold = peaks.first.level.db.get() - drop;
    run(samples, peaks, threshold)
}

/// Length by drop from the last peak before each end, for an echo that is ragged along its length.
///
/// The last peak before an end is the first sample met from that end that was seen, reaches `floor`, and is stronger
/// than the next one inward; a next one that was not seen counts as weaker, one over the screen as stronger. An echo
/// over the screen met before that is itself the last peak, of unknown height. `floor` keeps noise and ripple far
/// below the indication from being taken for its end. A fall and rise between the two peaks does not cut the length.
///
/// # Errors
/// [`LengthError`]: fewer than two samples, nothing seen, no echo at `floor`, a last peak over the screen, or a drop
/// outside 0.1 to 60 dB. An echo over the screen between the last peaks does no harm.
///
/// ```
/// # use halfskip::calibration::level::{Bound, Level};
/// # use halfskip::evaluate::sizing::{length, series::{Sample, Series}};
/// # use halfskip::units::{Decibels, Millimetres};
/// # let mut series: Series = Series::new();
/// # for (x, dB) in [(0.0, -20.0), (1.0, -4.0), (2.0, 0.0), (3.0, -8.0), (4.0, -2.0), (5.0, -14.0)] {
/// #     let (travel, db) = (Millimetres::constant(x), Decibels::constant(dB));
/// #     series.insert(Sample { travel, level: Level { db, bound: Bound::Exact } }).unwrap();
/// # }
/// // Levels 0 to 5 mm: -20, -4, 0, -8, -2, -14 dB. The last peaks are those at 2 and 4 mm.
/// let (drop, floor) = (Decibels::constant(6.0), Decibels::constant(-10.0));
/// let ragged = length::by_end_peaks(&series, drop, floor).unwrap();
/// assert_eq!((ragged.start.get(), ragged.end.get()), (0.875, 4.5));
/// assert_eq!(length::by_drop(&series, drop).unwrap().end.get(), 2.75);
/// assert!(length::by_end_peaks(&series, drop, Decibels::constant(3.0)).is_err());
/// ```
pub fn by_end_peaks(series: &SeriesView, drop: Decibels, floor: Decibels) -> Result<Length, LengthError> {
    let samples = series.samples();
    let drop = DROP.check(drop.get())?;
    let peaks = peaks(samples)?;
    let below = LengthError::BelowLevel { peak: peaks.first.level.db, level: floor };
    let first = end_peak(samples.iter(), floor).ok_or(below)?;
    let last = end_peak(samples.iter().rev(), floor).ok_or(below)?;
    for peak in [first, last] {
        if peak.level.bound == Bound::AtLeast {
            return Err(LengthError::OverScreen { travel: peak.travel });
        }
    }
    between(
        peaks,
        leftward(samples, first, first.level.db.get() - drop)?,
        rightward(samples, last, last.level.db.get() - drop)?,
    )
}

/// Length at a fixed level: the run around the strongest echo that stays at or above `level`.
///
/// An echo over the screen is above every level that it reaches, so the length stays known.
///
/// # Errors
/// [`LengthError`]: fewer than two samples, nothing seen, the strongest echo under `level`, or an echo over the screen
/// of which only a limit under `level` is known.
///
/// ```
/// # use halfskip::calibration::level::{Bound, Level};
/// # use halfskip::evaluate::sizing::{length, series::{Sample, Series}};
/// # use halfskip::units::{Decibels, Millimetres};
/// # let mut series: Series = Series::new();
/// # for (x, dB) in [(0.0, -20.0), (1.0, -8.0), (2.0, 0.0), (3.0, -9.0)] {
/// #     let (travel, db) = (Millimetres::constant(x), Decibels::constant(dB));
/// #     series.insert(Sample { travel, level: Level { db, bound: Bound::Exact } }).unwrap();
/// # }
/// // Levels 0 to 3 mm: -20, -8, 0, -9 dB.
/// let run = length::at_level(&series, Decibels::constant(-10.0)).unwrap();
/// assert_eq!((run.start.get(), run.end.get(), run.open_end), (5.0 / 6.0, 3.0, true));
/// assert!(length::at_level(&series, Decibels::constant(1.0)).is_err());
/// ```
pub fn at_level(series: &SeriesView, level: Decibels) -> Result<Length, LengthError> {
    let samples = series.samples();
    let peaks = peaks(samples)?;
    if peaks.first.level.db < level {
        return Err(match over_screen(samples) {
            Some(travel) => LengthError::OverScreen { travel },
            None => LengthError::BelowLevel { peak: peaks.first.level.db, level },
        });
    }
    run(samples, peaks, level.get())
}

/// The run about the strongest echoes that stays at a threshold or above it.
fn run(samples: &[Sample], peaks: Peaks, threshold: f32) -> Result<Length, LengthError> {
    let found = between(
        peaks,
        leftward(samples, peaks.first, threshold)?,
        rightward(samples, peaks.last, threshold)?,
    )?;
    let beyond = |sample: &Sample| sample.travel < found.start || sample.travel > found.end;
    let rises_again = samples.iter().any(|sample| beyond(sample) && sample.level.may_reach(threshold));
    Ok(Length { rises_again, ..found })
}

/// A length from its echoes and its ends.
fn between(peaks: Peaks, start: End, end: End) -> Result<Length, LengthError> {
    let Peaks { first, last } = peaks;
    let middle = (first.travel.get() + last.travel.get()) / 2.0;
    let stronger = if last.level.bound == Bound::AtLeast { last } else { first };
    Ok(Length {
        rises_again: false,
        start: start.travel,
        end: end.travel,
        open_start: start.open,
        open_end: end.open,
        peak: Sample { travel: Millimetres::new(middle)?, ..stronger },
        length: Millimetres::new(end.travel.get() - start.travel.get())?,
    })
}

/// The strongest echo of at least two samples.
fn peaks(samples: &[Sample]) -> Result<Peaks, LengthError> {
    if samples.len() < 2 {
        return Err(LengthError::TooFewSamples { samples: samples.len() });
    }
    strongest(samples).ok_or(LengthError::NothingSeen)
}

#[cfg(test)]
mod tests {
    use super::super::series::Series;
    use super::*;
    use crate::calibration::level::Level;
    use Bound::{AtLeast, AtMost, Exact};

    const SIX: Decibels = Decibels::constant(6.0);
    const ZERO: Decibels = Decibels::constant(0.0);

    fn series(samples: &[(f32, f32, Bound)]) -> Series {
        let mut series = Series::new();
        for &(travel, level, bound) in samples {
            series
                .insert(Sample {
                    travel: Millimetres::constant(travel),
                    level: Level { db: Decibels::constant(level), bound },
                })
                .unwrap();
        }
        series
    }

    /// Start, end, open start, open end.
    fn ends(length: Result<Length, LengthError>) -> (f32, f32, bool, bool) {
        let length = length.unwrap();
        (length.start.get(), length.end.get(), length.open_start, length.open_end)
    }

    #[test]
    fn a_level_met_exactly_is_the_end() {
        let trace = series(&[(0.0, -9.0, Exact), (1.0, -6.0, Exact), (2.0, 0.0, Exact), (3.0, -6.0, AtMost)]);
        assert_eq!(ends(by_drop(&trace, SIX)), (1.0, 3.0, false, false));
    }

    #[test]
    fn what_was_not_seen_ends_a_run_only_below_the_threshold() {
        let trace =
            series(&[(0.0, -4.0, AtMost), (1.0, -2.0, Exact), (2.0, 0.0, Exact), (3.0, -12.0, AtMost)]);
        assert_eq!(ends(by_drop(&trace, SIX)), (1.0, 2.5, true, false));
    }

    #[test]
    fn over_the_screen_a_drop_is_unknown_and_a_level_is_not() {
        let trace = series(&[(0.0, -4.0, Exact), (1.0, 4.0, Exact), (2.0, 8.0, AtLeast), (3.0, -8.0, Exact)]);
        let travel = Millimetres::constant(2.0);
        assert_eq!(by_drop(&trace, SIX), Err(LengthError::OverScreen { travel }));
        assert_eq!(by_end_peaks(&trace, SIX, ZERO), Err(LengthError::OverScreen { travel }));
        assert_eq!(ends(at_level(&trace, ZERO)), (0.5, 3.0, false, false));
        let high = Decibels::constant(9.0);
        assert_eq!(at_level(&trace, high), Err(LengthError::OverScreen { travel }));
    }

    #[test]
    fn the_last_peaks_reach_further_than_the_strongest_one() {
        let trace = series(&[
            (0.0, -30.0, Exact),
            (1.0, -8.0, Exact),
            (2.0, -10.0, Exact),
            (3.0, 0.0, Exact),
            (4.0, -7.0, Exact),
            (5.0, -3.0, Exact),
            (6.0, -15.0, Exact),
        ]);
        assert_eq!(ends(by_drop(&trace, SIX)), (2.4, 3.0 + 6.0 / 7.0, false, false));
        let floor = Decibels::constant(-20.0);
        let ragged = by_end_peaks(&trace, SIX, floor);
        assert_eq!(ends(ragged), (1.0 - 6.0 / 22.0, 5.5, false, false));
        assert_eq!(ragged.unwrap().peak.travel.get(), 3.0);
    }

    #[test]
    fn equal_peaks_are_all_within_the_length() {
        let trace = series(&[(0.0, -12.0, Exact), (1.0, 0.0, Exact), (2.0, -9.0, Exact), (3.0, 0.0, Exact)]);
        assert_eq!(ends(by_drop(&trace, SIX)), (0.5, 3.0, false, true));
        assert_eq!(by_drop(&trace, SIX).unwrap().peak.travel.get(), 2.0);
    }

    #[test]
    fn a_series_without_an_answer_says_why() {
        let one = series(&[(0.0, 0.0, Exact)]);
        assert_eq!(by_drop(&one, SIX), Err(LengthError::TooFewSamples { samples: 1 }));
        let none = series(&[(0.0, 0.0, AtMost), (1.0, 0.0, AtMost)]);
        assert_eq!(at_level(&none, ZERO), Err(LengthError::NothingSeen));
        let weak = series(&[(0.0, -2.0, Exact), (1.0, -3.0, Exact)]);
        let peak = Decibels::constant(-2.0);
        assert_eq!(at_level(&weak, ZERO), Err(LengthError::BelowLevel { peak, level: ZERO }));
        assert!(matches!(by_drop(&weak, ZERO), Err(LengthError::Range(_))));
    }

    #[test]
    fn an_end_that_meets_the_threshold_beside_nothing_seen_reaches_that_place() {
        let trace = series(&[(0.0, -6.0, AtMost), (1.0, -6.0, Exact), (2.0, 0.0, Exact), (3.0, -9.0, Exact)]);
        assert_eq!(ends(by_drop(&trace, SIX)).0, 0.0);
    }

    #[test]
    fn a_level_that_only_the_peak_meets_is_a_length_of_nothing() {
        let trace = series(&[(0.0, -9.0, Exact), (1.0, 0.0, Exact), (2.0, -9.0, Exact)]);
        assert_eq!(ends(at_level(&trace, ZERO)), (1.0, 1.0, false, false));
    }

    #[test]
    fn of_equal_peaks_one_over_the_screen_gives_its_bound() {
        for bounds in [[AtLeast, Exact], [Exact, AtLeast]] {
            let [first, last] = bounds;
            let trace =
                series(&[(0.0, -9.0, Exact), (1.0, 8.0, first), (2.0, 8.0, last), (3.0, -9.0, Exact)]);
            assert_eq!(at_level(&trace, ZERO).unwrap().peak.level.bound, AtLeast);
        }
    }
}
