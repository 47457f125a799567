//! What the findings look at: the settings in force and the readings, borrowed.

use super::log::{self, entries, observations, taker};
use super::pool::{self, Readings, ReadingsOf, Span};
use super::pooled::Slot;
use super::settings::Common;
use super::{Observed, Pooled, ProbeState};
use crate::acceptance::technique::Technique;
use crate::math;
use crate::part::locate::Budget;
use crate::record::entry::{Calibrated, Entry, Name, Shots, Text};

/// A borrowed view of an examination of any capacity.
#[derive(Clone, Copy)]
pub struct Facts<'a> {
    common: &'a Common,
    probes: &'a [ProbeState],
    readings: &'a [Slot],
    links: &'a [u32],
    indications: &'a [Name],
    spans: &'a [Span],
    log: &'a [u8],
}

impl<'a> Facts<'a> {
    pub(super) const fn new(
        common: &'a Common,
        probes: &'a [ProbeState],
        readings: &'a [Slot],
        links: &'a [u32],
        indications: &'a [Name],
        spans: &'a [Span],
        log: &'a [u8],
    ) -> Self {
        Self { common, probes, readings, links, indications, spans, log }
    }

    /// What is in force apart from the probes.
    #[must_use]
    pub const fn common(&self) -> &'a Common {
        self.common
    }

    /// What an accept asks for: that of the technique sheet in force, or the built-in minimum.
    #[must_use]
    pub const fn technique(&self) -> &'a Technique {
        &self.common.technique
    }

    /// The probes, in the order of their first appearance.
    #[must_use]
    pub const fn probes(&self) -> &'a [ProbeState] {
        self.probes
    }

    /// A probe by its place.
    #[must_use]
    pub fn probe(&self, place: u8) -> Option<&'a ProbeState> {
        self.probes.get(usize::from(place))
    }

    /// The names of the indications, in the order of their first appearance; one keeps its place when its readings are
    /// voided.
    #[must_use]
    pub const fn indications(&self) -> &'a [Name] {
        self.indications
    }

    /// The places of the indications that have a reading in force.
    pub fn seen(&self) -> impl Iterator<Item = u8> + Clone + use<'a> {
        let facts = *self;
        let places = (0..=u8::MAX).take(self.indications.len());
        places.filter(move |place| facts.readings_of(*place).next().is_some())
    }

    /// An indication's place by its name.
    #[must_use]
    pub fn indication(&self, name: &str) -> Option<u8> {
        self.indications.iter().position(|known| known == name).and_then(|place| u8::try_from(place).ok())
    }

    /// An indication's name by its place; nothing where there is none.
    #[must_use]
    pub fn name(&self, indication: u8) -> &'a str {
        self.indications.get(usize::from(indication)).map_or("", Name::as_str)
    }

    /// The readings in force.
    pub fn readings(&self) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
        Readings::new(self.readings).filter(|reading| !reading.is_void())
    }

    /// The reading recorded last, in force or not.
    #[must_use]
    pub fn last_reading(&self) -> Option<Pooled<'a>> {
        pool::last(self.readings)
    }

    /// The readings in force of one indication.
    pub fn readings_of(&self, indication: u8) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
        let span = self.spans.get(usize::from(indication)).copied();
        ReadingsOf::new(self.readings, self.links, span, indication)
    }

    /// What the examiner saw of an indication: every `observe` line in force, a later one over an earlier.
    #[must_use]
    pub fn observed(&self, indication: u8) -> Observed {
        let mut observed = Observed::default();
        let Some(name) = self.indications.get(usize::from(indication)) else { return observed };
        for (_, _, line) in observations(self.log, name).filter(|(_, voided, _)| !voided) {
            observed.add(&line);
        }
        observed
    }

    /// Tells every entry in force that is no reading, with its number.
    pub(crate) fn each_but_readings(&self, mut tell: impl FnMut(u32, &Entry)) {
        for (number, voided, entry) in entries(self.log) {
            if !voided {
                tell(number, &entry);
            }
        }
    }

    /// Tells every voided entry that is no reading, with its number.
    pub(crate) fn each_voided(&self, mut tell: impl FnMut(u32, &Entry)) {
        for (number, voided, entry) in entries(self.log) {
            if voided {
                tell(number, &entry);
            }
        }
    }

    /// The readings that were voided.
    pub(crate) fn voided_readings(&self) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
        Readings::new(self.readings).filter(|reading| reading.is_void())
    }

    /// The entry that took out another; `place` is left for the next search.
    pub(crate) fn taker(&self, number: u32, place: &mut usize) -> Option<u32> {
        taker(self.log, number, place).map(|(by, _)| by)
    }

    /// The reason that an entry gives for taking out another.
    pub(crate) fn void_reason(&self, by: u32) -> Option<Text> {
        log::reason(self.log, by)
    }

    /// The last entry in force that calibrates a probe - its angle, time base, reference points or transfer - where one that
    /// did so before a reading was voided and the last one was recorded after it.
    pub(crate) fn calibrated_anew(&self, state: &ProbeState, reading: u32) -> Option<u32> {
        let (mut replaced, mut last) = (false, 0);
        for (number, voided, entry) in entries(self.log) {
            let calibrates =
                matches!(entry, Entry::Angle(_) | Entry::Timebase(_) | Entry::Dac(_) | Entry::Transfer(_));
            if calibrates && entry.probe() == Some(state.name()) {
                replaced |= voided && number < reading;
                last = if voided { last } else { number };
            }
        }
        (replaced && last > reading).then_some(last)
    }

    /// The longest path that shots of a probe's transfer correction tell of on block and part alike, mm; none of a fixed
    /// correction, which was given for all paths.
    #[must_use]
    #[inline(never)]
    pub fn transfer_up_to(&self, probe: &ProbeState) -> Option<f32> {
        probe.transfer()?;
        // There is one in force, and it alone is not voided.
        for (_, voided, entry) in entries(self.log) {
            if let (false, Entry::Transfer(transfer)) = (voided, entry)
                && transfer.probe == *probe.name()
            {
                let Shots::Lines { block, part } = transfer.how else { return None };
                let longest = |shots: &[Calibrated]| {
                    shots.iter().map(|(path, _)| path.quantity().get()).fold(0.0, math::larger)
                };
                return Some(math::smaller(longest(&block), longest(&part)));
            }
        }
        None
    }

    /// The uncertainty budget for a probe: the velocity's half width becomes relative to its time base's velocity, or
    /// to the material's shear velocity when it has none. Without either it counts for nothing, which a caution tells.
    #[must_use]
    pub fn budget(&self, probe: &ProbeState) -> Budget {
        let mut budget = self.common.budget;
        let of_timebase = probe.timebase().map(|fit| fit.base().velocity.get());
        let of_material = self.common.material.as_ref().map(|(_, material)| material.shear().get());
        if let Some(velocity) = of_timebase.or(of_material) {
            budget.velocity = self.common.velocity / velocity;
        }
        budget
    }
}
