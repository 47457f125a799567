//! A gain, a level or a difference of levels, in decibels: 20 log10 of a ratio of echo heights.

use super::quantity;

quantity! {
    /// A gain, a level or a difference of levels, in decibels: 20 log10 of a ratio of echo heights.
    ///
    /// ```
    /// use halfskip::units::Decibels;
    /// assert_eq!(Decibels::new(6.0).unwrap().get(), 6.0);
    /// assert!(Decibels::new(f32::NAN).is_err());
    /// ```
    Decibels, "level", "dB", -300.0, 300.0
}
