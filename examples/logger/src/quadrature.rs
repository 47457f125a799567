//! Counts of an incremental encoder with two tracks a quarter of a period apart.
//!
//! The tracks A and B make a cycle of four states, in which one bit changes at a time:
//!
//! ```text
//! forward   AB 00 -> 10 -> 11 -> 01 -> 00      one count a step
//! ```
//!
//! | counts since the last sample | looks like | |
//! | --- | --- | --- |
//! | 0, 1 | 0, 1 | counted |
//! | 2 | both tracks changed | told as missed, the direction is not known |
//! | 3 | 1 the other way | wrong, and nothing in the tracks says so |
//! | 4 | 0 | the same |
//!
//! So a counter has to know when it was not sampled. What holds sampling up - a flash memory that is erased with the
//! interrupts off takes tens of milliseconds - declares a [`gap`](Quadrature::gap), or samples with the time
//! ([`sample_at`](Quadrature::sample_at)) and lets the counter find it. A counter in hardware has no gaps.

/// Counts were missed, or may have been, and the position is no longer known.
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
    /// When the tracks were last sampled with the time, and how old that may become, microseconds.
    sampled: Option<u32>,
    largest_age: u32,
}

impl Quadrature {
    /// A counter at 0, with the tracks as they are now; every edge that comes has to be sampled.
    #[must_use]
    pub const fn starting(tracks: (bool, bool)) -> Self {
        Self { tracks, count: 0, missed: false, sampled: None, largest_age: 0 }
    }

    /// A counter that a timer samples with the time: `largest_age`, in microseconds, is how old the last sample may be
    /// when the next one comes. At most two counts may come in it, however fast the probe is moved: 8 counts a
    /// millimetre at 250 mm/s come every 500 us, so that it is 1000 us at most.
    ///
    /// ```
    /// use halfskip_logger::{Missed, Quadrature};
    /// let mut counter = Quadrature::polled((false, false), 1000);
    /// counter.sample_at(0, (false, false));
    /// counter.sample_at(500, (true, false));
    /// assert_eq!(counter.count(), Ok(1));
    /// // Four counts came while a memory was erased: the tracks are the same, and the time tells.
    /// counter.sample_at(45_500, (true, false));
    /// assert_eq!(counter.count(), Err(Missed));
    /// ```
    #[must_use]
    pub const fn polled(tracks: (bool, bool), largest_age: u32) -> Self {
        Self { largest_age, ..Self::starting(tracks) }
    }

    /// Takes the tracks as they are at a time in microseconds, of a clock that may begin again at 0. A sample that
    /// comes too late is a gap.
    pub const fn sample_at(&mut self, now: u32, tracks: (bool, bool)) {
        if let Some(before) = self.sampled
            && now.wrapping_sub(before) > self.largest_age
        {
            self.gap();
        }
        self.sampled = Some(now);
        self.sample(tracks);
    }

    /// For some time the tracks were not sampled, or may not have been: whatever they are next, the position is not
    /// known.
    pub const fn gap(&mut self) {
        self.missed = true;
    }

    /// Takes the tracks as they are now; to be called on each edge, or more often than counts can come.
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

    /// Turns by 2000 edges while something else has the processor for 45 ms, as a sector is erased; `told` is what the
    /// counter hears of it.
    fn held_up(
        edge_us: u32,
        mut counter: Quadrature,
        told: impl Fn(&mut Quadrature, u32, bool, (bool, bool)),
    ) -> Quadrature {
        for edge in 1..=2000 {
            let now = edge * edge_us;
            let busy = (20_000..65_000).contains(&now);
            told(&mut counter, now, busy, FORWARD[(edge as usize - 1) % 4]);
        }
        counter
    }

    #[test]
    fn counts_lost_while_a_memory_is_erased_are_told_at_any_speed() {
        for edge_us in [5000, 1000, 300, 100, 50] {
            let start = Quadrature::starting((false, false));
            let silent = held_up(edge_us, start, |counter, _, busy, tracks| {
                if !busy {
                    counter.sample(tracks);
                }
            });
            // What the tracks alone say: too few, and most of the time nothing tells.
            assert_ne!(silent.count(), Ok(2000), "{edge_us}");
            let declared = held_up(
                edge_us,
                start,
                |counter, _, busy, tracks| {
                    if busy { counter.gap() } else { counter.sample(tracks) }
                },
            );
            assert_eq!(declared.count(), Err(Missed), "{edge_us}");
            let polled = Quadrature::polled((false, false), 2 * edge_us);
            let timed = held_up(edge_us, polled, |counter, now, busy, tracks| {
                if !busy {
                    counter.sample_at(now, tracks);
                }
            });
            assert_eq!(timed.count(), Err(Missed), "{edge_us}");
            let never_held_up =
                held_up(edge_us, polled, |counter, now, _, tracks| counter.sample_at(now, tracks));
            assert_eq!(never_held_up.count(), Ok(2000), "{edge_us}");
        }
    }

    #[test]
    fn the_age_of_a_sample_is_right_when_the_clock_begins_again() {
        let mut counter = Quadrature::polled((false, false), 1000);
        counter.sample_at(u32::MAX - 200, (false, false));
        counter.sample_at(700, (true, false));
        assert_eq!(counter.count(), Ok(1));
        counter.sample_at(1701, (true, false));
        assert_eq!(counter.count(), Err(Missed));
        // Set again, it counts on from the last sample.
        counter.set(0);
        counter.sample_at(2700, (true, true));
        assert_eq!(counter.count(), Ok(1));
    }

    #[test]
    fn a_count_that_does_not_fit_is_missed_and_not_wrapped() {
        let mut counter = Quadrature::starting((false, false));
        counter.set(i32::MAX);
        counter.sample((true, false));
        assert_eq!(counter.count(), Err(Missed));
    }
}
