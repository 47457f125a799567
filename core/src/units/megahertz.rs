//! A frequency in megahertz.

use super::quantity;

quantity! {
    /// A frequency in megahertz.
    ///
    /// ```
    /// use halfskip::units::Megahertz;
    /// assert_eq!(Megahertz::new(4.0).unwrap().get(), 4.0);
    /// assert!(Megahertz::new(f32::NAN).is_err());
    /// ```
    Megahertz, "frequency", "MHz", 0.1, 100.0
}
