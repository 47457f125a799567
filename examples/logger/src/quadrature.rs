//! Counts of an incremental encoder with two tracks a quarter of a period apart.
//!
//! The tracks A and B make a cycle of four states, in which one bit changes at a time:
//!
//! ```text
//! forward   AB 00 -> 10 -> 11 -> 01 -> 00      one count a step
//! ```
//!
//! When both bits have changed since the last sample, at least two counts were missed and nobody knows in which
//! direction.

/// Both tracks have changed at once: counts were missed, and the position is no longer known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Missed;

impl core::fmt::Display for Missed {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("counts were missed; set the position again")
    }
}

impl core::error::Error for Missed {}

/// Counts four to a period, up in one direction and down in the other.
///
/// ```
/// use halfskip_logger::{Missed, Quadrature};
/// let mut counter = Quadrature::starting((false, false));
/// for tracks in [(true, false), (true, true), (true, true), (true, false)] {
///     counter.sample(tracks);
/// }
/// assert_eq!(counter.count(), Ok(1));
/// counter.sample((false, true));
/// assert_eq!(counter.count(), Err(Missed));
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Quadrature {
    tracks: (bool, bool),
    count: i32,
    missed: bool,
}

impl Quadrature {
    /// A counter at 0, with the tracks as they are now.
    #[must_use]
    pub const fn starting(tracks: (bool, bool)) -> Self {
        Self { tracks, count: 0, missed: false }
    }

    /// Takes the tracks as they are now; to be called more often than counts can come.
    pub const fn sample(&mut self, tracks: (bool, bool)) {
        let (a, b) = (tracks.0 != self.tracks.0, tracks.1 != self.tracks.1);
        let step = match (a, b) {
            (false, false) => 0,
            // A leads when it becomes unlike B, or B becomes like A.
            (true, false) => {
                if tracks.0 != tracks.1 {
                    1
                } else {
                    -1
                }
            }
            (false, true) => {
                if tracks.0 == tracks.1 {
                    1
                } else {
                    -1
                }
            }
            (true, true) => {
                self.missed = true;
                0
            }
        };
        self.tracks = tracks;
        match self.count.checked_add(step) {
            Some(count) => self.count = count,
            None => self.missed = true,
        }
    }

    /// Sets the count where the position is known: at the datum, or at a mark on the way.
    pub const fn set(&mut self, count: i32) {
        self.count = count;
        self.missed = false;
    }

    /// The count.
    ///
    /// # Errors
    /// [`Missed`] since the count was last set.
    pub const fn count(&self) -> Result<i32, Missed> {
        if self.missed { Err(Missed) } else { Ok(self.count) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FORWARD: [(bool, bool); 4] = [(true, false), (true, true), (false, true), (false, false)];

    #[test]
    fn a_period_is_four_counts_and_the_way_back_takes_them_off() {
        let mut counter = Quadrature::starting((false, false));
        (0..400).for_each(|step| counter.sample(FORWARD[step % 4]));
        assert_eq!(counter.count(), Ok(400));
        (0..150).for_each(|step| counter.sample(FORWARD[(398 - step) % 4]));
        assert_eq!(counter.count(), Ok(250));
    }

    #[test]
    fn a_missed_count_stays_told_until_the_count_is_set() {
        let mut counter = Quadrature::starting((false, false));
        counter.sample((true, true));
        counter.sample((true, false));
        assert_eq!(counter.count(), Err(Missed));
        counter.set(17);
        counter.sample((false, false));
        assert_eq!(counter.count(), Ok(16));
    }

    #[test]
    fn a_count_that_does_not_fit_is_missed_and_not_wrapped() {
        let mut counter = Quadrature::starting((false, false));
        counter.set(i32::MAX);
        counter.sample((true, false));
        assert_eq!(counter.count(), Err(Missed));
    }
}
