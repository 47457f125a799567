//! The samples of one moving probe: how strong the echo was at each place along the travel.

use core::fmt;

use heapless::Vec;
use heapless::vec::{OwnedVecStorage, VecInner, VecStorage, ViewVecStorage};

use crate::calibration::level::{Bound, Level};
use crate::units::Millimetres;

/// The samples one series holds unless its owner names another capacity.
pub const SAMPLES: usize = 128;

/// One place along the travel and the level of the echo there.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Sample {
    /// Where along the travel, x for a length.
    pub travel: Millimetres,
    /// Level over the reference.
    pub level: Level,
}

impl Sample {
    /// Whether an echo was seen here at all.
    #[must_use]
    pub fn seen(self) -> bool {
        self.level.bound != Bound::AtMost
    }

    /// What two samples of one place say of the strongest echo there.
    ///
    /// One not seen says nothing beside one that was; one over the screen leaves 'at least' the strongest of both.
    fn joined(self, other: Self) -> Self {
        match (self.seen(), other.seen()) {
            (true, false) => return self,
            (false, true) => return other,
            _ => {}
        }
        let (held, offered) = (self.level, other.level);
        let db = if offered.db > held.db { offered.db } else { held.db };
        let bound = if offered.bound == Bound::AtLeast { offered.bound } else { held.bound };
        Self { level: Level { db, bound }, ..self }
    }
}

/// A sample that found no room; the series still holds all it held.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SeriesFull {
    /// The samples a series of this kind holds.
    pub capacity: usize,
}

impl fmt::Display for SeriesFull {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "series is full: it holds {} samples", self.capacity)
    }
}

impl core::error::Error for SeriesFull {}

/// Samples in the order of their travel, whatever the order they were taken in.
///
/// Two samples of one place become one: the strongest echo seen there, 'at least' if any was over the screen.
///
/// ```
/// use halfskip::calibration::level::{Bound, Level};
/// use halfskip::evaluate::sizing::series::{Sample, Series};
/// use halfskip::units::{Decibels, Millimetres};
/// let sample = |x, dB| Sample {
///     travel: Millimetres::constant(x),
///     level: Level { db: Decibels::constant(dB), bound: Bound::Exact },
/// };
/// let mut series: Series<2> = Series::new();
/// series.insert(sample(12.0, 3.0)).unwrap();
/// series.insert(sample(10.0, -4.0)).unwrap();
/// series.insert(sample(12.0, 2.0)).unwrap();
/// assert_eq!(series.samples(), [sample(10.0, -4.0), sample(12.0, 3.0)]);
/// assert_eq!(series.insert(sample(11.0, 0.0)).unwrap_err().capacity, 2);
/// assert_eq!(series.samples().len(), 2);
/// ```
pub struct SeriesIn<S: VecStorage<Sample> + ?Sized> {
    samples: VecInner<Sample, usize, S>,
}

/// A series of at most `N` samples.
pub type Series<const N: usize = SAMPLES> = SeriesIn<OwnedVecStorage<Sample, N>>;

/// A series of any capacity.
pub type SeriesView = SeriesIn<ViewVecStorage<Sample>>;

impl<const N: usize> Series<N> {
    /// No sample yet.
    #[must_use]
    pub const fn new() -> Self {
        Self { samples: Vec::new() }
    }
}

impl<const N: usize> Default for Series<N> {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(feature = "defmt")]
impl<S: VecStorage<Sample> + ?Sized> defmt::Format for SeriesIn<S> {
    fn format(&self, f: defmt::Formatter<'_>) {
        defmt::write!(f, "{=[?]}", self.samples());
    }
}

impl<S: VecStorage<Sample> + ?Sized> SeriesIn<S> {
    /// Lets go of every sample.
    pub fn clear(&mut self) {
        self.samples.clear();
    }

    /// The samples in the order of their travel, each place once.
    #[must_use]
    pub fn samples(&self) -> &[Sample] {
        &self.samples
    }

    /// Takes a sample to its place. In the order of travel this costs the same however long the series is.
    ///
    /// # Errors
    /// [`SeriesFull`] when the place is new and no room is left; nothing held is lost.
    pub fn insert(&mut self, sample: Sample) -> Result<(), SeriesFull> {
        let appended = match self.samples.last() {
            Some(last) => last.travel < sample.travel,
            None => true,
        };
        let place = if appended {
            self.samples.len()
        } else {
            self.samples.partition_point(|held| held.travel < sample.travel)
        };
        if let Some(held) = self.samples.get_mut(place)
            && held.travel == sample.travel
        {
            *held = held.joined(sample);
            return Ok(());
        }
        let full = SeriesFull { capacity: self.samples.capacity() };
        if self.samples.is_full() {
            return Err(full);
        }
        // Each sample behind the place moves on by one.
        let mut carried = sample;
        for held in self.samples.iter_mut().skip(place) {
            core::mem::swap(held, &mut carried);
        }
        self.samples.push(carried).map_err(|_| full)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Decibels;

    fn sample(travel: f32, level: f32, bound: Bound) -> Sample {
        Sample {
            travel: Millimetres::constant(travel),
            level: Level { db: Decibels::constant(level), bound },
        }
    }

    #[test]
    fn the_order_of_entry_does_not_matter() {
        let mut kept = [
            sample(1.0, 3.0, Bound::Exact),
            sample(2.0, -9.0, Bound::AtMost),
            sample(2.0, -8.0, Bound::AtMost),
            sample(3.0, 9.0, Bound::AtLeast),
            sample(3.0, 12.0, Bound::Exact),
            sample(3.0, 14.0, Bound::AtMost),
        ];
        for _ in 0..kept.len() {
            kept.rotate_left(1);
            for reversed in [false, true] {
                let mut series: Series<3> = Series::new();
                for index in 0..kept.len() {
                    let index = if reversed { kept.len() - 1 - index } else { index };
                    series.insert(kept[index]).unwrap();
                }
                assert_eq!(
                    series.samples(),
                    [
                        sample(1.0, 3.0, Bound::Exact),
                        sample(2.0, -8.0, Bound::AtMost),
                        sample(3.0, 12.0, Bound::AtLeast),
                    ]
                );
            }
        }
    }

    #[test]
    fn a_full_series_still_takes_a_stronger_echo_at_a_known_place() {
        let mut series: Series<1> = Series::new();
        series.insert(sample(5.0, 0.0, Bound::Exact)).unwrap();
        assert_eq!(series.insert(sample(6.0, 0.0, Bound::Exact)), Err(SeriesFull { capacity: 1 }));
        series.insert(sample(5.0, 2.0, Bound::Exact)).unwrap();
        assert_eq!(series.samples(), [sample(5.0, 2.0, Bound::Exact)]);
    }
}
