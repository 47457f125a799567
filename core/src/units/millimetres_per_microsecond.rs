//! A velocity of sound in millimetres a microsecond, which is kilometres a second.

use super::Alternative;
use super::quantity;

/// One metre a second is 0.001 mm/us.
const METRES_PER_SECOND: Alternative = Alternative { unit: "m/s", numerator: 1, power: 3 };

quantity! {
    /// A velocity of sound in millimetres a microsecond, which is kilometres a second.
    ///
    /// ```
    /// use halfskip::units::MillimetresPerMicrosecond;
    /// assert_eq!(MillimetresPerMicrosecond::new(3.255).unwrap().get(), 3.255);
    /// assert!(MillimetresPerMicrosecond::new(f32::NAN).is_err());
    /// ```
    MillimetresPerMicrosecond, "velocity", "mm/us", 0.1, 20.0, METRES_PER_SECOND
}
