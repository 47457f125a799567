//! Entries on flash memory: an append-only log that survives a power cut at any moment.
//!
//! An entry whose number was returned is kept; one in the making when power failed is kept whole or not at all. Opening
//! again needs no repair, wherever power failed. When the memory is full that is an error, and the oldest entries only make
//! room when the caller chose a [`Policy::Ring`] - which suits a logger, and never an examination, whose first entries are
//! the joint and the probes.
//!
//! What is programmed or erased is read back, and what does not read as it should is [`StoreError::Worn`]. One flipped bit
//! in a head or a record is put right when it is read. Entries that more have made unreadable are told by their numbers,
//! but for the newest one, which then looks like one cut in the making.
//!
//! Sectors are used in their order, round and round, and each is erased before it is taken into use - but the first of a
//! blank memory. `sector` describes one, `record` what is in it. The layout is that of this version and may change with
//! the next.

mod entries;
mod error;
mod flash;
mod mended;
mod record;
mod sector;

/// The traits of a flash memory, which its driver implements.
pub use embedded_storage::nor_flash;
pub use entries::Entries;
pub use error::StoreError;

use crate::record::entry::Entry;
use crate::record::entry::frame::{MAX_FRAME, encode_numbered};
use flash::{CHUNK, MAX_WORD, whole_words};
use nor_flash::NorFlash;
use record::Records;
use sector::{Head, records_at};

/// What happens when every sector is full.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Policy {
    /// No more entries are kept, and [`StoreError::Full`] says so.
    #[default]
    Stop,
    /// The sector with the oldest entries is erased for new ones.
    Ring,
}

/// A log of entries on a flash memory, or on the partition of one that the store has for itself.
///
/// Any memory will do whose driver has [`NorFlash`], that is erased to ones, and that has words of a power of two up to 256
/// bytes and sectors of 512 bytes, with words of 256 bytes of 768, or more. An entry takes whole words: where only whole
/// pages can be programmed, each takes a page.
///
/// ```
/// use core::convert::Infallible;
/// use halfskip::record::entry::{Entry, LengthUnit};
/// use halfskip::record::store::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
/// use halfskip::record::store::{Policy, Store};
///
/// /// Two sectors that behave like flash.
/// struct Ram([u8; 1024]);
/// impl ErrorType for Ram {
///     type Error = Infallible;
/// }
/// impl ReadNorFlash for Ram {
///     const READ_SIZE: usize = 1;
///     fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Infallible> {
///         bytes.copy_from_slice(&self.0[offset as usize..][..bytes.len()]);
///         Ok(())
///     }
///     fn capacity(&self) -> usize {
///         self.0.len()
///     }
/// }
/// impl NorFlash for Ram {
///     const WRITE_SIZE: usize = 4;
///     const ERASE_SIZE: usize = 512;
///     fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Infallible> {
///         self.0[offset as usize..].iter_mut().zip(bytes).for_each(|(cell, byte)| *cell &= byte);
///         Ok(())
///     }
///     fn erase(&mut self, from: u32, to: u32) -> Result<(), Infallible> {
///         self.0[from as usize..to as usize].fill(0xFF);
///         Ok(())
///     }
/// }
///
/// let mut memory = Ram([0xFF; 1024]);
/// let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
/// assert_eq!(store.append(&Entry::Units(LengthUnit::In)), Ok(1));
/// // Power fails, and comes again.
/// let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
/// assert_eq!(store.entries().next(), Some(Ok((1, Entry::Units(LengthUnit::In)))));
/// ```
#[derive(Debug)]
pub struct Store<F: NorFlash> {
    flash: F,
    policy: Policy,
    /// The newest sector; while none is in use, the first to be.
    newest: usize,
    /// How many sectors are in use, the newest last.
    used: usize,
    /// The sequence of the newest sector.
    sequence: u32,
    first: u32,
    last: u32,
    /// Where the next record goes in the newest sector; behind it when no sector is in use.
    at: usize,
    stale: bool,
}

impl<F: NorFlash> Store<F> {
    /// What a flash memory has to be, checked when the program is built.
    const FITS: () = assert!(
        F::WRITE_SIZE.is_power_of_two()
            && F::WRITE_SIZE <= MAX_WORD
            && MAX_WORD <= MAX_FRAME
            && F::ERASE_SIZE.is_multiple_of(F::WRITE_SIZE)
            && F::READ_SIZE.is_power_of_two()
            && F::READ_SIZE <= CHUNK
            && F::WRITE_SIZE.is_multiple_of(F::READ_SIZE)
            && F::ERASE_SIZE >= records_at::<F>() + MAX_FRAME
    );

    /// Opens what a memory holds; a blank one is an empty log.
    ///
    /// # Errors
    /// [`StoreError`]: the memory fails, has too few sectors, or holds something else than a log of
    /// this version. That is what a memory looks like, too, which is not erased to ones.
    pub fn open(flash: F, policy: Policy) -> Result<Self, StoreError<F::Error>> {
        Self::open_or_back(flash, policy).map_err(|(error, _)| error)
    }

    /// Opens what a memory holds as [`open`](Self::open) does, and gives the memory back when it cannot.
    ///
    /// # Errors
    /// As [`open`](Self::open), with the memory.
    pub fn open_or_back(flash: F, policy: Policy) -> Result<Self, (StoreError<F::Error>, F)> {
        let () = Self::FITS;
        let mut store = Self {
            flash,
            policy,
            newest: 0,
            used: 0,
            sequence: 0,
            first: 1,
            last: 0,
            at: F::ERASE_SIZE,
            stale: false,
        };
        match store.find() {
            Ok(()) => Ok(store),
            Err(error) => Err((error, store.flash)),
        }
    }

    fn find(&mut self) -> Result<(), StoreError<F::Error>> {
        let sectors = flash::sectors(&self.flash);
        if sectors < (if self.policy == Policy::Ring { 2 } else { 1 }) {
            return Err(StoreError::TooFewSectors { sectors });
        }
        match sector::newest(&mut self.flash)? {
            Some((newest, head)) => self.find_end(newest, head),
            None => self.find_start(),
        }
    }

    /// Erases everything, and begins again with entry 1.
    ///
    /// Cut short, it leaves a log as it was, without the entries of its oldest sector, or without any. What was no log may
    /// have to be formatted again, and so may a memory of one sector.
    ///
    /// # Errors
    /// [`StoreError::Flash`], [`StoreError::Worn`].
    pub fn format(flash: &mut F) -> Result<(), StoreError<F::Error>> {
        let sectors = flash::sectors(flash);
        let (newest, sequence) = match sector::newest(flash) {
            Ok(Some((newest, head))) => {
                if usize::try_from(head.used).is_ok_and(|used| used >= sectors) {
                    sector::give_up(flash, newest)?;
                }
                (following(flash, newest), head.sequence.saturating_add(1))
            }
            Ok(None) | Err(StoreError::Version { .. }) => (0, 1),
            Err(error) => return Err(error),
        };
        flash::erase(flash, newest)?;
        Head { sequence, first: 1, used: 1 }.program(flash, newest)?;
        for sector in (0..sectors).filter(|sector| *sector != newest) {
            flash::erase(flash, sector)?;
        }
        Ok(())
    }

    /// Where the log ends and begins.
    fn find_end(&mut self, newest: usize, head: Head) -> Result<(), StoreError<F::Error>> {
        let sectors = flash::sectors(&self.flash);
        (self.newest, self.sequence) = (newest, head.sequence);
        self.used = usize::try_from(head.used).unwrap_or(sectors).min(sectors).max(1);
        if self.used > 1 && sector::gave_up(&mut self.flash, newest).map_err(StoreError::Flash)? {
            self.used = self.used.saturating_sub(1);
        }
        self.first = self.oldest_first()?;
        self.last = head.first.saturating_sub(1);
        self.read_newest().map_err(StoreError::Flash)
    }

    fn read_newest(&mut self) -> Result<(), F::Error> {
        let mut records = Records::of(&mut self.flash, self.newest)?;
        let mut behind = records.at();
        while let Some((number, _)) = records.next(&mut self.flash)? {
            self.last = self.last.max(number);
            behind = records.at();
        }
        self.at = records.free::<F>(behind);
        Ok(())
    }

    /// No sector is in use: the memory has to be blank, but for heads whose programming was cut.
    fn find_start(&mut self) -> Result<(), StoreError<F::Error>> {
        let mut blank = None;
        for sector in 0..flash::sectors(&self.flash) {
            match flash::programmed(&mut self.flash, sector, 0).map_err(StoreError::Flash)? {
                0 => blank = blank.or(Some(sector)),
                behind if behind > records_at::<F>() => return Err(StoreError::Foreign { sector }),
                _ => {}
            }
        }
        self.newest = blank.unwrap_or(0);
        Ok(())
    }

    /// Keeps an entry and returns its number; the first is 1. It is on the memory, and was read back, when this returns.
    ///
    /// A sector may have to be erased before, which takes the memory some time.
    ///
    /// # Errors
    /// [`StoreError::Full`], and nothing was written. [`StoreError::Flash`] and [`StoreError::Worn`]: the store has to be
    /// opened again, and [`last`](Self::last) then tells whether the entry was kept.
    pub fn append(&mut self, entry: &Entry) -> Result<u32, StoreError<F::Error>> {
        if self.stale {
            return Err(StoreError::Stale);
        }
        let number = self.last.checked_add(1).filter(|number| *number < u32::MAX).ok_or(StoreError::Full)?;
        let mut record = [0; MAX_FRAME];
        let used = encode_numbered(number, entry, &mut record).map_err(StoreError::Record)?.len();
        let record = record.get(..whole_words::<F>(used)).unwrap_or(&record);
        if self.at.saturating_add(record.len()) > F::ERASE_SIZE {
            self.next_sector(number)?;
        }
        let programmed = flash::program(&mut self.flash, self.newest, self.at, record);
        self.told(programmed)?;
        self.at = self.at.saturating_add(record.len());
        self.last = number;
        Ok(number)
    }

    /// Takes the next sector into use, for entries from `first` on.
    fn next_sector(&mut self, first: u32) -> Result<(), StoreError<F::Error>> {
        let full = self.used >= flash::sectors(&self.flash);
        let sequence = self.sequence.checked_add(1).ok_or(StoreError::Full)?;
        if full && self.policy == Policy::Stop {
            return Err(StoreError::Full);
        }
        let taken = self.take(full, sequence, first);
        self.told(taken)
    }

    fn take(&mut self, full: bool, sequence: u32, first: u32) -> Result<(), StoreError<F::Error>> {
        if full {
            sector::give_up(&mut self.flash, self.newest)?;
            self.used = self.used.saturating_sub(1);
        }
        let next = if self.used == 0 { self.newest } else { following(&self.flash, self.newest) };
        // A memory that is blank is left so until something is on it: nothing could tell it from one that is no log if
        // its first erasing were cut.
        if self.used > 0 || flash::programmed(&mut self.flash, next, 0).map_err(StoreError::Flash)? > 0 {
            flash::erase(&mut self.flash, next)?;
        }
        let used = self.used.saturating_add(1);
        let head = Head { sequence, first, used: u32::try_from(used).unwrap_or(u32::MAX) };
        head.program(&mut self.flash, next)?;
        (self.newest, self.used, self.sequence) = (next, used, sequence);
        self.at = records_at::<F>();
        self.first = self.oldest_first()?;
        Ok(())
    }

    /// The number that the oldest sector begins with; 1, so that more is told as damaged rather than less, when its head
    /// cannot be read.
    fn oldest_first(&mut self) -> Result<u32, StoreError<F::Error>> {
        let oldest = self.oldest();
        Ok(sector::head(&mut self.flash, oldest)?.map_or(1, |head| head.first))
    }

    /// After a failure nobody knows what the memory holds.
    fn told<T>(&mut self, result: Result<T, StoreError<F::Error>>) -> Result<T, StoreError<F::Error>> {
        self.stale |= result.is_err();
        result
    }

    /// The entries with their numbers, oldest first.
    pub fn entries(&mut self) -> Entries<'_, F> {
        Entries::new(self)
    }

    /// The number of the oldest entry that is still held; one more than [`last`](Self::last) when there is none.
    #[must_use]
    pub const fn first(&self) -> u32 {
        self.first
    }

    /// The number of the newest entry; 0 of none.
    #[must_use]
    pub const fn last(&self) -> u32 {
        self.last
    }

    /// Whether the longest entry would find room; of one that would not, some shorter ones still do.
    pub fn has_room(&self) -> bool {
        let longest = whole_words::<F>(MAX_FRAME);
        let here = self.at.saturating_add(longest) <= F::ERASE_SIZE;
        let another = self.policy == Policy::Ring || self.used < flash::sectors(&self.flash);
        self.last < u32::MAX.saturating_sub(1) && (here || (another && self.sequence < u32::MAX))
    }

    /// The memory, for what else its owner does with it.
    pub fn into_flash(self) -> F {
        self.flash
    }

    /// The sector of the oldest entries.
    fn oldest(&self) -> usize {
        let before = self.used.saturating_sub(1);
        let sectors = flash::sectors(&self.flash);
        self.newest.checked_sub(before).unwrap_or(sectors.saturating_add(self.newest).saturating_sub(before))
    }
}

/// The sector behind one; behind the last is the first.
fn following<F: NorFlash>(flash: &F, sector: usize) -> usize {
    let next = sector.saturating_add(1);
    if next < flash::sectors(flash) { next } else { 0 }
}

#[cfg(test)]
mod tests;
