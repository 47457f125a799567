//! What would meet a ground, in words.

use core::fmt;

use super::Why;
use crate::decimal::fixed;
use crate::examination::Facts;

impl Why {
    /// What would meet the ground, in words; none where nothing can be added.
    #[must_use]
    pub const fn remedy<'a>(&'a self, facts: &'a Facts<'a>) -> Option<impl fmt::Display + 'a> {
        match self {
            Self::NoCheckAfter { .. }
            | Self::NoCheckBefore { .. }
            | Self::NoAngle { .. }
            | Self::NoTransfer { .. }
            | Self::NoReference { .. }
            | Self::HolesMixed { .. }
            | Self::BeyondOnePoint { .. }
            | Self::NearField { .. }
            | Self::PointsApart { .. }
            | Self::AmplitudeOutside { .. }
            | Self::LeftTheScreen { .. }
            | Self::Apart { .. }
            | Self::NotChecked { .. }
            | Self::NoParentMetal
            | Self::NoJoint
            | Self::AngleStated { .. }
            | Self::TransferStated { .. }
            | Self::HolesNotNamed { .. }
            | Self::CheckFailed { .. } => Some(Remedy { why: self, facts }),
            _ => None,
        }
    }
}

struct Remedy<'a> {
    why: &'a Why,
    facts: &'a Facts<'a>,
}

impl fmt::Display for Remedy<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = |place: u8| self.facts.probe(place).map_or("", |state| state.name().as_str());
        match *self.why {
            Why::NoCheckAfter { probe, .. } => {
                write!(f, "a good check of {}, with height and gain, after the last reading", name(probe))
            }
            Why::NoCheckBefore { .. } => f.write_str("readings taken again after a good check"),
            Why::CheckFailed { .. } => f.write_str("the readings taken again between good checks"),
            Why::NoAngle { probe } | Why::AngleStated { probe, .. } => {
                write!(f, "a side-drilled hole peaked with {} (angle)", name(probe))
            }
            Why::NoTransfer { probe } => {
                write!(f, "shots on block and part with {}, or a stated correction (transfer)", name(probe))
            }
            Why::TransferStated { probe, .. } => {
                write!(f, "shots on block and part with {} (transfer)", name(probe))
            }
            Why::NoReference { probe } | Why::HolesMixed { probe } | Why::HolesNotNamed { probe } => {
                write!(f, "reference points of {} that all name one hole (dac hole=)", name(probe))
            }
            Why::BeyondOnePoint { reading, .. }
            | Why::NearField { reading, .. }
            | Why::PointsApart { reading, .. } => {
                write!(f, "a reference point near the path of reading {reading}")
            }
            Why::AmplitudeOutside { reading, from, to, .. } => write!(
                f,
                "reading {reading} taken again at a gain that shows it between {} and {} %",
                fixed(from.get()),
                fixed(to.get())
            ),
            Why::LeftTheScreen { reading } => write!(f, "reading {reading} taken again at less gain"),
            Why::Apart { reading, .. } => {
                write!(f, "a name of its own for reading {reading}, or the readings between")
            }
            Why::NotChecked { .. } => f.write_str("checks of screen and gain control (linearity)"),
            Why::NoParentMetal => f.write_str("what the scan of the parent metal found (detail lamination)"),
            Why::NoJoint => f.write_str("the joint"),
            _ => Ok(()),
        }
    }
}
