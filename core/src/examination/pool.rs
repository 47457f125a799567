//! The readings of all indications, packed.

use core::iter::FusedIterator;
use core::slice;

use heapless::Vec;

use super::Refusal;
use super::pooled::{Pooled, Slot};
use crate::entry::ReadingEntry;

/// Room for at most `READINGS` readings, in the order of their numbers; one with long numbers takes the room of two.
#[derive(Clone)]
pub(super) struct Pool<const READINGS: usize> {
    slots: Vec<Slot, READINGS>,
}

impl<const READINGS: usize> Pool<READINGS> {
    pub const fn new() -> Self {
        Self { slots: Vec::new() }
    }

    pub fn push(
        &mut self,
        number: u32,
        indication: u8,
        probe: u8,
        reading: &ReadingEntry,
    ) -> Result<(), Refusal> {
        let full = Refusal::Full { what: "readings", capacity: READINGS as u32 };
        let (first, second) = Slot::pack(number, indication, probe, reading);
        if READINGS.saturating_sub(self.slots.len()) < 1 + usize::from(second.is_some()) {
            return Err(full);
        }
        // There is room for both.
        let _ = self.slots.push(first);
        if let Some(second) = second {
            let _ = self.slots.push(second);
        }
        Ok(())
    }

    /// Whether the longest reading would not find room.
    pub fn is_full(&self) -> bool {
        READINGS.saturating_sub(self.slots.len()) < 2
    }

    pub fn clear(&mut self) {
        self.slots.clear();
    }

    /// How much room is used.
    pub fn used(&self) -> usize {
        self.slots.len()
    }

    pub fn readings(&self) -> Readings<'_> {
        Readings::new(&self.slots)
    }

    pub fn slots(&self) -> &[Slot] {
        &self.slots
    }

    /// The place of a reading's first slot.
    fn at(&self, number: u32) -> Option<usize> {
        let at = self.slots.partition_point(|slot| slot.number() < number);
        self.slots.get(at).filter(|slot| slot.number() == number).map(|_| at)
    }

    pub fn get(&self, number: u32) -> Option<Pooled<'_>> {
        Readings::new(self.slots.get(self.at(number)?..)?).next()
    }

    /// Marks a reading as void; false when there is no such reading.
    pub fn void(&mut self, number: u32) -> bool {
        let Some(slot) = self.at(number).and_then(|at| self.slots.get_mut(at)) else { return false };
        slot.void();
        true
    }
}

/// Where the readings of one indication begin and end among the slots; those of others may lie between.
#[derive(Clone, Copy)]
pub(super) struct Span {
    from: u32,
    to: u32,
}

impl Span {
    /// Of the slots that were used before a reading and after it.
    pub fn of(before: usize, after: usize) -> Self {
        Self { from: before as u32, to: after as u32 }
    }

    /// Takes in one more reading, which ends there.
    pub fn stretch(&mut self, after: usize) {
        self.to = after as u32;
    }

    /// The slots within.
    pub fn within(self, slots: &[Slot]) -> &[Slot] {
        slots.get(self.from as usize..self.to as usize).unwrap_or_default()
    }
}

/// Readings one after the other.
#[derive(Clone)]
pub(super) struct Readings<'a> {
    slots: slice::Iter<'a, Slot>,
}

impl<'a> Readings<'a> {
    pub fn new(slots: &'a [Slot]) -> Self {
        Self { slots: slots.iter() }
    }
}

impl<'a> Iterator for Readings<'a> {
    type Item = Pooled<'a>;

    fn next(&mut self) -> Option<Pooled<'a>> {
        let first = self.slots.next()?;
        let second = if first.is_long() { self.slots.next() } else { None };
        Some(Pooled::new(first, second))
    }
}

impl FusedIterator for Readings<'_> {}

/// The reading before the end of the slots.
pub(super) fn last(slots: &[Slot]) -> Option<Pooled<'_>> {
    match slots {
        [.., first, second] if first.is_long() => Some(Pooled::new(first, Some(second))),
        [.., first] => Some(Pooled::new(first, None)),
        [] => None,
    }
}
