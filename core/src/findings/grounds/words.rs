//! Grounds in words.

use core::fmt;

use super::super::Aspect;
use super::{GroundFinding, GroundState, Why};
use crate::record::examination::{EventKind, Facts};
use crate::units::decimal::{Fixed, fixed};

impl Aspect {
    /// The word of messages.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Range => "range",
            Self::Sensitivity => "sensitivity",
        }
    }
}

impl GroundFinding {
    /// The reason in words, with the names that the facts hold.
    #[must_use]
    pub const fn says<'a>(&'a self, facts: &'a Facts<'a>) -> impl fmt::Display + 'a {
        Says { ground: self, facts }
    }
}

impl Why {
    /// The reason in words, with the names that the facts hold.
    #[must_use]
    pub const fn says<'a>(&'a self, facts: &'a Facts<'a>) -> impl fmt::Display + 'a {
        Reason { why: self, facts }
    }
}

struct Says<'a> {
    ground: &'a GroundFinding,
    facts: &'a Facts<'a>,
}

impl fmt::Display for Says<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let GroundFinding { ground, state, why, .. } = self.ground;
        Reason { why, facts: self.facts }.fmt(f)?;
        if *state == GroundState::NotMet && why.is_statement() {
            write!(f, "; the technique takes no statement for {ground}")?;
        }
        Ok(())
    }
}

impl Why {
    const fn is_statement(&self) -> bool {
        matches!(
            self,
            Self::AngleStated { .. }
                | Self::HolesNotNamed { .. }
                | Self::CarriedOn { .. }
                | Self::TransferStated { .. }
                | Self::ParentMetalStated
        )
    }
}

struct Reason<'a> {
    why: &'a Why,
    facts: &'a Facts<'a>,
}

/// Minutes as hours and minutes.
struct Hours(u16);

impl fmt::Display for Hours {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (hours, minutes) = (self.0 / 60, self.0 % 60);
        match (hours, minutes) {
            (0, minutes) => write!(f, "{minutes} min"),
            (hours, 0) => write!(f, "{hours} h"),
            (hours, minutes) => write!(f, "{hours} h {minutes} min"),
        }
    }
}

impl Reason<'_> {
    fn probe(&self, place: u8) -> &str {
        self.facts.probe(place).map_or("", |state| state.name().as_str())
    }
}

impl fmt::Display for Reason<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.why {
            Why::Checked(_)
            | Why::CheckFailed { .. }
            | Why::NoCheckBefore { .. }
            | Why::NoCheckAfter { .. }
            | Why::MadeAnew { .. }
            | Why::ChecksApart { .. }
            | Why::ChecksBackwards { .. }
            | Why::ChecksLost => self.checks(f),
            Why::AngleMeasured
            | Why::AngleStated { .. }
            | Why::NoAngle { .. }
            | Why::AngleOff { .. }
            | Why::IndexOff { .. }
            | Why::AngleNotAllowed { .. }
            | Why::FrequencyNotAllowed { .. }
            | Why::OtherVelocity { .. }
            | Why::AngleAtUnknownTemperature { .. } => self.angle(f),
            Why::ReferenceMeasured
            | Why::OneHole
            | Why::HolesNotNamed { .. }
            | Why::CarriedOn { .. }
            | Why::HolesMixed { .. }
            | Why::NoReference { .. }
            | Why::Falls { .. }
            | Why::OffTheLine { .. }
            | Why::PointsApart { .. }
            | Why::BeyondOnePoint { .. }
            | Why::FarBeyond { .. }
            | Why::NearField { .. } => self.reference(f),
            _ => self.others(f),
        }
    }
}

impl Reason<'_> {
    fn checks(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self.why {
            Why::Checked(aspect) => {
                write!(f, "{} checked before and after its readings", aspect.word())
            }
            Why::CheckFailed { check, void: false } => {
                write!(f, "the check of entry {check} is not within its limits")
            }
            Why::CheckFailed { check, .. } => write!(
                f,
                "the check of entry {check} was not within its limits; it was voided, and no good check on the same \
                 calibration followed"
            ),
            Why::NoCheckBefore { aspect, probe, reading } => write!(
                f,
                "no good check or measurement of the {} of {} that day before reading {reading}",
                aspect.word(),
                self.probe(probe)
            ),
            Why::NoCheckAfter { aspect, probe, reading } => {
                let last = self.facts.readings().filter(|other| other.probe() == probe).last();
                let last =
                    last.is_none_or(|last| last.number() == reading || self.facts.common().days.len() < 2);
                write!(f, "no check of the {} of {} after ", aspect.word(), self.probe(probe))?;
                if last { f.write_str("the last reading") } else { write!(f, "reading {reading} on its day") }
            }
            Why::MadeAnew { kind, entry, reading } => write!(
                f,
                "the {} of entry {entry} was made anew after reading {reading}, which is worked out with it",
                match kind {
                    EventKind::Timebase => "time base",
                    EventKind::Angle => "angle",
                    EventKind::Transfer => "transfer correction",
                    _ => "reference",
                }
            ),
            Why::ChecksApart { before, after, minutes, allowed } => write!(
                f,
                "entries {before} and {after} are {} apart, the technique allows {} between checks",
                Hours(minutes),
                Hours(allowed)
            ),
            Why::ChecksBackwards { before, after } => {
                write!(f, "the check of entry {after} has an earlier time than entry {before}")
            }
            _ => f.write_str("there were more checks or days than can be kept"),
        }
    }

    fn angle(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self.why {
            Why::AngleStated { probe, angle } => {
                write!(
                    f,
                    "the angle of {}, {} deg, is stated, not measured",
                    self.probe(probe),
                    fixed(angle.get())
                )
            }
            Why::NoAngle { probe } => {
                write!(f, "the angle of {} was neither measured nor stated", self.probe(probe))
            }
            Why::AngleOff { probe, angle, nominal, within } => write!(
                f,
                "the angle of {}, {} deg, is more than {} deg off the nominal {} deg",
                self.probe(probe),
                Fixed(angle.get(), 1),
                fixed(within.get()),
                fixed(nominal.get())
            ),
            Why::IndexOff { probe, index, within } => write!(
                f,
                "the index point of {} is {} mm off its mark, more than {} mm",
                self.probe(probe),
                Fixed(index.get().abs(), 1),
                fixed(within.get())
            ),
            Why::AngleNotAllowed { probe, nominal } => write!(
                f,
                "{} has an angle of {} deg, which the technique does not name",
                self.probe(probe),
                fixed(nominal.get())
            ),
            Why::FrequencyNotAllowed { probe, frequency } => write!(
                f,
                "{} works at {} MHz, outside the frequencies of the technique",
                self.probe(probe),
                fixed(frequency.get())
            ),
            Why::OtherVelocity { probe } => write!(
                f,
                "the time base of {} runs at another velocity than the material has, by more than 5 %",
                self.probe(probe)
            ),
            Why::AngleAtUnknownTemperature { probe } => write!(
                f,
                "the angle of {} changes with the temperature of its wedge, and was measured at an unknown one",
                self.probe(probe)
            ),
            _ => f.write_str("angle measured"),
        }
    }

    fn reference(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self.why {
            Why::ReferenceMeasured => f.write_str("reference curve measured on one kind of hole"),
            Why::OneHole => f.write_str("one hole is the reference"),
            Why::HolesNotNamed { probe } => {
                write!(f, "the reference points of {} do not say which hole they are of", self.probe(probe))
            }
            Why::CarriedOn { reading } => {
                write!(
                    f,
                    "reading {reading} lies outside the reference points; carried on by the procedure's word"
                )
            }
            Why::HolesMixed { probe } => write!(
                f,
                "some reference points of {} say which hole they are of, others do not",
                self.probe(probe)
            ),
            Why::NoReference { probe } => write!(f, "{} has no reference point", self.probe(probe)),
            Why::Falls { probe, from, to, by } => write!(
                f,
                "the reference curve of {} falls by {} dB from entry {from} to entry {to}: one reflector does not answer \
                 stronger at a longer path",
                self.probe(probe),
                Fixed(by.get(), 1)
            ),
            Why::OffTheLine { probe, entry, by } => write!(
                f,
                "the reference point of entry {entry} ({}) lies {} dB off the line of its neighbours",
                self.probe(probe),
                Fixed(by.get().abs(), 1)
            ),
            Why::PointsApart { reading, from, to } => write!(
                f,
                "reading {reading} lies between the reference points of entries {from} and {to}, whose paths are too far \
                 apart to read a level between"
            ),
            Why::BeyondOnePoint { reading, path } => write!(
                f,
                "reading {reading} lies beyond the only reference point, at {} mm: its level reads low",
                Fixed(path.get(), 1)
            ),
            Why::FarBeyond { reading } => write!(
                f,
                "the path of reading {reading} is over twice the longest of the reference points, or under half of the shortest"
            ),
            Why::NearField { reading, near_field } => write!(
                f,
                "reading {reading} lies in the near field, up to {} mm, away from the only reference point",
                Fixed(near_field.get(), 1)
            ),
            _ => Ok(()),
        }
    }

    fn others(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self.why {
            Why::NoReading => f.write_str("no reading of it is in force"),
            Why::TransferMeasured => f.write_str("transfer correction measured"),
            Why::TransferStated { probe, gain } => write!(
                f,
                "the transfer correction of {}, {} dB, is stated, not measured",
                self.probe(probe),
                fixed(gain.get())
            ),
            Why::NoTransfer { probe } => {
                write!(f, "no transfer correction of {} is recorded", self.probe(probe))
            }
            Why::TransferBeyond { probe, gain, limit } => write!(
                f,
                "the transfer correction of {}, {} dB, is beyond {} dB",
                self.probe(probe),
                Fixed(gain.get(), 1),
                fixed(limit.get())
            ),
            Why::Reached { index_only: false } => f.write_str("the probe could be at each of its readings"),
            Why::Reached { .. } => f.write_str(
                "the index point could be at each of its readings; the probe's front is not recorded, so its body was not \
                 compared",
            ),
            Why::NoJoint => f.write_str("no joint is recorded"),
            Why::SideNotReached { reading } => {
                write!(f, "reading {reading} is from a side that the joint says cannot be reached")
            }
            Why::InTheWay { reading, standoff, least } => write!(
                f,
                "reading {reading}: at a stand-off of {} mm the probe would be on the weld; {} mm clears it",
                fixed(standoff.get()),
                Fixed(least.get(), 1)
            ),
            Why::OnWeld { assumed: false } => f.write_str("its echoes lie in weld or heat-affected zone"),
            Why::OnWeld { .. } => f.write_str(
                "its echoes lie in the weld or 10 mm beside it; no heat-affected zone is recorded",
            ),
            Why::OffWeld { reading, y, edge } => write!(
                f,
                "reading {reading} plots at y {} mm, outside weld and heat-affected zone, which end at {} mm: not an \
                 indication of this weld by what was typed",
                Fixed(y.get(), 1),
                Fixed(edge.get(), 1)
            ),
            Why::Thickness => f.write_str("thickness as the joint's"),
            Why::OtherThickness { reading, thickness, joint } => write!(
                f,
                "reading {reading} has a thickness of {} mm, the joint {} mm",
                fixed(thickness.get()),
                fixed(joint.get())
            ),
            Why::Together => f.write_str("its readings lie together along the weld"),
            Why::Apart { reading, x, gap } => write!(
                f,
                "reading {reading} lies at x {} mm, {} mm from the other readings of its name",
                Fixed(x.get(), 1),
                Fixed(gap.get(), 1)
            ),
            Why::Amplitude => f.write_str("the deciding echo was read within the screen"),
            Why::AmplitudeOutside { reading, shown, from, to } => write!(
                f,
                "reading {reading} was read at {} % of the screen; levels are read between {} and {} %",
                fixed(shown.get()),
                fixed(from.get()),
                fixed(to.get())
            ),
            Why::LeftTheScreen { reading } => write!(f, "reading {reading} left the screen"),
            Why::Implausible { reading, level } => write!(
                f,
                "reading {reading} has a level of {} dB, lower than any echo that could be seen",
                Fixed(level.get(), 1)
            ),
            Why::NoLevel => f.write_str("no reading decides its level"),
            Why::Placed => f.write_str("its place is known"),
            Why::NoPlace => f.write_str("its place is not known"),
            Why::Linear => f.write_str("screen and gain are linear"),
            Why::NotChecked { screen, gain } => {
                let what = match (screen, gain) {
                    (false, false) => "screen and gain control",
                    (false, true) => "screen",
                    _ => "gain control",
                };
                write!(f, "the linearity of the {what} was not checked")
            }
            Why::NotLinear => f.write_str("a linearity check was out of its window"),
            Why::ParentMetalStated => f.write_str("the parent metal is described in words (detail lamination)"),
            Why::NoParentMetal => f.write_str("nothing is recorded of the parent metal"),
            Why::Covered { share, asked, scanned: true } => write!(
                f,
                "{} % of weld and heat-affected zone was crossed by the recorded scans; {} % are asked",
                Fixed(share.get(), 1),
                fixed(asked.get())
            ),
            Why::Covered { share, asked, .. } => write!(
                f,
                "{} % of weld and heat-affected zone can be crossed by the probes, by calculation; {} % are asked of the \
                 recorded scans",
                Fixed(share.get(), 1),
                fixed(asked.get())
            ),
            Why::CoverageLeftOut => f.write_str("coverage is not part of this console"),
            Why::NoCoverage => f.write_str("no coverage can be worked out, or the technique names none"),
            Why::NotAsked => f.write_str("not asked, not worked out"),
            _ => Ok(()),
        }
    }
}
