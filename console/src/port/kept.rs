//! A station whose facts are on flash memory before they are acknowledged.

use core::fmt::{self, Write};

use halfskip::record::entry::{Entry, LengthUnit};
use halfskip::record::store::nor_flash::{NorFlash, NorFlashError, NorFlashErrorKind};
use halfskip::record::store::{Policy, Store, StoreError};

use super::station::{Keeping, Station};
use crate::commands::parse::{self, Line};
use crate::shell::Outcome;
use crate::shell::keep::Keep;

/// Why no more facts are taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum Fault {
    /// The memory is full, or fails, or holds something else.
    Store(StoreError<NorFlashErrorKind>),
    /// The memory holds a fact that this program does not take: it was kept by another one.
    NotTaken {
        /// Its number.
        number: u32,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Store(error) => error.fmt(f),
            Self::NotTaken { number } => {
                write!(f, "entry {number} in the memory is one that this program does not take")
            }
        }
    }
}

impl core::error::Error for Fault {}

/// A [`Station`] whose facts are kept in a [`Store`]: a fact that was acknowledged is there after the power was cut.
///
/// No more facts are taken when the memory is full or has failed, and each time the answer says why; questions are answered all the
/// same. The policy is [`Policy::Stop`], since the first facts of an examination are its joint and its probes.
///
/// ```
/// use halfskip_console::port::{Kept, Station};
/// use halfskip_console::{sheets::NoSheets, shell::Shell};
/// # use core::convert::Infallible;
/// # use halfskip::record::store::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
/// # struct Ram([u8; 2048]);
/// # impl ErrorType for Ram { type Error = Infallible; }
/// # impl ReadNorFlash for Ram {
/// #     const READ_SIZE: usize = 1;
/// #     fn read(&mut self, at: u32, into: &mut [u8]) -> Result<(), Infallible> {
/// #         into.copy_from_slice(&self.0[at as usize..][..into.len()]);
/// #         Ok(())
/// #     }
/// #     fn capacity(&self) -> usize { self.0.len() }
/// # }
/// # impl NorFlash for Ram {
/// #     const WRITE_SIZE: usize = 4;
/// #     const ERASE_SIZE: usize = 1024;
/// #     fn write(&mut self, at: u32, bytes: &[u8]) -> Result<(), Infallible> {
/// #         self.0[at as usize..].iter_mut().zip(bytes).for_each(|(cell, byte)| *cell &= byte);
/// #         Ok(())
/// #     }
/// #     fn erase(&mut self, from: u32, to: u32) -> Result<(), Infallible> {
/// #         self.0[from as usize..to as usize].fill(0xFF);
/// #         Ok(())
/// #     }
/// # }
/// let mut flash = Ram([0xFF; 2048]);
/// let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
/// let mut answer = String::new();
/// Kept::open(&mut *shell, &mut flash).line(b"units in", &mut answer);
/// // Power fails, and comes again.
/// let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
/// let kept = Kept::open(&mut *shell, &mut flash);
/// assert_eq!((kept.last(), kept.fault()), (1, None));
/// ```
#[derive(Debug)]
pub struct Kept<'a, S, F: NorFlash> {
    station: &'a mut S,
    memory: Memory<F>,
}

#[derive(Debug)]
struct Memory<F: NorFlash> {
    store: Option<Store<F>>,
    /// The memory itself, when it could not be opened.
    closed: Option<F>,
    /// The number of the last fact that is kept.
    last: u32,
    fault: Option<Fault>,
}

/// Answers that nobody reads.
struct Nowhere;

impl Write for Nowhere {
    fn write_str(&mut self, _: &str) -> fmt::Result {
        Ok(())
    }
}

impl<'a, S: Keeping, F: NorFlash> Kept<'a, S, F> {
    /// A station without facts takes those that the memory holds. One that cannot be read, or is not taken, ends that:
    /// those behind it would come to other numbers.
    pub fn open(station: &'a mut S, flash: F) -> Self {
        let memory = Memory { store: None, closed: Some(flash), last: 0, fault: None };
        let mut kept = Self { station, memory };
        kept.reopen();
        kept
    }

    /// Why no more facts are taken; none while they are.
    pub fn fault(&self) -> Option<Fault> {
        self.memory.fault()
    }

    /// The station.
    pub const fn station(&self) -> &S {
        self.station
    }

    /// Forgets every fact, here and in the memory.
    ///
    /// # Errors
    /// [`Fault`], of a memory that cannot be erased.
    pub fn erase(&mut self) -> Result<(), Fault> {
        self.station.clear();
        let store = self.memory.store.take();
        if let Some(mut flash) = store.map(Store::into_flash).or_else(|| self.memory.closed.take()) {
            let erased = Store::format(&mut flash);
            self.memory.closed = Some(flash);
            self.memory.fault = erased.err().map(|error| Fault::Store(told(error)));
        }
        if self.memory.fault.is_none() {
            self.reopen();
        }
        self.memory.fault.map_or(Ok(()), Err)
    }

    fn reopen(&mut self) {
        self.memory.last = 0;
        let Some(flash) = self.memory.closed.take() else { return };
        match Store::open_or_back(flash, Policy::Stop) {
            Ok(store) => {
                let store = self.memory.store.insert(store);
                for kept in store.entries() {
                    let (number, entry) = match kept {
                        Ok(kept) => kept,
                        Err(error) => return self.memory.fault = Some(Fault::Store(told(error))),
                    };
                    if self.station.record(entry, &mut Nowhere) != Outcome::Recorded(number) {
                        return self.memory.fault = Some(Fault::NotTaken { number });
                    }
                    self.memory.last = number;
                }
            }
            Err((error, flash)) => {
                self.memory.closed = Some(flash);
                self.memory.fault = Some(Fault::Store(told(error)));
            }
        }
    }

    /// Refuses a fact while none can be kept.
    fn refuses(&self, out: &mut dyn Write) -> Option<Outcome> {
        let fault = self.fault()?;
        // The rest of an answer that cannot be written is lost.
        let _ = writeln!(out, "not recorded: {fault}");
        Some(Outcome::Refused { column: None })
    }
}

impl<S: Keeping, F: NorFlash> Station for Kept<'_, S, F> {
    fn line(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome {
        // Whether a line is a fact does not hang on the unit in force.
        if self.fault().is_some()
            && matches!(parse::line(line, LengthUnit::Mm), Ok(Some(Line::Fact(_))))
            && let Some(refused) = self.refuses(out)
        {
            return refused;
        }
        self.station.line_kept(line, &mut self.memory, out)
    }

    fn record(&mut self, entry: Entry, out: &mut dyn Write) -> Outcome {
        match self.refuses(out) {
            Some(refused) => refused,
            None => self.station.record_kept(entry, &mut self.memory, out),
        }
    }

    fn entry(&self, number: u32) -> Option<Entry> {
        self.station.entry(number).filter(|_| number <= self.memory.last)
    }

    fn last(&self) -> u32 {
        self.memory.last
    }
}

impl<F: NorFlash> Memory<F> {
    fn fault(&self) -> Option<Fault> {
        let full = self.store.as_ref().is_some_and(|store| !store.has_room());
        self.fault.or(full.then_some(Fault::Store(StoreError::Full)))
    }
}

impl<F: NorFlash> Keep for Memory<F> {
    fn keep(&mut self, number: u32, entry: impl FnOnce() -> Option<Entry>, out: &mut dyn Write) -> bool {
        let kept = match (&mut self.store, entry()) {
            (Some(store), Some(entry)) => store.append(&entry).map_err(told),
            _ => Err(StoreError::Stale),
        };
        match kept {
            Ok(kept) if kept == number => {
                self.last = number;
                true
            }
            failed => {
                let error = failed.err().unwrap_or(StoreError::Stale);
                self.fault = Some(Fault::Store(error));
                let _ = writeln!(out, "entry {number} is lost when the power goes: {error}");
                false
            }
        }
    }
}

/// The same error, in words that every memory has.
fn told<E: NorFlashError>(error: StoreError<E>) -> StoreError<NorFlashErrorKind> {
    match error {
        StoreError::Flash(error) => StoreError::Flash(error.kind()),
        StoreError::Full => StoreError::Full,
        StoreError::Foreign { sector } => StoreError::Foreign { sector },
        StoreError::Worn { sector } => StoreError::Worn { sector },
        StoreError::Version { version } => StoreError::Version { version },
        StoreError::TooFewSectors { sectors } => StoreError::TooFewSectors { sectors },
        StoreError::Damaged { first, last } => StoreError::Damaged { first, last },
        StoreError::Twice { number } => StoreError::Twice { number },
        StoreError::Record(error) => StoreError::Record(error),
        // The enum may grow; what is not known here leaves the memory unused until it is opened again.
        _ => StoreError::Stale,
    }
}
