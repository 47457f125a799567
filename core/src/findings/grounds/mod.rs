//! The grounds of an accept: what has to be known before a good word of the sheet is passed on.
//!
//! Each ground has a state, the entries it rests on, and a reason in words. Which grounds are asked for, a
//! [technique sheet](crate::acceptance::technique) says; without one the built-in minimum holds. An accept or a record is passed on
//! only where every ground that is asked for is met, or stated where the technique takes somebody's word. A reject
//! needs none.

mod calibration;
mod reading;
mod reference;
mod remedy;
mod together;
mod why;
mod words;

use super::Aspect;
use crate::acceptance::technique::{Ground, Technique};
use crate::evaluate::Indication;
use crate::record::examination::{Facts, Pooled};
use crate::units::{Degrees, Millimetres};

pub use reading::of_reading;
pub(super) use reading::{off, out_of_place};
pub use reference::reference_fault;
pub use why::Why;

/// What is known of a ground.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum GroundState {
    /// The technique does not ask for it.
    NotAsked,
    /// It was observed or measured.
    Met,
    /// Somebody's word, not a measurement.
    Stated,
    /// It is not met.
    NotMet,
}

impl GroundState {
    /// The word of the findings.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::NotAsked => "not-asked",
            Self::Met => "met",
            Self::Stated => "stated",
            Self::NotMet => "not-met",
        }
    }
}

/// Entries that a ground rests on: the first ones of them.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Basis {
    numbers: [u32; 6],
    more: bool,
}

impl Basis {
    /// Adds an entry, in order and once; of what finds no room only that there is more is kept.
    fn add(&mut self, number: u32) {
        let mut carried = number;
        for held in &mut self.numbers {
            if *held == carried || carried == 0 {
                return;
            }
            if *held == 0 || carried < *held {
                core::mem::swap(held, &mut carried);
            }
        }
        self.more |= carried > 0;
    }

    fn with(mut self, number: u32) -> Self {
        self.add(number);
        self
    }

    fn join(&mut self, other: &Self) {
        other.numbers.iter().for_each(|number| self.add(*number));
        self.more |= other.more;
    }

    /// Whether it rests on more entries than are kept.
    #[must_use]
    pub const fn has_more(&self) -> bool {
        self.more
    }

    /// The entries, in order.
    pub fn iter(&self) -> impl Iterator<Item = u32> + Clone + '_ {
        self.numbers.iter().copied().filter(|number| *number > 0)
    }
}

/// A ground of one indication.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct GroundFinding {
    /// The ground.
    pub ground: Ground,
    /// Its state.
    pub state: GroundState,
    /// The entries it rests on.
    pub entries: Basis,
    /// Why.
    pub why: Why,
}

/// What was found of a ground before it is known whether the technique asks for it.
#[derive(Clone, Copy)]
struct Found {
    state: GroundState,
    entries: Basis,
    why: Why,
}

impl Found {
    fn new(state: GroundState, why: Why) -> Self {
        Self { state, entries: Basis::default(), why }
    }

    fn met(why: Why) -> Self {
        Self::new(GroundState::Met, why)
    }

    fn stated(why: Why) -> Self {
        Self::new(GroundState::Stated, why)
    }

    fn not_met(why: Why) -> Self {
        Self::new(GroundState::NotMet, why)
    }

    fn on(mut self, number: u32) -> Self {
        self.entries.add(number);
        self
    }

    /// The worse of both; where they are alike the first, with the entries of both.
    fn and(&mut self, other: Self) {
        if other.state > self.state {
            *self = other;
        } else if other.state == self.state {
            self.entries.join(&other.entries);
        }
    }
}

impl Indication<'_> {
    /// What is known of one ground.
    #[must_use]
    #[inline(never)]
    pub fn ground(self, ground: Ground) -> GroundFinding {
        let technique = self.facts().technique();
        let asked = technique.asks.contains(ground);
        let mut found = match ground {
            Ground::RangeCheck => calibration::checks(self, Aspect::Range),
            Ground::SensitivityCheck => calibration::checks(self, Aspect::Sensitivity),
            Ground::Angle => calibration::angle(self),
            Ground::Reference => reference::reference(self),
            Ground::Transfer => calibration::transfer(self),
            Ground::Reach => reading::reach(self),
            Ground::OnWeld => reading::on_weld(self),
            Ground::Thickness => reading::thickness(self),
            Ground::Together => together::together(self),
            Ground::Amplitude => reading::amplitude(self),
            Ground::Place => reading::place(self),
            Ground::Linearity => calibration::linearity(self.facts()),
            Ground::ParentMetal => calibration::parent_metal(self.facts()),
            #[cfg(feature = "coverage")]
            Ground::Coverage if asked => reading::coverage(self.facts(), technique),
            #[cfg(not(feature = "coverage"))]
            Ground::Coverage if asked => Found::not_met(Why::CoverageLeftOut),
            Ground::Coverage => Found::met(Why::NotAsked),
        };
        if !asked {
            found.state = GroundState::NotAsked;
        } else if found.state == GroundState::Stated && !technique.stated_ok.contains(ground) {
            found.state = GroundState::NotMet;
        }
        GroundFinding { ground, state: found.state, entries: found.entries, why: found.why }
    }

    /// Every ground, in their order.
    pub fn grounds(self) -> impl Iterator<Item = GroundFinding> {
        Ground::ALL.into_iter().map(move |one| self.ground(one))
    }

    /// The first ground that is asked for and not met.
    #[must_use]
    #[inline(never)]
    pub fn first_unmet(self) -> Option<GroundFinding> {
        let asked = self.facts().technique().asks;
        let mut found = asked.iter().map(|one| self.ground(one));
        found.find(|found| found.state == GroundState::NotMet)
    }
}

/// The probes that an indication was read with, by their places.
fn probes<'a>(indication: Indication<'a>) -> impl Iterator<Item = u8> + use<'a> {
    let places = (0..=u8::MAX).take(indication.facts().probes().len());
    places.filter(move |place| indication.readings().any(|reading| reading.probe() == *place))
}

/// The reading that a sheet's measure comes from.
fn deciding<'a>(indication: Indication<'a>) -> Option<Pooled<'a>> {
    let (_, number, _) = super::measure::measured(indication);
    indication.readings().find(|reading| Some(reading.number()) == number)
}

/// Whether level or place rest on a reading: it was peaked by itself, or it decides.
fn counts(reading: Pooled<'_>, deciding: Option<Pooled<'_>>) -> bool {
    reading.sweep().is_none() || deciding.is_some_and(|deciding| deciding.number() == reading.number())
}

/// The limit of the technique, or the half width of the budget where the technique has none.
fn within(technique: &Technique, facts: &Facts<'_>) -> (Degrees, Millimetres) {
    let budget = &facts.common().budget;
    (technique.angle_within.unwrap_or(budget.angle), technique.index_within.unwrap_or(budget.index))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entries_are_kept_in_order_and_once() {
        let mut basis = Basis::default();
        for number in [40, 22, 40, 7, 31, 50, 60, 60] {
            basis.add(number);
        }
        assert!(!basis.has_more(), "six have room");
        basis.add(70);
        assert!(basis.has_more());
        assert!(basis.iter().eq([7, 22, 31, 40, 50, 60]));
    }

    #[test]
    fn the_worse_state_counts_and_alike_ones_share_their_entries() {
        let mut found = Found::met(Why::Linear).on(3);
        found.and(Found::met(Why::Linear).on(2));
        assert!(found.entries.iter().eq([2, 3]));
        found.and(Found::not_met(Why::NotLinear).on(9));
        found.and(Found::stated(Why::Linear).on(1));
        assert!(found.state == GroundState::NotMet && found.entries.iter().eq([9]));
    }
}
