//! An angle in degrees; beam angles are measured from the surface normal.

use super::quantity;

quantity! {
    /// An angle in degrees; beam angles are measured from the surface normal.
    ///
    /// ```
    /// use halfskip::units::Degrees;
    /// assert_eq!(Degrees::new(70.0).unwrap().get(), 70.0);
    /// assert!(Degrees::new(f32::NAN).is_err());
    /// ```
    Degrees, "angle", "deg", -360.0, 360.0
}
