//! What stands in the way of a verdict.

use core::fmt;

use super::{GroundFinding, Suspicion, Undetermined};
use crate::acceptance::criteria::Verdict;
use crate::evaluate::{By, Reach};
use crate::record::examination::Facts;
use crate::units::decimal::Fixed;

/// Why an indication is undetermined whatever the sheet says, or why a sheet's accept or record is not passed on.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Blocked {
    /// No thickness is known.
    NoThickness,
    /// The indication has no reading in force.
    NoReading,
    /// A reading has no level, so that it may be the strongest.
    WithoutLevel {
        /// The reading.
        number: u32,
        /// Why.
        reason: Undetermined,
    },
    /// A reading was not seen above a noise that would hide more than the strongest that was.
    MayBeStronger {
        /// The reading.
        number: u32,
    },
    /// No reading of the indication was seen above the noise.
    NeverSeen,
    /// A reading has no place.
    WithoutPlace {
        /// The reading.
        number: u32,
        /// Why.
        reason: Undetermined,
    },
    /// A reading is suspect.
    Suspect {
        /// The reading.
        number: u32,
        /// Why.
        suspicion: Suspicion,
    },
    /// The views of the indication disagree.
    ViewsDisagree {
        /// Weighted sum of squared misfits.
        chi_squared: f32,
        /// Degrees of freedom.
        degrees_of_freedom: u32,
    },
    /// What was read as a corner may be none.
    NoCorner {
        /// The reading.
        number: u32,
        /// The ray to it, degrees, outside the main lobe.
        ray: f32,
    },
    /// A peaked echo lies elsewhere than the others.
    Elsewhere {
        /// The reading.
        number: u32,
    },
    /// Its readings have places and make no one point, as where they are more views than can be held.
    WithoutPoint,
    /// The echo rises again beyond an end of the length, which is therefore not all of it.
    RisesAgain,
    /// The group has more members than can be asked.
    TooManyNeighbours {
        /// How many were.
        asked: u32,
    },
    /// The sheet groups neighbours, and this one has no length.
    NeighbourWithoutLength {
        /// The neighbour, by its place.
        indication: u8,
    },
    /// The sheet groups neighbours, and the indication has no length itself.
    WithoutLength,
    /// An open end may go on as far as a neighbour, and the sheet says another thing of both together.
    MayJoin {
        /// The neighbour, by its place.
        indication: u8,
    },
    /// Another sweep along it reaches beyond the length, and the sheet says another thing of that.
    LongerSweep {
        /// The strongest reading of that sweep.
        number: u32,
        /// The length with that sweep counted, mm.
        length: f32,
        /// Whether it may be more.
        open: bool,
    },
    /// An echo of it as strong as the ends of the length ask for lies beyond them, and the sheet says another thing of
    /// that.
    EchoBeyond {
        /// The reading.
        number: u32,
        /// Where it lies along the weld, mm.
        x: f32,
    },
    /// A ground that the technique asks for is not met.
    NotMet {
        /// What the sheet says.
        verdict: Verdict,
        /// The indication that lacks it, by its place.
        indication: u8,
        /// Whether that is a neighbour in its group.
        neighbour: bool,
        /// The ground.
        ground: GroundFinding,
    },
}

impl Blocked {
    /// What stands in the way in words, with the names that the facts hold.
    #[must_use]
    pub const fn told<'a>(&'a self, facts: &'a Facts<'a>) -> impl fmt::Display + 'a {
        Told { blocked: self, facts }
    }
}

struct Told<'a> {
    blocked: &'a Blocked,
    facts: &'a Facts<'a>,
}

impl fmt::Display for Told<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = |place: &u8| self.facts.name(*place);
        match self.blocked {
            Blocked::NoThickness => f.write_str("no thickness is recorded"),
            Blocked::NoReading => f.write_str("no reading of it is in force"),
            Blocked::WithoutLevel { number, reason } => write!(f, "reading {number} has no level: {reason}"),
            Blocked::MayBeStronger { number } => {
                write!(f, "reading {number} was not seen, but at too little gain to rule out a stronger echo")
            }
            Blocked::NeverSeen => {
                f.write_str("no echo of it was seen: there is nothing that could be accepted")
            }
            Blocked::WithoutPlace { number, reason } => write!(f, "reading {number} has no place: {reason}"),
            Blocked::Suspect { number, suspicion } => write!(f, "reading {number} is suspect: {suspicion}"),
            Blocked::ViewsDisagree { chi_squared, degrees_of_freedom } => write!(
                f,
                "its views disagree (chi-squared {} at {degrees_of_freedom} degree{} of freedom)",
                Fixed(*chi_squared, 1),
                if *degrees_of_freedom == 1 { "" } else { "s" }
            ),
            Blocked::NoCorner { number, ray } => write!(
                f,
                "reading {number} may be no corner: its path makes a ray of {} deg, outside the main lobe",
                Fixed(*ray, 1)
            ),
            Blocked::Elsewhere { number } => {
                write!(f, "reading {number} lies elsewhere than the others, by more than their uncertainty")
            }
            Blocked::WithoutPoint => {
                f.write_str("its readings make no one point, so that nothing tells whether they agree")
            }
            Blocked::RisesAgain => {
                f.write_str("the echo rises again beyond an end of its length, which is not all of it")
            }
            Blocked::TooManyNeighbours { asked } => {
                write!(f, "its group has more members than the {asked} that can be asked")
            }
            Blocked::NeighbourWithoutLength { indication } => {
                write!(f, "the sheet groups neighbours, and indication {} has no length", name(indication))
            }
            Blocked::WithoutLength => f.write_str("the sheet groups neighbours, and it has no length itself"),
            Blocked::MayJoin { indication } => {
                let name = name(indication);
                write!(f, "an open end may reach indication {name}, and the sheet groups neighbours")
            }
            Blocked::LongerSweep { number, length, open } => write!(
                f,
                "another sweep along it, that of reading {number}, {} further: with it the length is {}{} mm",
                if *open { "may go" } else { "goes" },
                if *open { "at least " } else { "" },
                Fixed(*length, 1)
            ),
            Blocked::NotMet { verdict, indication, neighbour, ground } => {
                f.write_str(if *verdict == Verdict::Accept {
                    "would be accepted; "
                } else {
                    "would be recorded; "
                })?;
                if *neighbour {
                    write!(f, "indication {} of its group: ", name(indication))?;
                }
                ground.says(self.facts).fmt(f)
            }
            Blocked::EchoBeyond { number, x } => write!(
                f,
                "reading {number}, as strong as the ends of the length ask for, lies beyond them at x {} mm",
                Fixed(*x, 1)
            ),
        }
    }
}

impl Blocked {
    /// What stands in the way of a verdict that would be another by this reach.
    pub(super) fn by(reach: &Reach) -> Option<Self> {
        Some(match reach.by? {
            By::Sweep(number) => {
                let length = reach.end.get() - reach.start.get();
                Self::LongerSweep { number, length, open: reach.is_open() }
            }
            By::Reading(number, x) => Self::EchoBeyond { number, x: x.get() },
        })
    }
}
