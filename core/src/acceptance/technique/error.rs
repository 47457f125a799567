//! Why a technique sheet is refused.

use core::fmt;

use super::ground::Ground;
use crate::units::decimal::fixed;
use crate::units::error::RangeError;

/// Why a technique sheet is refused.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum TechniqueError {
    /// It asks for nothing.
    AsksNothing,
    /// A text is missing: which one.
    Missing(&'static str),
    /// A text holds control characters: which one.
    Unprintable(&'static str),
    /// A number is out of range; the quantity is the key.
    Range(RangeError),
    /// The lower limit is above the upper one.
    Crossed {
        /// The key of the lower limit.
        from: &'static str,
        /// The lower limit.
        low: f32,
        /// The key of the upper limit.
        to: &'static str,
        /// The upper limit.
        high: f32,
        /// The unit of both.
        unit: &'static str,
    },
    /// A key is about a ground that is not asked.
    NotAsked {
        /// The key.
        key: &'static str,
        /// The ground.
        ground: Ground,
    },
    /// A statement may meet a ground that no statement can meet.
    CannotBeStated(Ground),
}

impl TechniqueError {
    /// The key of the sheet that is at fault.
    ///
    /// ```
    /// use halfskip::acceptance::technique::{Ground, TechniqueError};
    /// assert_eq!(TechniqueError::CannotBeStated(Ground::Place).key(), "stated-ok");
    /// ```
    #[must_use]
    pub const fn key(&self) -> &'static str {
        match self {
            Self::AsksNothing => "asks",
            Self::Missing(key) | Self::Unprintable(key) | Self::NotAsked { key, .. } => key,
            Self::Range(error) => error.quantity,
            Self::Crossed { from, .. } => from,
            Self::CannotBeStated(_) => "stated-ok",
        }
    }
}

impl fmt::Display for TechniqueError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AsksNothing => f.write_str(
                "the technique sheet asks for nothing; a template is filled in from the procedure in force",
            ),
            Self::Missing(text) => write!(f, "the technique sheet has no {text}"),
            Self::Unprintable(text) => write!(f, "the technique sheet's {text} holds control characters"),
            Self::Range(error) => error.fmt(f),
            Self::Crossed { from, low, to, high, unit } => {
                write!(f, "{from} {} {unit} is above {to} {} {unit}", fixed(*low), fixed(*high))
            }
            Self::NotAsked { key: "stated-ok", ground } => {
                write!(f, "stated-ok has {ground}, which asks does not have")
            }
            Self::NotAsked { key, ground } => write!(f, "{key} goes only with {ground} in asks"),
            Self::CannotBeStated(ground) => {
                write!(f, "{ground} follows from the readings and cannot be stated")
            }
        }
    }
}

impl core::error::Error for TechniqueError {}
