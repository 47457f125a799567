//! Millimetres a count, from a run over a known distance.
//!
//! | symbol | unit | meaning |
//! | --- | --- | --- |
//! | L | mm | the known distance |
//! | a | mm | its half width |
//! | N | counts | counted over it, negative when the encoder is mounted the other way round |
//! | k | mm | distance of one count |
//!
//! ```text
//! k = L / N        u(k) = |k| sqrt( (a/L)^2 + (1/N)^2 ) / sqrt(3)      x = x0 + k n
//! ```
//!
//! Both inputs are taken as rectangular: the distance within its half width, the count within one count, half a count at
//! either end (GUM, JCGM 100:2008, 4.3.7 and 5.1.2).

use core::fmt;

use halfskip::math;
use halfskip::units::Millimetres;
use halfskip::units::error::RangeError;

/// Counts that a calibration has to have, so that one count is at most half a percent of it (common practice, no
/// source).
const FEWEST: u32 = 200;

/// Why there is no scale, or no position from it.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum ScaleError {
    /// No run over a known distance, or a later one did not bear it out.
    NotCalibrated,
    /// Too few counts to calibrate with.
    TooFew {
        /// How many there were.
        counts: u32,
    },
    /// The known distance is not longer than its half width.
    Distance {
        /// The distance.
        distance: Millimetres,
        /// Its half width.
        half_width: Millimetres,
    },
    /// A second run gives another distance.
    Disagrees {
        /// What it gives.
        measured: f32,
        /// What is known.
        known: Millimetres,
    },
    /// The position is outside what a weld can be long.
    Range(RangeError),
}

impl fmt::Display for ScaleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use halfskip::units::decimal::fixed;
        match self {
            Self::NotCalibrated => f.write_str("the encoder is not calibrated"),
            Self::TooFew { counts } => write!(f, "{counts} counts are too few; {FEWEST} are needed"),
            Self::Distance { distance, half_width } => {
                let (distance, half_width) = (fixed(distance.get()), fixed(half_width.get()));
                write!(f, "a distance of {distance} mm known within {half_width} mm calibrates nothing")
            }
            Self::Disagrees { measured, known } => {
                write!(f, "the run gives {} mm where {} mm are known", fixed(*measured), fixed(known.get()))
            }
            Self::Range(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for ScaleError {}

/// The distance of one count, with its standard uncertainty.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Scale {
    per_count: f32,
    uncertainty: f32,
}

impl Scale {
    /// Calibrates over a known distance.
    ///
    /// # Errors
    /// [`ScaleError::TooFew`], [`ScaleError::Distance`].
    ///
    /// ```
    /// use halfskip::units::Millimetres;
    /// use halfskip_logger::Scale;
    /// let mm = Millimetres::constant;
    /// // 300 mm within 0.3 mm give 2400 counts, backward: the encoder is mounted the other way round.
    /// let scale = Scale::over(mm(300.0), mm(0.3), -2400).unwrap();
    /// assert_eq!(scale.position(mm(10.0), 80).unwrap(), mm(0.0));
    /// assert!(Scale::over(mm(300.0), mm(0.3), 20).is_err());
    /// ```
    pub fn over(distance: Millimetres, half_width: Millimetres, counts: i32) -> Result<Self, ScaleError> {
        let seen = counts.unsigned_abs();
        if seen < FEWEST {
            return Err(ScaleError::TooFew { counts: seen });
        }
        if half_width.get() < 0.0 || distance.get() <= half_width.get() {
            return Err(ScaleError::Distance { distance, half_width });
        }
        // k = L / N
        let per_count = distance.get() / counts as f32;
        // u(k) = |k| sqrt( (a/L)^2 + (1/N)^2 ) / sqrt(3)
        let (of_distance, of_count) = (half_width.get() / distance.get(), 1.0 / counts as f32);
        let relative = math::sqrt((of_distance * of_distance + of_count * of_count) / 3.0).unwrap_or(0.0);
        Ok(Self { per_count, uncertainty: per_count.abs() * relative })
    }

    /// Millimetres a count; negative when the encoder counts backward.
    #[must_use]
    pub const fn per_count(&self) -> f32 {
        self.per_count
    }

    /// Where a count is, from the datum at count 0.
    ///
    /// # Errors
    /// [`ScaleError::Range`].
    pub fn position(&self, datum: Millimetres, count: i32) -> Result<Millimetres, ScaleError> {
        // x = x0 + k n
        Millimetres::new(datum.get() + self.per_count * count as f32).map_err(ScaleError::Range)
    }

    /// Expanded uncertainty (k = 2) of the position at a count: that of the scale, and half a count of the reading.
    #[must_use]
    pub fn expanded(&self, count: i32) -> f32 {
        let (of_scale, of_reading) = (self.uncertainty * count as f32, 0.5 * self.per_count);
        2.0 * math::sqrt(of_scale * of_scale + of_reading * of_reading / 3.0).unwrap_or(0.0)
    }

    /// Holds a second run over a known distance against the scale, before it is relied on.
    ///
    /// # Errors
    /// [`ScaleError::Disagrees`] beyond `tolerance`.
    pub fn check(
        &self,
        distance: Millimetres,
        counts: i32,
        tolerance: Millimetres,
    ) -> Result<(), ScaleError> {
        let measured = self.per_count * counts as f32;
        if (measured - distance.get()).abs() <= tolerance.get() {
            Ok(())
        } else {
            Err(ScaleError::Disagrees { measured, known: distance })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    #[test]
    fn the_uncertainty_is_that_of_the_distance_and_of_the_counts() {
        let scale = Scale::over(mm(300.0), mm(0.3), 2400).unwrap();
        assert_eq!(scale.per_count(), 0.125);
        // At the far end: 300 mm times sqrt( (0.3/300)^2 + (1/2400)^2 ) / sqrt 3, and half of 0.125 mm / sqrt 3.
        let expected = 2.0 * f64::hypot(300.0 * f64::hypot(1e-3, 1.0 / 2400.0), 0.0625) / 3f64.sqrt();
        assert!((f64::from(scale.expanded(2400)) - expected).abs() < 1e-6, "{}", scale.expanded(2400));
    }

    #[test]
    fn a_run_that_slipped_is_found() {
        let scale = Scale::over(mm(300.0), mm(0.3), 2400).unwrap();
        assert_eq!(scale.check(mm(150.0), 1200, mm(1.0)), Ok(()));
        let slipped = ScaleError::Disagrees { measured: 145.0, known: mm(150.0) };
        assert_eq!(scale.check(mm(150.0), 1160, mm(1.0)), Err(slipped));
    }

    #[test]
    fn a_distance_that_calibrates_nothing_is_refused() {
        assert!(matches!(Scale::over(mm(0.2), mm(0.3), 2400), Err(ScaleError::Distance { .. })));
        assert_eq!(Scale::over(mm(300.0), mm(0.3), -199), Err(ScaleError::TooFew { counts: 199 }));
    }
}
