//! A length in millimetres; text may also give inches of 25.4 mm.

use super::Alternative;
use super::quantity;

/// One inch is 25.4 mm exactly.
const INCH: Alternative = Alternative { unit: "in", numerator: 254, power: 1 };

quantity! {
    /// A length in millimetres; text may also give inches of 25.4 mm.
    ///
    /// ```
    /// use halfskip::units::Millimetres;
    /// assert_eq!(Millimetres::new(36.9).unwrap().get(), 36.9);
    /// assert!(Millimetres::new(f32::NAN).is_err());
    /// ```
    Millimetres, "length", "mm", -100_000.0, 100_000.0, INCH
}
