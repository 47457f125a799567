//! Cautions of readings in words: the readings, then what they share.

use core::fmt;

use super::super::{Entries, Shared};
use crate::calibration::curve::{CurveError, How};
use crate::findings::Undetermined;
use crate::part::joint::Obstacle;
use crate::record::examination::Facts;
use crate::units::decimal::{Fixed, fixed};

pub(super) struct Told<'a> {
    pub readings: &'a Entries,
    pub shared: &'a Shared,
    pub facts: &'a Facts<'a>,
}

impl Told<'_> {
    /// The word of one reading, or that of several.
    fn pick(&self, one: &'static str, several: &'static str) -> &'static str {
        if self.readings.is_one() { one } else { several }
    }

    fn probe(&self, place: u8) -> &str {
        self.facts.probe(place).map_or("", |state| state.name().as_str())
    }

    fn lacks(&self, what: &str, why: &Undetermined, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, " {} {what}: ", self.pick("has", "have"))?;
        match why {
            Undetermined::Curve(CurveError::Outside { min, max, .. }) if !self.readings.is_one() => write!(
                f,
                "their paths are outside the reference points, which reach from {} to {} mm",
                fixed(min.get()),
                fixed(max.get())
            ),
            why => write!(f, "{why}"),
        }
    }
}

/// "40.1 deg", "40.1 to 45.0 deg".
struct Span(f32, f32, &'static str);

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(from, to, unit) = *self;
        if from == to {
            return write!(f, "{} {unit}", Fixed(from, 1));
        }
        write!(f, "{} to {} {unit}", Fixed(from, 1), Fixed(to, 1))
    }
}

impl fmt::Display for Told<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.readings.of_a("reading"))?;
        match *self.shared {
            Shared::Suspect(suspicion) => write!(f, " {} suspect: {suspicion}", self.pick("is", "are")),
            Shared::InTheWay { probe, of, standoff, least, .. } => {
                if self.readings.is_one() {
                    write!(f, ": at its stand-off of {} mm", fixed(standoff))?;
                } else {
                    f.write_str(": at their stand-offs")?;
                }
                let of = match of {
                    Obstacle::Cap => "on the cap",
                    Obstacle::Bead => "on the bead",
                    Obstacle::Backing => "on the backing bar",
                    Obstacle::Groove => "over the groove",
                };
                write!(f, " probe {} would be {of}; {} mm clears it", self.probe(probe), Fixed(least, 1))
            }
            Shared::OutOfReach { side } => write!(
                f,
                " {} from side {}, which the joint says cannot be reached",
                self.pick("is", "are"),
                side.letter()
            ),
            Shared::OffWeld { y, edge } => write!(
                f,
                " {}{} mm from the centreline, outside weld and heat-affected zone, which end at {} mm: stand-off, side or \
                 path may be wrong, or {} not of this weld",
                self.pick("plots ", "plot up to "),
                Fixed(y.abs(), 1),
                Fixed(edge.abs(), 1),
                self.pick("it is", "they are")
            ),
            Shared::Thickness { from, to, joint } => write!(
                f,
                " {} a thickness of {}, the joint {} mm",
                self.pick("has", "have"),
                Span(from, to, "mm"),
                fixed(joint)
            ),
            Shared::OffAxis { from, to, axis } => write!(
                f,
                ": path and thickness put {} on {} of {}, outside the main lobe about {} deg; {} no corner, or the \
                 thickness another",
                self.pick("its corner", "their corners"),
                self.pick("a ray", "rays"),
                Span(from, to, "deg"),
                Fixed(axis, 1),
                self.pick("it may be", "they may be")
            ),
            Shared::TurnsBeyondStep { turn } => write!(
                f,
                ": the beam first turned {}{} mm from the centreline, beyond the step of the counterbore, where the wall is \
                 thicker than the one {} worked out with",
                self.pick("", "up to "),
                Fixed(turn.abs(), 1),
                self.pick("it was", "they were")
            ),
            Shared::Extended { probe, how } => {
                let way = if how == How::Held { "the end value is held" } else { "the fitted slope is used" };
                let lie = self.pick("lies", "lie");
                write!(f, " {lie} outside the recorded reference points of {}: {way}", self.probe(probe))
            }
            Shared::NoPath(why) => {
                write!(f, " {} undetermined: {why}", self.pick("is", "are"))
            }
            Shared::NoPlace(why) => self.lacks("no place", &why, f),
            Shared::NoLevel(why) => self.lacks("no level", &why, f),
        }
    }
}
