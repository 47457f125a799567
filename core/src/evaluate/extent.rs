//! The ends of an indication along the weld, kept once they are found.

use super::reach::{Reach, reach};
use super::{Indication, LengthRule};
use crate::acceptance::criteria::Measured;
use crate::calibration::level::Level;
use crate::part::girth::Girth;
use crate::units::Millimetres;

/// The ends of one indication along the weld, by the rule in force.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Extent {
    /// The indication, by its place.
    pub indication: u8,
    /// Start and end along the weld, or none when it has no length.
    pub ends: Option<(Millimetres, Millimetres)>,
    /// Whether an end is open.
    pub open: bool,
    /// Whether the echo rises again beyond an end.
    pub rises_again: bool,
    /// The girth weld that it lies on, whose datum a group may cross.
    pub around: Option<Girth>,
    /// How far it may go when all that was seen of it is counted; none without ends.
    pub(crate) reach: Option<Reach>,
    /// Its strongest level, if any reading has one.
    pub(crate) level: Option<Level>,
    /// What is known of it as a neighbour: nothing keeps an accept from being passed on, every ground is met.
    pub(crate) proved: Proved,
}

/// What has been found of an indication that its neighbours ask too.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Proved {
    pub sound: bool,
    pub grounded: bool,
    /// What the sheet measures of it, once that was asked.
    pub measure: Option<Measured>,
}

impl Extent {
    pub(super) fn of(indication: Indication<'_>, rule: LengthRule) -> Self {
        let found = reach(indication, rule).ok();
        let length = found.map(|(length, _)| length);
        Self {
            indication: indication.number(),
            reach: found.map(|(_, reach)| reach),
            ends: length.map(|length| (length.start, length.end)),
            open: length.is_some_and(|length| length.is_open()),
            rises_again: length.is_some_and(|length| length.rises_again),
            around: indication.facts().girth(),
            level: indication.level().ok().map(|found| found.level),
            proved: Proved::default(),
        }
    }

    /// The stretch that joins it to neighbours: by its ends alone, or as far as it may go.
    pub(crate) fn stretch(&self, may_go: bool) -> Option<Reach> {
        if may_go { self.reach } else { self.ends.map(|(start, end)| Reach::closed(start, end)) }
    }
}
