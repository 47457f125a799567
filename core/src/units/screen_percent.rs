//! An echo height in percent of full screen height.

use super::quantity;

quantity! {
    /// An echo height in percent of full screen height.
    ///
    /// ```
    /// use halfskip::units::ScreenPercent;
    /// assert_eq!(ScreenPercent::new(80.0).unwrap().get(), 80.0);
    /// assert!(ScreenPercent::new(f32::NAN).is_err());
    /// ```
    ScreenPercent, "height", "%", 0.0, 1000.0
}
