//! What readings share that a caution is about, and the cautions that are still open to more of them.

use heapless::Vec;

use super::super::{Suspicion, Undetermined};
use super::{Caution, Entries};
use crate::calibration::curve::{CurveError, How};
use crate::math;
use crate::part::joint::Obstacle;
use crate::part::side::Side;
use crate::record::examination::Facts;

/// Cautions that stay open for more readings at a time.
const OPEN: usize = 12;

/// What readings share.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Shared {
    /// They rest on a calibration found out of tolerance.
    Suspect(Suspicion),
    /// The probe would have been on the weld.
    InTheWay {
        /// The probe, by its place.
        probe: u8,
        /// What is in the way.
        of: Obstacle,
        /// The greatest of the stand-offs, mm.
        standoff: f32,
        /// The least one that clears it, mm.
        least: f32,
    },
    /// The joint says that the side cannot be reached.
    OutOfReach {
        /// The side.
        side: Side,
    },
    /// The echo plots outside weld and heat-affected zone, and its uncertainty.
    OffWeld {
        /// The place farthest from the centreline, mm.
        y: f32,
        /// The end of weld and heat-affected zone on that side, mm.
        edge: f32,
    },
    /// The thickness of its own is another than that of the joint.
    Thickness {
        /// The least of them, mm.
        from: f32,
        /// The greatest of them, mm.
        to: f32,
        /// That of the joint, mm.
        joint: f32,
    },
    /// A corner that the beam meets outside its main lobe.
    OffAxis {
        /// The flattest ray to the corner, degrees.
        from: f32,
        /// The steepest, degrees.
        to: f32,
        /// The beam's axis, degrees.
        axis: f32,
    },
    /// A beam that turned at the far face beyond the step of a counterbore, worked out with the wall at the weld.
    TurnsBeyondStep {
        /// Where it first turned, at the farthest from the centreline, mm.
        turn: f32,
    },
    /// A level that rests on a reference outside the recorded points.
    Extended {
        /// The probe, by its place.
        probe: u8,
        /// How the reference was come by.
        how: How,
    },
    /// Neither path nor place nor level.
    NoPath(Undetermined),
    /// No place.
    NoPlace(Undetermined),
    /// No level.
    NoLevel(Undetermined),
}

impl Shared {
    /// Takes in what another reading has, where it is the same.
    fn takes(&mut self, other: &Self) -> bool {
        match (self, other) {
            (
                Self::InTheWay { probe, of, standoff, least },
                Self::InTheWay { probe: other, of: also, standoff: stood, least: asked },
            ) if (*probe, *of, *least) == (*other, *also, *asked) => {
                *standoff = math::larger(*standoff, *stood);
                true
            }
            (Self::OffWeld { y, edge }, Self::OffWeld { y: other, edge: end }) if *edge == *end => {
                *y = if other.abs() > y.abs() { *other } else { *y };
                true
            }
            (
                Self::Thickness { from, to, joint },
                Self::Thickness { from: least, to: most, joint: other },
            ) if *joint == *other => {
                (*from, *to) = (math::smaller(*from, *least), math::larger(*to, *most));
                true
            }
            (Self::OffAxis { from, to, axis }, Self::OffAxis { from: least, to: most, axis: other })
                if *axis == *other =>
            {
                (*from, *to) = (math::smaller(*from, *least), math::larger(*to, *most));
                true
            }
            (Self::TurnsBeyondStep { turn }, Self::TurnsBeyondStep { turn: other })
                if *turn * *other > 0.0 =>
            {
                *turn = if other.abs() > turn.abs() { *other } else { *turn };
                true
            }
            (Self::NoPlace(why), Self::NoPlace(other))
            | (Self::NoLevel(why), Self::NoLevel(other))
            | (Self::NoPath(why), Self::NoPath(other)) => alike(why, other),
            (one, other) => *one == *other,
        }
    }
}

/// Whether readings lack something for one reason, whatever their own paths are.
fn alike(one: &Undetermined, other: &Undetermined) -> bool {
    use Undetermined::Curve;
    match (one, other) {
        (
            Curve(CurveError::Outside { min, max, .. }),
            Curve(CurveError::Outside { min: from, max: to, .. }),
        ) => (min, max) == (from, to),
        (one, other) => one == other,
    }
}

/// Cautions that more entries may join.
pub(super) struct Open {
    held: Vec<Caution, OPEN>,
}

impl Open {
    pub const fn new() -> Self {
        Self { held: Vec::new() }
    }

    /// Adds a caution of one entry: to one of its kind and reason, else by itself. `before` is the entry before it that
    /// makes one range with it. Where there are too many the oldest is told without waiting for more.
    pub fn add(
        &mut self,
        facts: &Facts<'_>,
        caution: Caution,
        before: Option<u32>,
        tell: &mut impl FnMut(Caution),
    ) {
        if self.held.iter_mut().any(|held| held.takes(facts, &caution, before)) {
            return;
        }
        if let Err(caution) = self.held.push(caution)
            && let Some(oldest) = self.held.first_mut()
        {
            tell(core::mem::replace(oldest, caution));
        }
    }

    /// Tells all that are open.
    pub fn close(&mut self, mut tell: impl FnMut(Caution)) {
        self.held.iter().for_each(|caution| tell(*caution));
        self.held.clear();
    }
}

impl Caution {
    /// Takes in the entry of another caution, where that is of the same kind for the same reason.
    fn takes(&mut self, facts: &Facts<'_>, other: &Self, before: Option<u32>) -> bool {
        let (same, held, entry) = match (self, other) {
            (Self::Readings { readings, shared }, Self::Readings { readings: more, shared: own }) => {
                (shared.takes(own), readings, more.first())
            }
            (Self::Voided { entries, what, by }, Self::Voided { entries: more, what: other, by: taker }) => {
                let same = *what == *other && facts.void_reason(*by) == facts.void_reason(*taker);
                (same, entries, more.first())
            }
            _ => return false,
        };
        if same {
            held.add(entry, before);
        }
        same
    }
}

impl Shared {
    /// The caution of one reading.
    pub(super) const fn by(self, reading: u32) -> Caution {
        Caution::Readings { readings: Entries::of(reading), shared: self }
    }
}
