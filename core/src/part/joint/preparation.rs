//! How the plate edges were prepared for welding.

use core::fmt;

/// The nine preparations of a butt weld.
///
/// Single preparations open toward the scanned face and have their root at the far one; double ones have it at
/// mid-thickness and are the same from both faces. V and U preparations are the same on both sides; bevel and J
/// preparations have one upright face.
///
/// ```
/// use halfskip::part::joint::Preparation;
/// assert_eq!(Preparation::from_word("double-j"), Some(Preparation::DoubleJ));
/// assert_eq!(Preparation::DoubleJ.word(), "double-j");
/// assert_eq!(Preparation::from_word("treble-j"), None);
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Preparation {
    /// Both faces upright.
    Square,
    /// Bevelled on both sides from the scanned face.
    SingleV,
    /// Bevelled on both sides from both faces.
    DoubleV,
    /// Bevelled on one side from the scanned face.
    SingleBevel,
    /// Bevelled on one side from both faces.
    DoubleBevel,
    /// As the single V, with a radius at the root.
    SingleU,
    /// As the double V, with a radius at the root.
    DoubleU,
    /// As the single bevel, with a radius at the root.
    SingleJ,
    /// As the double bevel, with a radius at the root.
    DoubleJ,
}

impl Preparation {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Square,
        Self::SingleV,
        Self::DoubleV,
        Self::SingleBevel,
        Self::DoubleBevel,
        Self::SingleU,
        Self::DoubleU,
        Self::SingleJ,
        Self::DoubleJ,
    ];

    /// The word of the trade.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::SingleV => "single-v",
            Self::DoubleV => "double-v",
            Self::SingleBevel => "single-bevel",
            Self::DoubleBevel => "double-bevel",
            Self::SingleU => "single-u",
            Self::DoubleU => "double-u",
            Self::SingleJ => "single-j",
            Self::DoubleJ => "double-j",
        }
    }

    /// The preparation of that word; `None` for any other.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }

    /// Prepared from both faces, with the root at mid-thickness.
    #[must_use]
    pub const fn is_double(self) -> bool {
        matches!(self, Self::DoubleV | Self::DoubleBevel | Self::DoubleU | Self::DoubleJ)
    }

    /// With a radius at the root.
    #[must_use]
    pub const fn has_radius(self) -> bool {
        matches!(self, Self::SingleU | Self::DoubleU | Self::SingleJ | Self::DoubleJ)
    }

    /// The same on both sides of the centreline.
    #[must_use]
    pub const fn is_symmetric(self) -> bool {
        !matches!(self, Self::SingleBevel | Self::DoubleBevel | Self::SingleJ | Self::DoubleJ)
    }
}

impl fmt::Display for Preparation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
