//! What must hold of every length, whatever the echo looked like. Derived, no published source.

use halfskip::calibration::level::{Bound, Level};
use halfskip::evaluate::sizing::length::{self, Length, LengthError};
use halfskip::evaluate::sizing::series::{Sample, Series};
use halfskip::units::{Decibels, Millimetres};

const DROP: Decibels = Decibels::constant(6.0);
const LEVEL: Decibels = Decibels::constant(-10.0);
const TRACES: u64 = 20_000;

/// A small generator of our own, so that a failure repeats.
struct Chance(u64);

impl Chance {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    /// A trace of 2 to 13 places; levels in half decibels, so that equal ones are common.
    fn trace(&mut self) -> Vec<Sample> {
        let bounds = if self.below(2) == 0 { 1 } else { 8 };
        (0..self.below(12) + 2)
            .map(|place| {
                let bound = match self.below(bounds) {
                    1 => Bound::AtMost,
                    2 => Bound::AtLeast,
                    _ => Bound::Exact,
                };
                let travel = place as f32 * 1.5 + self.below(4) as f32 * 0.25;
                sample(travel, self.below(60) as f32 / 2.0 - 24.0, bound)
            })
            .collect()
    }
}

fn sample(travel: f32, db: f32, bound: Bound) -> Sample {
    Sample {
        travel: Millimetres::new(travel).unwrap(),
        level: Level { db: Decibels::new(db).unwrap(), bound },
    }
}

fn lengths(samples: &[Sample]) -> [Result<Length, LengthError>; 3] {
    let mut series: Series<64> = Series::new();
    for &sample in samples {
        series.insert(sample).unwrap();
    }
    [
        length::by_drop(&series, DROP),
        length::by_end_peaks(&series, DROP, LEVEL),
        length::at_level(&series, LEVEL),
    ]
}

fn each_trace(mut check: impl FnMut(&mut Chance, &[Sample])) {
    let mut chance = Chance(1);
    for _ in 0..TRACES {
        let trace = chance.trace();
        check(&mut chance, &trace);
    }
}

#[test]
fn a_mirrored_trace_has_the_mirrored_length() {
    each_trace(|_, trace| {
        let mirrored: Vec<_> =
            trace.iter().map(|s| sample(-s.travel.get(), s.level.db.get(), s.level.bound)).collect();
        for (here, there) in lengths(trace).into_iter().zip(lengths(&mirrored)) {
            match (here, there) {
                (Ok(here), Ok(there)) => {
                    assert_eq!(here.start.get(), -there.end.get(), "{trace:?}");
                    assert_eq!(here.end.get(), -there.start.get(), "{trace:?}");
                    assert_eq!((here.open_start, here.open_end), (there.open_end, there.open_start));
                    assert_eq!(here.peak.travel.get(), -there.peak.travel.get());
                    assert_eq!(here.peak.level, there.peak.level);
                    assert_eq!(here.length(), there.length());
                }
                (Err(here), Err(there)) => {
                    assert_eq!(core::mem::discriminant(&here), core::mem::discriminant(&there));
                }
                (here, there) => panic!("{here:?} and {there:?} of {trace:?}"),
            }
        }
    });
}

#[test]
fn the_order_of_entry_does_not_matter() {
    each_trace(|chance, trace| {
        let mut shuffled = trace.to_vec();
        for last in (1..shuffled.len()).rev() {
            shuffled.swap(last, chance.below(last as u64 + 1) as usize);
        }
        assert_eq!(lengths(trace), lengths(&shuffled));
    });
}

#[test]
fn samples_far_below_change_no_closed_end() {
    each_trace(|_, trace| {
        if !trace.iter().any(|sample| sample.seen()) {
            return;
        }
        let mut longer = trace.to_vec();
        for place in 1..5 {
            longer.push(sample(-2.0 * place as f32, -200.0, Bound::Exact));
            longer.push(sample(30.0 + place as f32, -200.0, Bound::AtMost));
        }
        for (short, long) in lengths(trace).into_iter().zip(lengths(&longer)) {
            let (Ok(short), Ok(long)) = (short, long) else {
                assert_eq!(short.err(), long.err(), "{trace:?}");
                continue;
            };
            assert_eq!(short.peak, long.peak);
            if !short.open_start {
                assert_eq!(short.start, long.start, "{trace:?}");
            }
            if !short.open_end {
                assert_eq!(short.end, long.end, "{trace:?}");
            }
        }
    });
}

#[test]
fn a_length_holds_its_peak_and_grows_with_the_drop() {
    each_trace(|_, trace| {
        for length in lengths(trace).into_iter().flatten() {
            assert!(length.start <= length.peak.travel && length.peak.travel <= length.end);
        }
        // An end that is open only says how far the echo was surely seen: it may lie within a crossing that is
        // interpolated from a limit.
        if trace.iter().any(|sample| sample.level.bound != Bound::Exact) {
            return;
        }
        let mut series: Series<64> = Series::new();
        for &sample in trace {
            series.insert(sample).unwrap();
        }
        let deeper = length::by_drop(&series, Decibels::constant(12.0));
        if let (Ok(half), Ok(deeper)) = (length::by_drop(&series, DROP), deeper) {
            assert!(deeper.start <= half.start && half.end <= deeper.end, "{trace:?}");
        }
    });
}
