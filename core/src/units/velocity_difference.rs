//! A difference of velocities, such as the half width of what is known of one.

use super::Alternative;
use super::quantity;

/// One metre a second is 0.001 mm/us.
const METRES_PER_SECOND: Alternative = Alternative { unit: "m/s", numerator: 1, power: 3 };

quantity! {
    /// A difference of velocities, in millimetres a microsecond; unlike a velocity it may be nothing.
    ///
    /// ```
    /// use halfskip::units::VelocityDifference;
    /// assert_eq!(VelocityDifference::new(0.03).unwrap().get(), 0.03);
    /// assert!(VelocityDifference::new(f32::NAN).is_err());
    /// ```
    VelocityDifference, "velocity difference", "mm/us", -20.0, 20.0, METRES_PER_SECOND
}
