//! The readings of all indications, packed.

use core::iter::FusedIterator;
use core::slice;

use heapless::VecView;

use super::Refusal;
use super::pooled::{Pooled, Slot};
use crate::record::entry::ReadingEntry;

/// The readings in the order of their numbers; one with long numbers takes the room of two.
pub(super) struct Pool<'a> {
    pub slots: &'a mut VecView<Slot>,
    /// Behind each of the first slots: where the next reading of the same indication may be, at the earliest.
    pub links: &'a mut VecView<u32>,
}

impl Pool<'_> {
    /// Keeps a reading, behind those of its indication that lie in `span`.
    pub fn push(
        &mut self,
        number: u32,
        indication: u8,
        probe: u8,
        reading: &ReadingEntry,
        span: Option<Span>,
    ) -> Result<(), Refusal> {
        let full = Refusal::Full { what: "readings", capacity: self.slots.capacity() as u32 };
        let (first, second) = Slot::pack(number, indication, probe, reading);
        if self.left() < 1 + usize::from(second.is_some()) {
            return Err(full);
        }
        if let Some(link) = span.and_then(|span| self.links.get_mut(span.last()?)) {
            *link = self.slots.len() as u32;
        }
        // There is room for both; what finds no room among the links is walked to.
        for slot in [Some(first), second].into_iter().flatten() {
            let _ = self.slots.push(slot);
            let _ = self.links.push(self.slots.len() as u32);
        }
        Ok(())
    }

    fn left(&self) -> usize {
        self.slots.capacity().saturating_sub(self.slots.len())
    }

    /// Whether the longest reading would not find room.
    pub fn is_full(&self) -> bool {
        self.left() < 2
    }

    pub fn clear(&mut self) {
        self.slots.clear();
        self.links.clear();
    }

    /// Marks a reading as void; false when there is no such reading.
    pub fn void(&mut self, number: u32) -> bool {
        let Some(slot) = at(self.slots, number).and_then(|at| self.slots.get_mut(at)) else { return false };
        slot.void();
        true
    }
}

/// The place of a reading's first slot.
fn at(slots: &[Slot], number: u32) -> Option<usize> {
    let at = slots.partition_point(|slot| slot.number() < number);
    slots.get(at).filter(|slot| slot.number() == number).map(|_| at)
}

/// A reading by its number.
pub(super) fn find(slots: &[Slot], number: u32) -> Option<Pooled<'_>> {
    Readings::new(slots.get(at(slots, number)?..)?).next()
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

    /// The last slot within.
    fn last(self) -> Option<usize> {
        (self.to as usize).checked_sub(1)
    }
}

/// The readings of one indication, one after the other: by the links as far as there are any, else past all others.
#[derive(Clone)]
pub(super) struct ReadingsOf<'a> {
    slots: &'a [Slot],
    links: &'a [u32],
    at: u32,
    indication: u8,
}

impl<'a> ReadingsOf<'a> {
    /// Those within a span; none without one.
    pub fn new(slots: &'a [Slot], links: &'a [u32], span: Option<Span>, indication: u8) -> Self {
        let span = span.unwrap_or(Span { from: 0, to: 0 });
        let slots = slots.get(..span.to as usize).unwrap_or_default();
        Self { slots, links, at: span.from, indication }
    }
}

impl<'a> Iterator for ReadingsOf<'a> {
    type Item = Pooled<'a>;

    fn next(&mut self) -> Option<Pooled<'a>> {
        loop {
            let mut last = self.at as usize;
            let first = self.slots.get(last)?;
            let mut second = None;
            if first.is_long() {
                last = last.saturating_add(1);
                second = self.slots.get(last);
            }
            self.at = self.links.get(last).copied().unwrap_or(last.saturating_add(1) as u32);
            let reading = Pooled::new(first, second);
            if reading.indication() == self.indication && !reading.is_void() {
                return Some(reading);
            }
        }
    }
}

impl FusedIterator for ReadingsOf<'_> {}

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::Side;
    use crate::record::entry::fixture::seen;
    use heapless::Vec;

    #[test]
    fn a_link_leads_from_a_reading_to_the_next_of_its_indication() {
        let (slots, links) = (&mut Vec::<Slot, 5>::new(), &mut Vec::<u32, 5>::new());
        let mut pool = Pool { slots, links };
        let mut span: Option<Span> = None;
        for (number, indication) in [(1, 0), (2, 1), (3, 1), (4, 0)] {
            assert!(!pool.is_full());
            let before = pool.slots.len();
            pool.push(number, indication, 0, &seen("p", Side::A), span.filter(|_| indication == 0)).unwrap();
            if indication == 0 {
                span.get_or_insert(Span::of(before, pool.slots.len())).stretch(pool.slots.len());
            }
        }
        // The first of indication 0 leads over those of the other one; a single place more is not enough for the longest.
        assert_eq!(pool.links.as_slice(), [3, 2, 3, 4]);
        assert!(pool.is_full());
        let of_first = ReadingsOf::new(pool.slots, pool.links, span, 0);
        assert!(of_first.map(Pooled::number).eq([1, 4]));
    }
}
