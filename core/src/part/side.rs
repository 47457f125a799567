//! Which side of the weld, and which face of the plate.
//!
//! x runs along the weld, y across it with zero on the centreline, z down from the scanned face \[R1\].

/// The side of the weld that the probe stands on.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Side {
    /// y < 0, looking toward +y.
    A,
    /// y > 0, looking toward −y.
    B,
}

impl Side {
    /// Its letter, as a line of text names it.
    #[must_use]
    pub const fn letter(self) -> &'static str {
        match self {
            Self::A => "a",
            Self::B => "b",
        }
    }

    /// The side across the weld.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }

    /// g times a value.
    #[inline]
    #[must_use]
    pub(crate) const fn signed(self, value: f32) -> f32 {
        match self {
            Self::A => value,
            Self::B => -value,
        }
    }

    /// g: +1 on side A, −1 on side B.
    #[must_use]
    pub const fn sign(self) -> f32 {
        match self {
            Self::A => 1.0,
            Self::B => -1.0,
        }
    }
}

/// The face that the probe stands on.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Face {
    /// The scanned face that z is counted from.
    #[default]
    Near,
    /// The opposite face.
    Far,
}

impl Face {
    /// The face across the part.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Near => Self::Far,
            Self::Far => Self::Near,
        }
    }

    /// The near face and the far one.
    #[must_use]
    pub const fn both() -> [Self; 2] {
        [Self::Near, Self::Far]
    }
}
