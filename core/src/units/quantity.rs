//! Each quantity of the trade: a checked number with its unit in the name of its type, and its range.

use super::{Alternative, Quantity};
use crate::units::error::{Range, RangeError};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $unit:literal, $min:expr, $max:expr $(, $alternative:expr)?) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
        #[cfg_attr(feature = "defmt", derive(defmt::Format))]
        #[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
        #[cfg_attr(feature = "serde", serde(try_from = "f32", into = "f32"))]
        pub struct $name(f32);

        impl $name {
            /// The quantity's word, unit and limits.
            pub const RANGE: Range =
                Range { quantity: $what, unit: $unit, min: $min, max: $max };

            /// A checked number of the unit.
            ///
            /// # Errors
            /// [`RangeError`](crate::units::error::RangeError) outside [`Self::RANGE`], or for what is no number.
            pub const fn new(value: f32) -> Result<Self, RangeError> {
                match Self::RANGE.check(value) {
                    Ok(value) => Ok(Self(value)),
                    Err(error) => Err(error),
                }
            }

            /// A number known when the program is written; for `const` items, where a wrong one does not compile.
            ///
            /// # Panics
            /// Outside [`Self::RANGE`].
            #[must_use]
            pub const fn constant(value: f32) -> Self {
                match Self::new(value) {
                    Ok(quantity) => quantity,
                    Err(_) => panic!("constant outside its range"),
                }
            }

            /// A number that its formula keeps in [`Self::RANGE`], and off negative zero.
            #[allow(dead_code, reason = "not every quantity is computed so")]
            #[must_use]
            pub(crate) const fn computed(value: f32) -> Self {
                Self(value)
            }

            /// The number of the unit.
            #[must_use]
            pub const fn get(self) -> f32 {
                self.0
            }
        }

        impl Quantity for $name {
            const RANGE: Range = Self::RANGE;
            $(const ALTERNATIVE: Option<Alternative> = Some($alternative);)?

            fn checked(value: f32) -> Result<Self, RangeError> {
                Self::new(value)
            }

            fn number(self) -> f32 {
                self.0
            }

            fn smallest() -> Self {
                Self(Self::RANGE.min)
            }
        }

        impl TryFrom<f32> for $name {
            type Error = RangeError;

            fn try_from(value: f32) -> Result<Self, Self::Error> {
                Self::new(value)
            }
        }

        impl From<$name> for f32 {
            fn from(quantity: $name) -> Self {
                quantity.0
            }
        }
    };
}

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

quantity! {
    /// A part of something in percent, as of a path or of a beam's width; an echo's height is a [`ScreenPercent`].
    ///
    /// ```
    /// use halfskip::units::Percent;
    /// assert_eq!(Percent::new(2.0).unwrap().get(), 2.0);
    /// assert!(Percent::new(f32::NAN).is_err());
    /// ```
    Percent, "part", "%", 0.0, 1000.0
}

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
