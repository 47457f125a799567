//! A time in microseconds; echoes are timed there and back.

use super::quantity;

quantity! {
    /// A time in microseconds; echoes are timed there and back.
    ///
    /// ```
    /// use halfskip::units::Microseconds;
    /// assert_eq!(Microseconds::new(17.31).unwrap().get(), 17.31);
    /// assert!(Microseconds::new(f32::NAN).is_err());
    /// ```
    Microseconds, "time", "us", -10_000.0, 10_000.0
}
