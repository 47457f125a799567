//! The grounds of an accept, by name, and sets of them.

use core::fmt;

/// One ground of an accept.
///
/// Their order is the order in which unmet ones are named; their names are those of the sheet and of the findings.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Ground {
    /// A good check of the time base before and after the reading.
    RangeCheck,
    /// A good check of the sensitivity before and after the reading.
    SensitivityCheck,
    /// The beam angle and the index point.
    Angle,
    /// The reference that levels are taken from.
    Reference,
    /// The transfer correction.
    Transfer,
    /// The probe can have been where the reading says.
    Reach,
    /// The echo lies in the weld or its heat-affected zone.
    OnWeld,
    /// The thickness of the reading is that of the joint.
    Thickness,
    /// The readings of the indication lie together.
    Together,
    /// The echo was high enough on the screen to be read, and not off its top.
    Amplitude,
    /// The place of the reflector is known.
    Place,
    /// Linearity of the screen and of the gain.
    Linearity,
    /// The parent metal was examined for what hides the weld.
    ParentMetal,
    /// The weld was covered.
    Coverage,
}

impl Ground {
    /// All of them, in their order.
    pub const ALL: [Self; 14] = [
        Self::RangeCheck,
        Self::SensitivityCheck,
        Self::Angle,
        Self::Reference,
        Self::Transfer,
        Self::Reach,
        Self::OnWeld,
        Self::Thickness,
        Self::Together,
        Self::Amplitude,
        Self::Place,
        Self::Linearity,
        Self::ParentMetal,
        Self::Coverage,
    ];

    /// The word of the sheet.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::RangeCheck => "range-check",
            Self::SensitivityCheck => "sensitivity-check",
            Self::Angle => "angle",
            Self::Reference => "reference",
            Self::Transfer => "transfer",
            Self::Reach => "reach",
            Self::OnWeld => "on-weld",
            Self::Thickness => "thickness",
            Self::Together => "together",
            Self::Amplitude => "amplitude",
            Self::Place => "place",
            Self::Linearity => "linearity",
            Self::ParentMetal => "parent-metal",
            Self::Coverage => "coverage",
        }
    }

    /// The ground of a name.
    ///
    /// ```
    /// use halfskip::acceptance::technique::Ground;
    /// assert_eq!(Ground::by_name("on-weld"), Some(Ground::OnWeld));
    /// assert_eq!(Ground::by_name("on weld"), None);
    /// ```
    #[must_use]
    pub fn by_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|ground| ground.name() == name)
    }

    /// Whether somebody's word can meet it. What follows from the readings themselves cannot be stated.
    #[must_use]
    pub(super) const fn can_be_stated(self) -> bool {
        matches!(
            self,
            Self::RangeCheck
                | Self::SensitivityCheck
                | Self::Angle
                | Self::Reference
                | Self::Transfer
                | Self::Linearity
                | Self::ParentMetal
        )
    }

    const fn bit(self) -> u16 {
        1 << self as u16
    }
}

impl fmt::Display for Ground {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A set of grounds.
///
/// ```
/// use halfskip::acceptance::technique::{Ground, Grounds};
/// let grounds = Grounds::EMPTY.with(Ground::Place).with(Ground::Angle);
/// assert!(grounds.contains(Ground::Angle) && !grounds.contains(Ground::Reach));
/// assert_eq!(grounds.without(Ground::Angle), Grounds::from_iter([Ground::Place]));
/// assert_eq!(grounds.to_string(), "angle, place");
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "u16", into = "u16"))]
pub struct Grounds(u16);

/// Bits of a set that no ground has.
#[cfg(feature = "serde")]
const STRAY: u16 = !(Ground::Coverage.bit() * 2 - 1);

impl Grounds {
    /// None of them.
    pub const EMPTY: Self = Self(0);

    /// Whether the ground is among them.
    #[must_use]
    pub const fn contains(self, ground: Ground) -> bool {
        self.0 & ground.bit() != 0
    }

    /// These and one more.
    #[must_use]
    pub const fn with(self, ground: Ground) -> Self {
        Self(self.0 | ground.bit())
    }

    /// These but one.
    #[must_use]
    pub const fn without(self, ground: Ground) -> Self {
        Self(self.0 & !ground.bit())
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Those that the other set has not.
    #[must_use]
    pub const fn but(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// Each of them, in the order of [`Ground::ALL`].
    pub fn iter(self) -> impl Iterator<Item = Ground> + Clone {
        Ground::ALL.into_iter().filter(move |ground| self.contains(*ground))
    }
}

impl FromIterator<Ground> for Grounds {
    fn from_iter<I: IntoIterator<Item = Ground>>(grounds: I) -> Self {
        grounds.into_iter().fold(Self::EMPTY, Self::with)
    }
}

#[cfg(feature = "serde")]
impl TryFrom<u16> for Grounds {
    type Error = &'static str;

    fn try_from(bits: u16) -> Result<Self, &'static str> {
        if bits & STRAY == 0 { Ok(Self(bits)) } else { Err("a ground that is not known") }
    }
}

#[cfg(feature = "serde")]
impl From<Grounds> for u16 {
    fn from(grounds: Grounds) -> Self {
        grounds.0
    }
}

/// Their names, a comma between them.
impl fmt::Display for Grounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut between = "";
        for ground in self.iter() {
            write!(f, "{between}{ground}")?;
            between = ", ";
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_ground_is_found_by_its_own_name_and_kept_by_its_own_bit() {
        for (place, ground) in Ground::ALL.into_iter().enumerate() {
            assert_eq!(ground as usize, place);
            assert_eq!(Ground::by_name(ground.name()), Some(ground));
            let alone = Grounds::EMPTY.with(ground);
            assert!(alone.iter().eq([ground]), "{ground}");
            assert!(alone.without(ground).is_empty());
        }
    }

    #[test]
    fn a_set_keeps_the_order_of_the_grounds_and_not_that_of_the_list() {
        let set = Grounds::from_iter([Ground::Coverage, Ground::Angle, Ground::Coverage, Ground::RangeCheck]);
        assert!(set.iter().eq([Ground::RangeCheck, Ground::Angle, Ground::Coverage]));
        assert!(
            set.but(Grounds::EMPTY.with(Ground::Angle)).iter().eq([Ground::RangeCheck, Ground::Coverage])
        );
    }

    #[test]
    fn what_follows_from_the_readings_cannot_be_stated() {
        use Ground::*;
        let computed = [Reach, OnWeld, Thickness, Together, Amplitude, Place, Coverage];
        for ground in Ground::ALL {
            assert_eq!(ground.can_be_stated(), !computed.contains(&ground), "{ground}");
        }
    }

    #[cfg(feature = "serde")]
    #[test]
    fn a_bit_of_no_ground_is_refused() {
        let all = Grounds::from_iter(Ground::ALL);
        assert_eq!(Grounds::try_from(u16::from(all)), Ok(all));
        assert_eq!(u16::from(all), 0x3fff);
        assert!(Grounds::try_from(0x4000).is_err() && Grounds::try_from(0x8000).is_err());
    }
}
