//! Entries on flash memory: an append-only log that survives a power cut at any moment.
//!
//! An entry whose number was returned is kept; one in the making when power failed is kept whole or not at all. Opening
//! again needs no repair. When the memory is full that is an error, and the oldest entries only make room when the
//! caller chose a [`Policy::Ring`] - which suits a logger, and never an examination, whose first entries are the joint
//! and the probes.
//!
//! Sectors are used in their order, round and round. `sector` describes one, `record` what is in it.

mod entries;
mod error;
mod flash;
mod record;
mod sector;

/// The traits of a flash memory, which its driver implements.
pub use embedded_storage::nor_flash;
pub use entries::Entries;
pub use error::StoreError;

use crate::record::entry::Entry;
use crate::record::entry::frame::MAX_FRAME;
use entries::Records;
use flash::{MAX_WORD, whole_words};
use nor_flash::NorFlash;
use record::{Words, longest};
use sector::{Found, HEAD, Head, records_at};

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
/// Any memory will do whose driver has [`NorFlash`]: words of a power of two up to 32 bytes, sectors of 512 bytes or more.
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
    /// The sector of the oldest entries.
    oldest: usize,
    /// How many sectors are in use, the oldest first.
    used: usize,
    /// The sequence of the newest sector.
    sequence: u32,
    first: u32,
    last: u32,
    /// Where the next record goes in the newest sector; none when no sector is in use.
    at: Option<usize>,
    /// What stands before that place was cut.
    behind_cut: bool,
    /// A sector was erased since the store was opened: at most one erasing can have been cut before that.
    erased_one: bool,
    stale: bool,
}

impl<F: NorFlash> Store<F> {
    /// What a flash memory has to be, checked when the program is built.
    const FITS: () = assert!(
        F::WRITE_SIZE.is_power_of_two()
            && F::WRITE_SIZE <= MAX_WORD
            && F::ERASE_SIZE.is_multiple_of(F::WRITE_SIZE)
            && F::READ_SIZE.is_power_of_two()
            && F::READ_SIZE <= HEAD
            && F::WRITE_SIZE.is_multiple_of(F::READ_SIZE)
            && F::ERASE_SIZE >= records_at::<F>() + whole_words::<F>(MAX_FRAME) + F::WRITE_SIZE
    );

    /// Opens what a memory holds; a blank one is an empty log.
    ///
    /// # Errors
    /// [`StoreError`]: the memory fails, has too few sectors, or holds something else than a log of
    /// this version.
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
            oldest: 0,
            used: 0,
            sequence: 0,
            first: 1,
            last: 0,
            at: None,
            behind_cut: false,
            erased_one: false,
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
        self.find_sectors(sectors).map_err(StoreError::Flash)?;
        self.refuse_foreign(sectors)?;
        self.find_end().map_err(StoreError::Flash)
    }

    /// Gives the memory back, with what it holds.
    pub fn release(self) -> F {
        self.flash
    }

    /// Whether the longest entry would find room; of one that would not, some shorter ones still do.
    pub fn has_room(&self) -> bool {
        let here = self.at.is_some_and(|at| at.saturating_add(longest::<F>()) <= F::ERASE_SIZE);
        let numbers = self.last < u32::MAX.saturating_sub(1) && self.sequence < u32::MAX;
        numbers && (here || self.policy == Policy::Ring || self.used < flash::sectors(&self.flash))
    }

    /// Erases everything. Cut short, it leaves a memory that opens with fewer entries or not at all: format it again.
    ///
    /// # Errors
    /// [`StoreError::Flash`].
    pub fn format(flash: &mut F) -> Result<(), StoreError<F::Error>> {
        for sector in 0..flash::sectors(flash) {
            flash::erase(flash, sector).map_err(StoreError::Flash)?;
        }
        Ok(())
    }

    /// The newest sector is that with the highest sequence; those before it follow one another.
    fn find_sectors(&mut self, sectors: usize) -> Result<(), F::Error> {
        let mut newest = None;
        for sector in 0..sectors {
            if let Some(head) = sector::head(&mut self.flash, sector)?
                && head.sequence > self.sequence
            {
                (newest, self.sequence) = (Some(sector), head.sequence);
            }
        }
        let Some(mut sector) = newest else { return Ok(()) };
        let mut sequence = self.sequence;
        while let Some(head) = sector::head(&mut self.flash, sector)?
            && head.sequence == sequence
            && self.used < sectors
        {
            (self.oldest, self.first) = (sector, head.first);
            self.used = self.used.saturating_add(1);
            sector = sector.checked_sub(1).unwrap_or(sectors.saturating_sub(1));
            sequence = sequence.saturating_sub(1);
        }
        Ok(())
    }

    /// A sector out of use has to be one that may be erased.
    fn refuse_foreign(&mut self, sectors: usize) -> Result<(), StoreError<F::Error>> {
        let mut sector = self.oldest;
        for place in 0..sectors {
            if place >= self.used {
                let may_be_erased = match sector::look(&mut self.flash, sector).map_err(StoreError::Flash)? {
                    Found::Blank | Found::Spent => true,
                    // Half of an erased sector.
                    Found::Foreign => self.policy == Policy::Ring,
                    Found::Version(version) => return Err(StoreError::Version { version }),
                    Found::Live(_) => false,
                };
                if !may_be_erased {
                    return Err(StoreError::Foreign { sector });
                }
            }
            sector = self.following(sector);
        }
        Ok(())
    }

    fn find_end(&mut self) -> Result<(), F::Error> {
        if self.used == 0 {
            return Ok(());
        }
        let newest = self.newest();
        let head = sector::head(&mut self.flash, newest)?;
        self.last = head.map_or(0, |head| head.first.saturating_sub(1));
        let mut records = Records::of(newest);
        while let Some((number, _)) = records.next(&mut self.flash)? {
            self.last = number;
        }
        let start = records_at::<F>();
        let end = sector::last_programmed(&mut self.flash, newest, start, F::ERASE_SIZE)?;
        self.at = Some(end.map_or(start, |(at, _)| whole_words::<F>(at.saturating_add(1))));
        self.behind_cut = end.is_some_and(|(_, byte)| byte != 0);
        Ok(())
    }

    /// Keeps an entry and returns its number; the first is 1. It is on the memory when this returns.
    ///
    /// # Errors
    /// [`StoreError::Full`], and nothing was written. [`StoreError::Flash`]: the store has to be opened again, and
    /// [`last`](Self::last) then tells whether the entry was kept.
    pub fn append(&mut self, entry: &Entry) -> Result<u32, StoreError<F::Error>> {
        if self.stale {
            return Err(StoreError::Stale);
        }
        let number = self.last.checked_add(1).filter(|number| *number < u32::MAX).ok_or(StoreError::Full)?;
        let mut words = Words::of::<F>(number, entry, self.behind_cut).map_err(StoreError::Record)?;
        let fits = |at: &usize| at.saturating_add(words.bytes().len()) <= F::ERASE_SIZE;
        let at = match self.at.filter(fits) {
            Some(at) => at,
            None => {
                self.next_sector(number)?;
                words = Words::of::<F>(number, entry, false).map_err(StoreError::Record)?;
                records_at::<F>()
            }
        };
        let newest = self.newest();
        let programmed = flash::program(&mut self.flash, newest, at, words.bytes());
        self.told(programmed)?;
        self.at = Some(at.saturating_add(words.bytes().len()));
        self.behind_cut = false;
        self.last = number;
        Ok(number)
    }

    /// Takes the next sector into use, for entries from `first` on.
    fn next_sector(&mut self, first: u32) -> Result<(), StoreError<F::Error>> {
        let sectors = flash::sectors(&self.flash);
        let sequence = self.sequence.checked_add(1).ok_or(StoreError::Full)?;
        if self.used >= sectors {
            if self.policy == Policy::Stop {
                return Err(StoreError::Full);
            }
            let done = self.give_up_oldest();
            self.told(done)?;
        }
        let next = if self.used == 0 { self.oldest } else { self.following(self.newest()) };
        let done = self.take(next, Head { sequence, first });
        self.told(done)?;
        if self.used == 0 {
            self.first = first;
        }
        self.used = self.used.saturating_add(1);
        self.sequence = sequence;
        self.at = Some(records_at::<F>());
        self.behind_cut = false;
        Ok(())
    }

    fn give_up_oldest(&mut self) -> Result<(), F::Error> {
        let following = self.following(self.oldest);
        let head = sector::head(&mut self.flash, following)?;
        sector::retire(&mut self.flash, self.oldest)?;
        flash::erase(&mut self.flash, self.oldest)?;
        self.erased_one = true;
        self.first = head.map_or(self.first, |head| head.first);
        self.oldest = following;
        self.used = self.used.saturating_sub(1);
        Ok(())
    }

    fn take(&mut self, sector: usize, head: Head) -> Result<(), F::Error> {
        // A sector whose erasing was cut may read as blank and not be: the first one taken after opening is erased anyhow.
        if !self.erased_one || !sector::blank(&mut self.flash, sector, 0, F::ERASE_SIZE)? {
            flash::erase(&mut self.flash, sector)?;
            self.erased_one = true;
        }
        head.program(&mut self.flash, sector)
    }

    /// After a failure nobody knows what the memory holds.
    fn told<T>(&mut self, result: Result<T, F::Error>) -> Result<T, StoreError<F::Error>> {
        self.stale |= result.is_err();
        result.map_err(StoreError::Flash)
    }

    /// The entries with their numbers, oldest first.
    pub const fn entries(&mut self) -> Entries<'_, F> {
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

    /// The memory, for what else its owner does with it.
    pub fn into_flash(self) -> F {
        self.flash
    }

    fn following(&self, sector: usize) -> usize {
        let next = sector.saturating_add(1);
        if next < flash::sectors(&self.flash) { next } else { 0 }
    }

    fn newest(&self) -> usize {
        let sectors = flash::sectors(&self.flash);
        let place = self.oldest.saturating_add(self.used.saturating_sub(1));
        if place < sectors { place } else { place.saturating_sub(sectors) }
    }
}

#[cfg(test)]
mod tests;
