//! Where the echo of a moving probe falls under a threshold.
//!
//! ```text
//! x_i, L_i   travel and level of sample i          mm, dB
//! T          threshold: peak − n, or a fixed level dB
//! x_e        end of the length                     mm
//!
//! x_e = x_i + (x_o − x_i) (L_i − T) / (L_i − L_o)  between the last sample i at or above T and the next one o below
//! ```
//!
//! Where a level is only a limit, the longer length stands:
//! - one not seen ('at most') counts as its limit; a limit above the threshold leaves the end open;
//! - one over the screen ('at least') is above a threshold it reaches, and the end lies at the next sample that is
//!   below; a limit under the threshold leaves the end open.

use super::series::Sample;
use crate::calibration::level::Bound;
use crate::units::error::RangeError;
use crate::units::{Decibels, Millimetres};

/// The outermost two of the strongest echoes; nearly always one and the same.
#[derive(Clone, Copy)]
pub(super) struct Peaks {
    pub(super) first: Sample,
    pub(super) last: Sample,
}

/// One end of a length.
pub(super) struct End {
    pub(super) travel: Millimetres,
    pub(super) open: bool,
}

/// The strongest echoes by their numbers; several equally strong ones are all within the length.
pub(super) fn strongest(samples: &[Sample]) -> Option<Peaks> {
    let mut found: Option<Peaks> = None;
    for &sample in samples.iter().filter(|sample| sample.seen()) {
        match &mut found {
            Some(peaks) if sample.level.db == peaks.first.level.db => peaks.last = sample,
            Some(peaks) if sample.level.db < peaks.first.level.db => {}
            _ => {
                found = Some(Peaks { first: sample, last: sample });
            }
        }
    }
    found
}

pub(super) fn over_screen(samples: &[Sample]) -> Option<Millimetres> {
    samples.iter().find(|sample| sample.level.bound == Bound::AtLeast).map(|sample| sample.travel)
}

/// The last peak before the end at which `inward` begins. One over the screen is taken for it whatever follows: how
/// high it stands is unknown.
pub(super) fn end_peak<'a>(inward: impl Iterator<Item = &'a Sample>, floor: Decibels) -> Option<Sample> {
    let mut inward = inward.copied().peekable();
    while let Some(sample) = inward.next() {
        let is_peak = match sample.level.bound {
            Bound::AtLeast => true,
            Bound::AtMost => false,
            Bound::Exact => {
                let falls = inward.peek().is_none_or(|next| match next.level.bound {
                    Bound::AtMost => true,
                    Bound::Exact => next.level.db < sample.level.db,
                    Bound::AtLeast => false,
                });
                sample.level.db >= floor && falls
            }
        };
        if is_peak {
            return Some(sample);
        }
    }
    None
}

pub(super) fn leftward(samples: &[Sample], peak: Sample, threshold: f32) -> Result<End, RangeError> {
    let outward = samples.iter().rev();
    crossing(peak, outward.skip_while(|sample| sample.travel >= peak.travel), threshold)
}

pub(super) fn rightward(samples: &[Sample], peak: Sample, threshold: f32) -> Result<End, RangeError> {
    let outward = samples.iter();
    crossing(peak, outward.skip_while(|sample| sample.travel <= peak.travel), threshold)
}

/// The first crossing of the threshold on the way outward from a peak that is not below it.
fn crossing<'a>(
    peak: Sample,
    outward: impl Iterator<Item = &'a Sample>,
    threshold: f32,
) -> Result<End, RangeError> {
    let mut inner = peak;
    for &outer in outward {
        let level = outer.level.db.get();
        match outer.level.bound {
            Bound::Exact | Bound::AtLeast if level >= threshold => inner = outer,
            Bound::AtMost if level > threshold => break,
            Bound::AtLeast => break,
            Bound::Exact | Bound::AtMost => {
                return Ok(End { travel: interpolated(inner, outer, threshold)?, open: false });
            }
        }
    }
    Ok(End { travel: inner.travel, open: true })
}

/// x_e = x_i + (x_o − x_i) (L_i − T) / (L_i − L_o)
fn interpolated(inner: Sample, outer: Sample, threshold: f32) -> Result<Millimetres, RangeError> {
    let fall = inner.level.db.get() - outer.level.db.get();
    // The true height of an echo over the screen has no limit, and with it the crossing moves out to the next sample.
    let known = inner.level.bound == Bound::Exact && fall > 0.0;
    let part = if known { (inner.level.db.get() - threshold) / fall } else { 1.0 };
    let (from, to) = (inner.travel.get(), outer.travel.get());
    Millimetres::new(from + (to - from) * part)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calibration::level::Level;

    #[test]
    fn of_a_level_top_the_inner_end_is_the_last_peak() {
        let sample = |travel, db| Sample {
            travel: Millimetres::constant(travel),
            level: Level { db: Decibels::constant(db), bound: Bound::Exact },
        };
        let inward = [sample(0.0, -9.0), sample(1.0, -6.0), sample(2.0, -6.0), sample(3.0, -8.0)];
        let floor = Decibels::constant(-20.0);
        assert_eq!(end_peak(inward.iter(), floor).unwrap().travel.get(), 2.0);
    }
}
