//! What the findings look at: the settings in force and the readings, borrowed.

use heapless::VecView;

use super::log::Log;
use super::pool::{self, Readings, ReadingsOf, Span};
use super::pooled::Slot;
use super::settings::Common;
use super::{Observed, Pooled, ProbeState, Room, Settings};
use crate::acceptance::technique::Technique;
use crate::math;
use crate::part::girth::Girth;
use crate::part::locate::Budget;
use crate::record::entry::{Calibrated, Entry, Name, ObserveEntry, Shots, Text};
use crate::units::Millimetres;

/// A borrowed view of an examination of any capacity.
#[derive(Clone, Copy)]
pub struct Facts<'a> {
    pub(super) settings: &'a Settings,
    pub(super) slots: &'a VecView<Slot>,
    pub(super) links: &'a [u32],
    pub(super) indications: &'a VecView<Name>,
    pub(super) spans: &'a [Span],
    pub(super) log: &'a Log,
    pub(super) last: u32,
}

impl<'a> Facts<'a> {
    /// The number of the last entry; 0 of none.
    #[must_use]
    pub const fn last(&self) -> u32 {
        self.last
    }

    /// Entry `number`, and whether it was voided.
    #[must_use]
    pub fn entry(&self, number: u32) -> Option<(Entry, bool)> {
        if let Some(pooled) = pool::find(self.slots, number) {
            let entry = self.unpack(pooled)?;
            return Some((entry, pooled.is_void()));
        }
        self.log.get(number)
    }

    fn unpack(&self, pooled: Pooled<'_>) -> Option<Entry> {
        let indication = self.indications.get(usize::from(pooled.indication()))?.clone();
        let probe = self.probe(pooled.probe())?.name().clone();
        Some(Entry::Reading(pooled.unpack(indication, probe)))
    }

    /// Every entry in order: number, whether voided, entry.
    pub fn entries(&self) -> impl Iterator<Item = (u32, bool, Entry)> + use<'a> {
        let facts = *self;
        let mut settings = facts.log.iter().peekable();
        let mut readings = Readings::new(facts.slots).peekable();
        core::iter::from_fn(move || {
            let reading_first = match (settings.peek(), readings.peek()) {
                (Some((number, ..)), Some(reading)) => reading.number() < *number,
                (None, Some(_)) => true,
                _ => false,
            };
            if !reading_first {
                return settings.next();
            }
            let reading = readings.next()?;
            Some((reading.number(), reading.is_void(), facts.unpack(reading)?))
        })
    }

    /// Every entry that is no reading, in order: number, whether voided, entry.
    pub fn entries_but_readings(&self) -> impl Iterator<Item = (u32, bool, Entry)> + use<'a> {
        self.log.iter()
    }

    /// The next `observe` line of an indication: number, whether voided, line.
    ///
    /// It is sought from `place` on, which is left behind it; a first search begins at 0.
    #[must_use]
    pub fn observation(&self, indication: &str, place: &mut usize) -> Option<(u32, bool, ObserveEntry)> {
        self.log.observation(indication, place)
    }

    /// The entry that took out entry `number`, and its reason.
    ///
    /// It is sought from `place` on, which is left where it was found: where many are asked for in their order, as a list
    /// does, none is walked to from the start. A first search begins at 0.
    #[must_use]
    pub fn voided_by(&self, number: u32, place: &mut usize) -> Option<(u32, Text)> {
        self.log.taker(number, place)
    }

    /// What is used of each capacity.
    #[must_use]
    pub fn room(&self) -> [Room; 4] {
        let room = |what, used, capacity| Room { what, used, capacity };
        [
            room("readings", self.slots.len(), self.slots.capacity()),
            room("indications", self.indications.len(), self.indications.capacity()),
            room("probes", self.settings.probes().len(), self.settings.room()),
            room("bytes of other entries", self.log.used(), self.log.room()),
        ]
    }

    /// What is in force apart from the probes.
    #[must_use]
    pub const fn common(&self) -> &'a Common {
        self.settings.common()
    }

    /// What an accept asks for: that of the technique sheet in force, or the built-in minimum.
    #[must_use]
    pub const fn technique(&self) -> &'a Technique {
        &self.settings.common().technique
    }

    /// The probes, in the order of their first appearance.
    #[must_use]
    pub fn probes(&self) -> &'a [ProbeState] {
        self.settings.probes()
    }

    /// A probe by its place.
    #[must_use]
    pub fn probe(&self, place: u8) -> Option<&'a ProbeState> {
        self.settings.probe(place)
    }

    /// The names of the indications, in the order of their first appearance; one keeps its place when its readings are
    /// voided.
    #[must_use]
    pub fn indications(&self) -> &'a [Name] {
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
        Readings::new(self.slots).filter(|reading| !reading.is_void())
    }

    /// The reading recorded last, in force or not.
    #[must_use]
    pub fn last_reading(&self) -> Option<Pooled<'a>> {
        pool::last(self.slots)
    }

    /// The readings in force of one indication.
    pub fn readings_of(&self, indication: u8) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
        let span = self.spans.get(usize::from(indication)).copied();
        ReadingsOf::new(self.slots, self.links, span, indication)
    }

    /// What the examiner saw of an indication: every `observe` line in force, a later one over an earlier.
    #[must_use]
    pub fn observed(&self, indication: u8) -> Observed {
        let mut observed = Observed::default();
        let Some(name) = self.indications.get(usize::from(indication)) else { return observed };
        for (_, _, line) in self.log.observations(name).filter(|(_, voided, _)| !voided) {
            observed.add(&line);
        }
        observed
    }

    /// Tells every entry in force that is no reading, with its number.
    pub(crate) fn each_but_readings(&self, mut tell: impl FnMut(u32, &Entry)) {
        for (number, voided, entry) in self.log.iter() {
            if !voided {
                tell(number, &entry);
            }
        }
    }

    /// Tells every voided entry that is no reading, with its number.
    pub(crate) fn each_voided(&self, mut tell: impl FnMut(u32, &Entry)) {
        for (number, voided, entry) in self.log.iter() {
            if voided {
                tell(number, &entry);
            }
        }
    }

    /// The readings that were voided.
    pub(crate) fn voided_readings(&self) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
        Readings::new(self.slots).filter(|reading| reading.is_void())
    }

    /// The entry that took out another; `place` is left for the next search.
    pub(crate) fn taker(&self, number: u32, place: &mut usize) -> Option<u32> {
        self.log.taker(number, place).map(|(by, _)| by)
    }

    /// The reason that an entry gives for taking out another.
    pub(crate) fn void_reason(&self, by: u32) -> Option<Text> {
        match self.log.get(by)? {
            (Entry::Void { reason, .. }, _) => Some(reason),
            _ => None,
        }
    }

    /// The last entry in force that calibrates a probe - its angle, time base, reference points or transfer - where one that
    /// did so before a reading was voided and the last one was recorded after it.
    pub(crate) fn calibrated_anew(&self, state: &ProbeState, reading: u32) -> Option<u32> {
        let (mut replaced, mut last) = (false, 0);
        for (number, voided, entry) in self.log.iter() {
            let calibrates =
                matches!(entry, Entry::Angle(_) | Entry::Timebase(_) | Entry::Dac(_) | Entry::Transfer(_));
            if calibrates && entry.probe() == Some(state.name()) {
                replaced |= voided && number < reading;
                last = if voided { last } else { number };
            }
        }
        (replaced && last > reading).then_some(last)
    }

    /// The thickness that holds for a reading: its own, or the joint's; none where neither is known.
    #[must_use]
    pub fn thickness_of(&self, reading: Pooled<'_>) -> Option<Millimetres> {
        reading.thickness().or(self.common().joint.as_ref().map(|(_, joint)| joint.thickness()))
    }

    /// The girth weld that x runs around; none of a joint whose x does not come back to its datum.
    #[must_use]
    pub fn girth(&self) -> Option<Girth> {
        self.common().joint.as_ref().and_then(|(_, joint)| Girth::of(joint))
    }

    /// The longest path that shots of a probe's transfer correction tell of on block and part alike, mm; none of a fixed
    /// correction, which was given for all paths.
    #[must_use]
    #[inline(never)]
    pub fn transfer_up_to(&self, probe: &ProbeState) -> Option<f32> {
        probe.transfer()?;
        // There is one in force, and it alone is not voided.
        for (_, voided, entry) in self.log.iter() {
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

    /// The uncertainty budget for a probe: the velocity's half width becomes relative to the part's velocity, which is that
    /// of its time base where no other is known, or the material's when it has no time base. Without either it counts for
    /// nothing, which a caution tells.
    #[must_use]
    pub fn budget(&self, probe: &ProbeState) -> Budget {
        let common = self.settings.common();
        let mut budget = common.budget;
        let of_timebase = match probe.velocities() {
            Some(velocities) => Some(velocities.part().get()),
            None => probe.timebase().map(|fit| fit.base().velocity.get()),
        };
        let of_material = common.material.as_ref().map(|(_, material)| material.shear().get());
        if let Some(velocity) = of_timebase.or(of_material) {
            budget.velocity = self.settings.common().velocity / velocity;
        }
        budget
    }
}
