//! Time base: what velocity and which delay turn an echo's time into a sound path.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | t | time of an echo, there and back | us |
//! | s | sound path, one way | mm |
//! | c | velocity in the block | mm/us |
//! | t0 | delay: time spent before the index point (wedge, cable, trigger) | us |
//!
//! `t = t0 + 2 s / c`, so two echoes from known paths give c and t0; more are fitted by least squares of the times,
//! and what the fit leaves over is told in millimetres of path: `c (t − t0) / 2 − s` (common practice, no source
//! \[R7\]).

use core::fmt;

use crate::math;
use crate::math::line::{Line, repeated};
use crate::units::decimal::fixed;
use crate::units::error::{Range, RangeError, comes_from};
use crate::units::limits::{PATH, TIME};
use crate::units::{Microseconds, Millimetres, MillimetresPerMicrosecond};

/// Why echoes give no time base, or a time no path.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum TimeBaseError {
    /// A time base takes two echoes at least.
    TooFew {
        /// How many there are.
        echoes: usize,
    },
    /// Two echoes have the same path.
    EqualPaths {
        /// The path given twice.
        path: Millimetres,
    },
    /// An echo from a longer path does not arrive later than one from a shorter path.
    NotRising {
        /// The longer path.
        path: Millimetres,
        /// Its time.
        time: Microseconds,
    },
    /// The time is not after the delay, so nothing in the part can have returned it.
    BeforeEntry {
        /// The time asked for.
        time: Microseconds,
        /// The delay.
        delay: Microseconds,
    },
    /// A path, a time or a velocity outside its range.
    Range(RangeError),
}

impl fmt::Display for TimeBaseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew { echoes } => write!(f, "{echoes} echoes: a time base takes two or more"),
            Self::EqualPaths { path } => {
                write!(f, "two echoes have the path {} mm", fixed(path.get()))
            }
            Self::NotRising { path, time } => write!(
                f,
                "the echo from {} mm at {} us is not later than one from a shorter path",
                fixed(path.get()),
                fixed(time.get())
            ),
            Self::BeforeEntry { time, delay } => {
                write!(f, "time {} us is not after the delay of {} us", fixed(time.get()), fixed(delay.get()))
            }
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(TimeBaseError: Range(RangeError));

/// Velocity and delay.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct TimeBase {
    /// c, velocity in the part.
    pub velocity: MillimetresPerMicrosecond,
    /// t0, time spent before the index point.
    pub delay: Microseconds,
}

/// A time base fitted to echoes, and how well it fits them.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct TimeBaseFit {
    base: TimeBase,
    largest: Option<Millimetres>,
}

impl TimeBase {
    /// The time base through echoes from known paths, two or more, in any order.
    ///
    /// ```
    /// use halfskip::calibration::timebase::TimeBase;
    /// use halfskip::units::{Microseconds, Millimetres};
    /// let echo = |path, time| (Millimetres::new(path).unwrap(), Microseconds::new(time).unwrap());
    /// // 75 mm in 46.875 us, there and back: 3.2 mm/us; the first 25 mm take 15.625 us.
    /// let fit = TimeBase::fit(&[echo(25.0, 17.625), echo(100.0, 64.5)]).unwrap();
    /// assert_eq!((fit.base().velocity.get(), fit.base().delay.get()), (3.2, 2.0));
    /// assert!(TimeBase::fit(&[echo(25.0, 17.625), echo(100.0, 17.0)]).is_err());
    /// ```
    ///
    /// # Errors
    /// [`TimeBaseError::TooFew`], [`TimeBaseError::EqualPaths`], [`TimeBaseError::NotRising`],
    /// [`TimeBaseError::Range`] for a path outside [`PATH`], a time outside [`TIME`], or a velocity or delay that
    /// cannot be.
    pub fn fit(echoes: &[(Millimetres, Microseconds)]) -> Result<TimeBaseFit, TimeBaseError> {
        for (path, time) in echoes {
            PATH.check(path.get())?;
            TIME.check(time.get())?;
        }
        if let Some(path) = repeated(echoes.iter().map(|(path, _)| path.get())) {
            let path = Millimetres::new(path)?;
            return Err(TimeBaseError::EqualPaths { path });
        }
        let early = |&&(path, time): &&(Millimetres, Microseconds)| {
            echoes.iter().any(|(shorter, later)| *shorter < path && *later >= time)
        };
        if let Some(&(path, time)) = echoes.iter().find(early) {
            return Err(TimeBaseError::NotRising { path, time });
        }
        // In f64: paths and times cancel in the sums, and the residuals are a thousandth of either.
        let points = echoes.iter().map(|(path, time)| (f64::from(path.get()), f64::from(time.get())));
        let line = Line::through(points.clone()).ok_or(TimeBaseError::TooFew { echoes: echoes.len() })?;
        // t = t0 + (2 / c) s
        let velocity = 2.0 / line.slope();
        let base = Self {
            velocity: MillimetresPerMicrosecond::new(velocity as f32)?,
            delay: Microseconds::new(line.at(0.0) as f32)?,
        };
        let left_over = points.map(|(path, time)| (velocity * (time - line.at(path)) / 2.0).abs() as f32);
        let largest = match echoes.len() {
            2 => None,
            _ => Some(Millimetres::new(left_over.fold(0.0, math::larger))?),
        };
        Ok(TimeBaseFit { base, largest })
    }

    /// The sound path of an echo, `s = c (t − t0) / 2`.
    ///
    /// ```
    /// use halfskip::calibration::timebase::TimeBase;
    /// use halfskip::units::{Microseconds, MillimetresPerMicrosecond};
    /// let us = |time| Microseconds::new(time).unwrap();
    /// let base = TimeBase { velocity: MillimetresPerMicrosecond::new(3.2).unwrap(), delay: us(2.0) };
    /// assert_eq!(base.path(us(27.0)).unwrap().get(), 40.0);
    /// assert!(base.path(us(1.5)).is_err());
    /// ```
    ///
    /// # Errors
    /// [`TimeBaseError::BeforeEntry`] for a time that is not after the delay, [`TimeBaseError::Range`] for a path
    /// outside [`PATH`].
    pub fn path(&self, time: Microseconds) -> Result<Millimetres, TimeBaseError> {
        if time <= self.delay {
            return Err(TimeBaseError::BeforeEntry { time, delay: self.delay });
        }
        // s = c (t − t0) / 2
        let path = self.velocity.get() * (time.get() - self.delay.get()) / 2.0;
        Ok(Millimetres::new(PATH.check(path)?)?)
    }

    /// The time of an echo from a sound path, `t = t0 + 2 s / c`.
    ///
    /// # Errors
    /// [`TimeBaseError::Range`] for a path outside [`PATH`] or a time beyond its range.
    pub fn time(&self, path: Millimetres) -> Result<Microseconds, TimeBaseError> {
        // t = t0 + 2 s / c
        let travel = 2.0 * PATH.check(path.get())? / self.velocity.get();
        Ok(Microseconds::new(self.delay.get() + travel)?)
    }

    /// How far the time base shows an echo from where it is known to be, `c (t − t0) / 2 − s`: positive when it
    /// shows too long a path.
    ///
    /// # Errors
    /// [`TimeBaseError`], as [`Self::path`].
    pub fn residual(&self, echo: (Millimetres, Microseconds)) -> Result<Millimetres, TimeBaseError> {
        let (path, time) = echo;
        Ok(Millimetres::new(self.path(time)?.get() - path.get())?)
    }
}

impl TimeBaseFit {
    /// A time base that is stated: no echo tells how well it fits.
    #[must_use]
    pub const fn stated(base: TimeBase) -> Self {
        Self { base, largest: None }
    }

    /// The velocity and delay.
    #[must_use]
    pub const fn base(&self) -> TimeBase {
        self.base
    }

    /// The largest residual without its sign, mm of path; `None` for two echoes, which any line meets, and for none.
    #[must_use]
    pub const fn largest_residual(&self) -> Option<Millimetres> {
        self.largest
    }

    /// Whether every residual keeps within a tolerance; `None` for two echoes or none, which leave nothing to
    /// judge by.
    #[must_use]
    pub fn verdict(&self, tolerance: Millimetres) -> Option<bool> {
        self.largest.map(|largest| largest <= tolerance)
    }
}

/// The path of the `n`-th repeat (0 is the first echo) of a block whose two radii share one centre,
/// `s_n = R1 + n (R1 + R2)`, with the probe facing R1 (derived here; the series of the usual blocks from memory).
///
/// A block of one radius whose echo repeats by itself has R2 = 0.
///
/// ```
/// use halfskip::calibration::timebase::repeat;
/// use halfskip::units::Millimetres;
/// let [r25, r50] = [25.0, 50.0].map(|r| Millimetres::new(r).unwrap());
/// assert_eq!(repeat(r25, r50, 2).unwrap().get(), 175.0);
/// assert_eq!(repeat(r50, r25, 1).unwrap().get(), 125.0);
/// assert!(repeat(Millimetres::new(0.0).unwrap(), r50, 1).is_err());
/// ```
///
/// # Errors
/// [`RangeError`] for a facing radius or a path outside [`PATH`], or a negative other radius.
pub fn repeat(facing: Millimetres, other: Millimetres, n: u8) -> Result<Millimetres, RangeError> {
    let facing = PATH.check(facing.get())?;
    let other = Range { quantity: "other radius", min: 0.0, ..PATH }.check(other.get())?;
    // s_n = R1 + n (R1 + R2)
    Millimetres::new(PATH.check(facing + f32::from(n) * (facing + other))?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn echoes<const N: usize>(pairs: [(f32, f32); N]) -> [(Millimetres, Microseconds); N] {
        pairs.map(|(path, time)| (Millimetres::new(path).unwrap(), Microseconds::new(time).unwrap()))
    }

    #[test]
    fn two_echoes_are_met_and_judge_nothing() {
        let known = echoes([(25.0, 17.31), (100.0, 63.75)]);
        let fit = TimeBase::fit(&known).unwrap();
        for echo in known {
            assert!(fit.base().residual(echo).unwrap().get().abs() < 2e-5);
        }
        assert_eq!(fit.largest_residual(), None);
        assert_eq!(fit.verdict(Millimetres::constant(0.0)), None);
    }

    #[test]
    fn order_of_echoes_changes_no_path() {
        let there = TimeBase::fit(&echoes([(25.0, 17.31), (100.0, 63.75), (175.0, 110.3)])).unwrap();
        let back = TimeBase::fit(&echoes([(175.0, 110.3), (25.0, 17.31), (100.0, 63.75)])).unwrap();
        for time in [17.0, 50.0, 110.0].map(Microseconds::constant) {
            let [a, b] = [there, back].map(|fit| fit.base().path(time).unwrap().get());
            assert!((a - b).abs() <= 1e-6 * a);
        }
    }

    #[test]
    fn one_late_echo_fails_the_fit() {
        // On 3.2 mm/us and 2 us, the middle echo 1 us (1.6 mm) late: two thirds of that stay with it.
        let late = echoes([(25.0, 17.625), (100.0, 65.5), (175.0, 111.375)]);
        let fit = TimeBase::fit(&late).unwrap();
        let largest = fit.largest_residual().unwrap().get();
        assert!((largest - 1.6 * 2.0 / 3.0).abs() < 1e-5);
        assert!((fit.base().residual(late[1]).unwrap().get() - largest).abs() < 2e-5);
        assert_eq!(fit.verdict(Millimetres::constant(1.0)), Some(false));
        assert_eq!(fit.verdict(Millimetres::constant(1.1)), Some(true));
    }

    #[test]
    fn path_and_time_undo_each_other() {
        let fit = TimeBase::fit(&echoes([(25.0, 17.31), (100.0, 63.75)])).unwrap();
        for path in [0.5, 36.9, 410.0].map(Millimetres::constant) {
            let back = fit.base().path(fit.base().time(path).unwrap()).unwrap();
            assert!((back.get() - path.get()).abs() < 1e-6 * (path.get() + 10.0));
        }
    }

    #[test]
    fn echoes_that_fit_no_velocity_are_refused() {
        let few = TimeBase::fit(&echoes([(25.0, 17.0)])).unwrap_err();
        assert_eq!(few, TimeBaseError::TooFew { echoes: 1 });
        let twice = TimeBase::fit(&echoes([(25.0, 17.0), (50.0, 30.0), (25.0, 17.1)])).unwrap_err();
        let path = Millimetres::constant(25.0);
        assert_eq!(twice, TimeBaseError::EqualPaths { path });
        let [(path, time)] = echoes([(50.0, 17.0)]);
        let early = TimeBase::fit(&[(path, time), echoes([(25.0, 17.0)])[0]]).unwrap_err();
        assert_eq!(early, TimeBaseError::NotRising { path, time });
        let slow = TimeBase::fit(&echoes([(25.0, 17.0), (26.0, 2000.0)]));
        assert!(matches!(slow, Err(TimeBaseError::Range(_))));
    }
}
