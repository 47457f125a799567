//! The entries of a store, oldest first.

use embedded_storage::nor_flash::NorFlash;

use super::record::Records;
use super::{Store, StoreError, following};
use crate::record::entry::Entry;

/// The entries of a store with their numbers, oldest first; what can no longer be read is told by its numbers, and so is a
/// number that comes again.
#[derive(Debug)]
pub struct Entries<'a, F: NorFlash> {
    store: &'a mut Store<F>,
    /// The sector to be read next.
    sector: usize,
    /// Sectors still to be read, that one included.
    sectors: usize,
    /// Of the sector that is being read.
    records: Option<Records>,
    /// The number to come.
    expected: u32,
    /// A record that came after a gap, which is told first.
    behind_gap: Option<(u32, Entry)>,
}

impl<'a, F: NorFlash> Entries<'a, F> {
    pub(super) fn new(store: &'a mut Store<F>) -> Self {
        let (sector, sectors, expected) = (store.oldest(), store.used, store.first);
        Self { store, sector, sectors, records: None, expected, behind_gap: None }
    }

    fn next_record(&mut self) -> Result<Option<(u32, Entry)>, F::Error> {
        loop {
            if let Some(records) = &mut self.records
                && let Some(record) = records.next(&mut self.store.flash)?
            {
                return Ok(Some(record));
            }
            if self.sectors == 0 {
                return Ok(None);
            }
            self.records = Some(Records::of(&mut self.store.flash, self.sector)?);
            self.sector = following(&self.store.flash, self.sector);
            self.sectors = self.sectors.saturating_sub(1);
        }
    }

    /// Those from the expected one up to this, which is expected now, are missing.
    fn gap(&mut self, number: u32) -> StoreError<F::Error> {
        let first = core::mem::replace(&mut self.expected, number);
        StoreError::Damaged { first, last: number.saturating_sub(1) }
    }

    fn step(&mut self) -> Result<Option<(u32, Entry)>, StoreError<F::Error>> {
        let next = match self.behind_gap.take() {
            Some(record) => Some(record),
            None => self.next_record().map_err(StoreError::Flash)?,
        };
        match next {
            Some((number, _)) if number < self.expected => Err(StoreError::Twice { number }),
            Some((number, entry)) if number > self.expected => {
                self.behind_gap = Some((number, entry));
                Err(self.gap(number))
            }
            Some((number, entry)) => {
                self.expected = number.saturating_add(1);
                Ok(Some((number, entry)))
            }
            None if self.expected <= self.store.last => Err(self.gap(self.store.last.saturating_add(1))),
            None => Ok(None),
        }
    }
}

impl<F: NorFlash> Iterator for Entries<'_, F> {
    type Item = Result<(u32, Entry), StoreError<F::Error>>;

    fn next(&mut self) -> Option<Self::Item> {
        let next = self.step();
        if matches!(next, Err(StoreError::Flash(_))) {
            // What cannot be read now is not asked for again and again.
            (self.records, self.sectors, self.expected) = (None, 0, u32::MAX);
        }
        next.transpose()
    }
}
