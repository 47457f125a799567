//! The curve of level against travel that a moving probe draws: its peak, its widths, its flanks, its raggedness.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | x, L | travel and strength of one step | mm or deg, dB |
//! | w(n) | width: outermost crossings of peak − n dB, interpolated in dB | mm or deg |
//! | swing | least rise and fall that makes a peak of its own | dB |
//!
//! A width takes the outermost crossings, so that a valley inside a ragged echo does not end it. All of it streams: a
//! series is walked a few times and never copied.

use crate::calibration::level::Bound;
use crate::math;

/// One step of a series.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Step {
    /// Where along the travel.
    pub at: f32,
    /// Strength, dB over whatever all steps share.
    pub strength: f32,
    /// Whether that is the strength itself or a limit of it.
    pub bound: Bound,
}

/// A width and whether its ends were reached.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Width {
    /// Where it begins.
    pub start: f32,
    /// Where it ends.
    pub end: f32,
    /// The series begins inside it.
    pub open_start: bool,
    /// The series ends inside it.
    pub open_end: bool,
}

impl Width {
    /// From start to end; with an open end 'at least' that.
    #[must_use]
    pub fn get(&self) -> f32 {
        self.end - self.start
    }

    /// Whether an end was not reached.
    #[must_use]
    pub const fn open(&self) -> bool {
        self.open_start || self.open_end
    }
}

/// What a series looks like.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Profile {
    /// How many steps.
    pub steps: u32,
    /// Where the strongest step lies.
    pub at: f32,
    /// Its strength, dB.
    pub peak: f32,
    /// It left the screen: the peak is at least that, and widths are at most those given.
    pub saturated: bool,
    /// w(6).
    pub width_6: Width,
    /// w(3), for the plateau.
    pub width_3: Width,
    /// Rate of the rise from peak − 12 dB to peak − 3 dB, dB per unit of travel; none where it was not seen.
    pub rise: Option<f32>,
    /// Rate of the fall, likewise.
    pub fall: Option<f32>,
    /// Peaks that stand at least 3 dB over the valleys beside them and within 12 dB of the strongest.
    pub peaks: u32,
    /// Of these, those that stand at least 6 dB over.
    pub high_peaks: u32,
    /// The deepest valley between two peaks, dB under the lower of them; 0 of one peak.
    pub deepest: f32,
}

/// How far below the strongest a peak still counts.
const WITHIN: f32 = 12.0;

/// The profile of a series in the order of its travel; none unless something was seen.
///
/// ```
/// use halfskip::calibration::level::Bound;
/// use halfskip::character::{Step, profile};
/// let step = |(at, strength): (i8, i8)| Step {
///     at: f32::from(at), strength: f32::from(strength), bound: Bound::Exact,
/// };
/// let steps = [(0, -20), (1, -8), (2, -2), (3, 0), (4, -2), (5, -10)].map(step);
/// let seen = profile(steps.into_iter()).unwrap();
/// assert_eq!((seen.at, seen.peaks), (3.0, 1));
/// assert!((seen.width_6.get() - 3.1667).abs() < 1e-3);
/// assert_eq!(profile([].into_iter()), None);
/// ```
#[must_use]
pub fn profile(steps: impl Iterator<Item = Step> + Clone) -> Option<Profile> {
    let seen = |step: &Step| step.bound != Bound::AtMost;
    let strongest = math::largest_by(steps.clone().filter(seen), |step| step.strength)?;
    let peak = strongest.strength;
    let (peaks, deepest) = count_peaks(steps.clone(), peak, 3.0);
    let (high_peaks, _) = count_peaks(steps.clone(), peak, 6.0);
    let (rise, fall) = flanks(steps.clone(), peak);
    Some(Profile {
        steps: steps.clone().count() as u32,
        at: strongest.at,
        peak,
        saturated: steps.clone().any(|step| step.bound == Bound::AtLeast),
        width_6: width(steps.clone(), peak - 6.0)?,
        width_3: width(steps, peak - 3.0)?,
        rise,
        fall,
        peaks,
        high_peaks,
        deepest,
    })
}

/// The travel at which the straight line between two steps meets a threshold that lies between them.
fn crossing(one: Step, other: Step, threshold: f32) -> f32 {
    let rise = other.strength - one.strength;
    let part = if rise == 0.0 { 0.5 } else { (threshold - one.strength) / rise };
    one.at + (other.at - one.at) * part
}

/// The outermost crossings of a threshold; none when no step reaches it.
fn width(steps: impl Iterator<Item = Step>, threshold: f32) -> Option<Width> {
    let mut found: Option<Width> = None;
    let mut last: Option<Step> = None;
    for step in steps {
        let inside = step.strength >= threshold && step.bound != Bound::AtMost;
        match (&mut found, inside) {
            (None, true) => {
                let start = last.map_or(step.at, |last| crossing(last, step, threshold));
                let open_start = last.is_none();
                found = Some(Width { start, end: step.at, open_start, open_end: true });
            }
            (Some(width), true) => (width.end, width.open_end) = (step.at, true),
            (Some(width), false) => {
                if let Some(last) = last.filter(|last| width.open_end && last.at == width.end) {
                    // A step not seen may lie as low as one likes: its limit gives the longer width.
                    let end =
                        if step.strength < threshold { crossing(last, step, threshold) } else { step.at };
                    (width.end, width.open_end) = (end, false);
                }
            }
            (None, false) => {}
        }
        last = Some(step);
    }
    found
}

/// Rates of rise and fall between peak − 12 dB, or the lowest step of that flank under peak − 9 dB, and peak − 3 dB.
fn flanks(steps: impl Iterator<Item = Step> + Clone, peak: f32) -> (Option<f32>, Option<f32>) {
    let rate = |low: Option<Width>, high: Option<Width>, below: f32, rising: bool| {
        let (low, high) = (low?, high?);
        let open = if rising { low.open_start } else { low.open_end };
        let run = if rising { high.start - low.start } else { low.end - high.end };
        (!open && run > 0.0).then(|| below / run)
    };
    let high = width(steps.clone(), peak - 3.0);
    let twelve = width(steps.clone(), peak - 12.0);
    let nine = width(steps, peak - 9.0);
    let of = |rising: bool| rate(twelve, high, 9.0, rising).or_else(|| rate(nine, high, 6.0, rising));
    (of(true), of(false))
}

/// Counts the peaks that rise and fall by `swing` and reach within 12 dB of the strongest, and finds the deepest valley
/// between two of them.
fn count_peaks(steps: impl Iterator<Item = Step>, strongest: f32, swing: f32) -> (u32, f32) {
    let floor = strongest - WITHIN;
    let (mut count, mut deepest) = (0u32, 0.0f32);
    // The highest step since the last valley, the lowest since the last peak, and the last peak that counted.
    let (mut high, mut low) = (f32::NEG_INFINITY, f32::INFINITY);
    let (mut rising, mut last_peak) = (true, None::<f32>);
    let mut valley = f32::INFINITY;
    let mut top = |peak: f32, valley: f32| {
        if peak >= floor {
            count = count.saturating_add(1);
            if let Some(last) = last_peak {
                deepest = math::larger(deepest, math::smaller(last, peak) - valley);
            }
            last_peak = Some(peak);
        }
    };
    for step in steps {
        let strength = step.strength;
        if rising {
            high = math::larger(high, strength);
            if strength <= high - swing {
                top(high, valley);
                (rising, low) = (false, strength);
            }
        } else {
            low = math::smaller(low, strength);
            if strength >= low + swing {
                valley = low;
                (rising, high) = (true, strength);
            }
        }
    }
    // A series that ends on a rise ends on a peak.
    if rising {
        top(high, valley);
    }
    (count, deepest)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn series<const N: usize>(strengths: [f32; N]) -> impl Iterator<Item = Step> + Clone {
        strengths.into_iter().enumerate().map(|(at, strength)| Step {
            at: at as f32,
            strength,
            bound: Bound::Exact,
        })
    }

    #[test]
    fn small_ripple_is_one_peak_and_deep_valleys_make_several() {
        let plateau = profile(series([-15.0, -1.0, 0.0, -2.0, 0.0, -1.5, -0.5, -14.0])).unwrap();
        assert_eq!((plateau.peaks, plateau.high_peaks), (1, 1));
        let ragged = profile(series([-15.0, 0.0, -8.0, -1.0, -5.0, -2.0, -20.0])).unwrap();
        assert_eq!((ragged.peaks, ragged.high_peaks), (3, 2));
        assert_eq!(ragged.deepest, 7.0);
    }

    #[test]
    fn a_width_spans_the_valleys_and_knows_its_open_ends() {
        let seen = profile(series([-4.0, 0.0, -9.0, -1.0, -11.0])).unwrap();
        assert!(seen.width_6.open_start && !seen.width_6.open_end);
        assert_eq!(seen.width_6.end, 3.5);
    }

    #[test]
    fn flanks_are_rates_and_unknown_where_the_series_was_cut() {
        let seen = profile(series([-24.0, -12.0, 0.0, -3.0])).unwrap();
        assert_eq!(seen.rise, Some(12.0));
        assert_eq!(seen.fall, None);
    }

    #[test]
    fn a_flank_that_falls_by_9_decibels_only_is_told_from_there() {
        // 6 dB from 0.1 to 0.7 of a step, either way.
        let seen = profile(series([-10.0, 0.0, -10.0])).unwrap();
        assert!(
            [seen.rise, seen.fall].into_iter().all(|rate| (rate.unwrap() - 10.0).abs() < 1e-4),
            "{seen:?}"
        );
        assert_eq!(profile(series([-8.0, 0.0, -8.0])).unwrap().rise, None);
    }

    #[test]
    fn a_rise_between_two_steps_at_one_place_has_no_rate() {
        let steps = [(0.0, -20.0), (0.0, 0.0), (1.0, -20.0)];
        let steps = steps.map(|(at, strength)| Step { at, strength, bound: Bound::Exact });
        let seen = profile(steps.into_iter()).unwrap();
        assert_eq!(seen.rise, None);
        assert!((seen.fall.unwrap() - 20.0).abs() < 1e-4);
    }

    #[test]
    fn a_width_reaches_as_far_as_a_step_that_may_be_as_strong_as_its_limit() {
        let at_most = |at: f32, strength: f32| Step { at, strength, bound: Bound::AtMost };
        let seen = profile(series([0.0, -6.0]).chain([at_most(2.0, -6.0)])).unwrap();
        assert_eq!((seen.width_6.end, seen.width_6.open_end), (2.0, false));
        let seen = profile(series([0.0, -4.0]).chain([at_most(2.0, -8.0)])).unwrap();
        assert_eq!(seen.width_6.end, 1.5);
    }

    #[test]
    fn a_series_left_the_screen_where_one_of_its_steps_is_at_least_so_strong() {
        let over = Step { at: 2.0, strength: -2.0, bound: Bound::AtLeast };
        assert!(!profile(series([-9.0, 0.0])).unwrap().saturated);
        assert!(profile(series([-9.0, 0.0]).chain([over])).unwrap().saturated);
    }

    #[test]
    fn what_was_not_seen_is_no_peak() {
        let unseen = Step { at: 0.0, strength: -10.0, bound: Bound::AtMost };
        assert_eq!(profile([unseen].into_iter()), None);
    }
}
