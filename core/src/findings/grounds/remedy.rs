//! What would meet a ground, in words.

use core::fmt;

use super::Why;
use crate::record::examination::Facts;
use crate::units::decimal::fixed;

impl Why {
    /// What would meet the ground, in words; none where nothing can be added.
    #[must_use]
    pub const fn remedy<'a>(&'a self, facts: &'a Facts<'a>) -> Option<impl fmt::Display + 'a> {
        match self {
            Self::Checked(_)
            | Self::ChecksLost
            | Self::AngleMeasured
            | Self::AngleAtUnknownTemperature { .. }
            | Self::ReferenceMeasured
            | Self::OneHole
            | Self::TransferMeasured
            | Self::Reached { .. }
            | Self::OnWeld { .. }
            | Self::Thickness
            | Self::Together
            | Self::Amplitude
            | Self::Placed
            | Self::Linear
            | Self::ParentMetalStated
            | Self::NoCoverage
            | Self::NotAsked => None,
            _ => Some(Remedy { why: self, facts }),
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
            Why::NoCheckBefore { .. } => f.write_str("the readings taken again after a good check"),
            Why::CheckFailed { .. } => f.write_str("the readings taken again between good checks"),
            Why::MadeAnew { .. } => {
                f.write_str("the readings taken again between good checks on one calibration")
            }
            Why::ChecksApart { .. } => {
                f.write_str("the readings taken again, with checks no farther apart than that")
            }
            Why::ChecksBackwards { before, after } => {
                write!(f, "the times of entries {before} and {after} put right")
            }
            Why::AngleOff { .. } | Why::IndexOff { .. } => {
                f.write_str("the hole peaked again; where that says the same, another probe")
            }
            Why::AngleNotAllowed { .. } | Why::FrequencyNotAllowed { .. } => {
                f.write_str("the readings taken again with a probe that the technique has")
            }
            Why::Falls { from, to, .. } => {
                write!(f, "the reference points of entries {from} and {to} measured again")
            }
            Why::OffTheLine { entry, .. } => write!(f, "the reference point of entry {entry} measured again"),
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
            Why::TransferBeyond { probe, .. } => {
                write!(f, "the shots on block and part taken again with {} (transfer)", name(probe))
            }
            Why::CarriedOn { reading }
            | Why::BeyondOnePoint { reading, .. }
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
            Why::SideNotReached { reading } => {
                write!(f, "the side of reading {reading}, or the reach of the joint, put right")
            }
            Why::InTheWay { reading, .. } => write!(f, "the stand-off of reading {reading} put right"),
            Why::OffWeld { reading, .. } => {
                write!(f, "reading {reading} put right, or taken out where it is no echo of this weld")
            }
            Why::OtherThickness { reading, .. } => {
                write!(f, "the thickness of reading {reading}, or of the joint, put right")
            }
            Why::Implausible { reading, .. } => {
                write!(f, "height and gain of reading {reading} put right")
            }
            Why::NoReading => f.write_str("a reading of it, by a probe in force"),
            Why::NoLevel => f.write_str("a reading that has a level"),
            Why::NoPlace => f.write_str("a peaked reading that has a place"),
            Why::NotLinear => f.write_str("the instrument put right, then everything measured again"),
            Why::Covered { share, asked, scanned: false } if share < asked => {
                f.write_str("a probe, a side or a face that the rest can be crossed from")
            }
            Why::Covered { .. } => f.write_str("movements recorded that cross the rest"),
            Why::NotChecked { .. } => f.write_str("checks of screen and gain control (linearity)"),
            Why::NoParentMetal => f.write_str("what the scan of the parent metal found (detail lamination)"),
            Why::NoJoint => f.write_str("the joint"),
            _ => Ok(()),
        }
    }
}
