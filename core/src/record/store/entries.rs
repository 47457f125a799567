//! The entries of a store, oldest first.

use embedded_storage::nor_flash::NorFlash;

use super::flash::{self, BLANK, MAX_WORD};
use super::{Store, StoreError, sector};
use crate::record::entry::Entry;
use crate::record::entry::frame::{Frame, FrameReader};

/// The entries of a store with their numbers, oldest first; what can no longer be read is told by its numbers.
#[derive(Debug)]
pub struct Entries<'a, F: NorFlash> {
    store: &'a mut Store<F>,
    records: Records,
    /// Sectors still to be read, this one included.
    sectors: usize,
    /// The number to come.
    expected: u32,
    /// A record that came after a gap, which is told first.
    behind_gap: Option<(u32, Entry)>,
}

impl<'a, F: NorFlash> Entries<'a, F> {
    pub(super) const fn new(store: &'a mut Store<F>) -> Self {
        let (sectors, sector, expected) = (store.used, store.oldest, store.first);
        Self { store, records: Records::of(sector), sectors, expected, behind_gap: None }
    }

    fn gap(&mut self, number: u32) -> StoreError<F::Error> {
        let first = core::mem::replace(&mut self.expected, number);
        StoreError::Damaged { first, last: number.saturating_sub(1) }
    }

    fn step(&mut self) -> Result<Option<(u32, Entry)>, StoreError<F::Error>> {
        if let Some((number, entry)) = self.behind_gap.take() {
            self.expected = number.saturating_add(1);
            return Ok(Some((number, entry)));
        }
        while self.sectors > 0 {
            while let Some((number, entry)) =
                self.records.next(&mut self.store.flash).map_err(StoreError::Flash)?
            {
                if number > self.expected {
                    self.behind_gap = Some((number, entry));
                    return Err(self.gap(number));
                }
                if number == self.expected {
                    self.expected = number.saturating_add(1);
                    return Ok(Some((number, entry)));
                }
            }
            self.sectors = self.sectors.saturating_sub(1);
            self.records = Records::of(self.store.following(self.records.sector));
        }
        if self.expected <= self.store.last {
            return Err(self.gap(self.store.last.saturating_add(1)));
        }
        Ok(None)
    }
}

impl<F: NorFlash> Iterator for Entries<'_, F> {
    type Item = Result<(u32, Entry), StoreError<F::Error>>;

    fn next(&mut self) -> Option<Self::Item> {
        let next = self.step();
        if matches!(next, Err(StoreError::Flash(_))) {
            // What cannot be read now is not asked for again and again.
            self.sectors = 0;
            self.expected = u32::MAX;
        }
        next.transpose()
    }
}

/// The records of one sector.
#[derive(Debug)]
pub(super) struct Records {
    sector: usize,
    /// Where the next chunk begins.
    at: Option<usize>,
    chunk: heapless::Deque<u8, MAX_WORD>,
    reader: FrameReader,
}

impl Records {
    pub(super) const fn of(sector: usize) -> Self {
        Self { sector, at: None, chunk: heapless::Deque::new(), reader: FrameReader::new() }
    }

    /// The next record that can be read; what cannot is passed over.
    pub(super) fn next<F: NorFlash>(&mut self, flash: &mut F) -> Result<Option<(u32, Entry)>, F::Error> {
        loop {
            while let Some(byte) = self.chunk.pop_front() {
                if let Some(Ok(Frame::Numbered(number, entry))) = self.reader.push(byte) {
                    return Ok(Some((number, entry)));
                }
            }
            let at = self.at.unwrap_or(sector::records_at::<F>());
            let left = F::ERASE_SIZE.saturating_sub(at);
            if left == 0 {
                return Ok(None);
            }
            let mut bytes = [BLANK; MAX_WORD];
            let part = match bytes.get_mut(..left) {
                Some(part) => part,
                None => &mut bytes,
            };
            flash::read(flash, self.sector, at, part)?;
            self.at = Some(at.saturating_add(part.len()));
            for byte in part.iter() {
                // The chunk is empty, and as large as the part can be.
                let _ = self.chunk.push_back(*byte);
            }
        }
    }
}
