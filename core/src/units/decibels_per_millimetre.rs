//! Attenuation along the sound path, in decibels a millimetre of path.

use super::quantity;

quantity! {
    /// Attenuation along the sound path, in decibels a millimetre of path.
    ///
    /// ```
    /// use halfskip::units::DecibelsPerMillimetre;
    /// assert_eq!(DecibelsPerMillimetre::new(0.01).unwrap().get(), 0.01);
    /// assert!(DecibelsPerMillimetre::new(f32::NAN).is_err());
    /// ```
    DecibelsPerMillimetre, "attenuation", "dB/mm", 0.0, 10.0
}
