//! Why the store did not keep or give an entry.

use core::fmt;

use crate::record::entry::frame::{FrameError, VERSION};

/// Why the store did not keep or give an entry; `E` is the flash memory's own error.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum StoreError<E> {
    /// The flash memory failed.
    Flash(E),
    /// Every sector is full, and the oldest entries may not make room.
    Full,
    /// A memory that is no log is not blank: it holds something else, or is not erased to ones.
    Foreign {
        /// The sector.
        sector: usize,
    },
    /// A sector does not read as it was erased or programmed: a cell of it is stuck. The store has to be opened again.
    Worn {
        /// The sector.
        sector: usize,
    },
    /// The memory holds entries that a program of another version kept. Nothing of it was changed.
    Version {
        /// That version.
        version: u8,
    },
    /// A ring needs two sectors, any store one.
    TooFewSectors {
        /// How many there are.
        sectors: usize,
    },
    /// Entries that were kept can no longer be read.
    Damaged {
        /// The first of them.
        first: u32,
        /// The last of them.
        last: u32,
    },
    /// A number has come a second time; which of the two entries was acknowledged cannot be told.
    Twice {
        /// The number.
        number: u32,
    },
    /// The flash memory failed before; the store has to be opened again.
    Stale,
    /// The entry finds no room in a record.
    Record(FrameError),
}

impl<E: fmt::Display> fmt::Display for StoreError<E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Flash(error) => write!(f, "the memory failed: {error}"),
            Self::Full => f.write_str("the memory is full; nothing recorded was overwritten"),
            Self::Foreign { sector } => {
                write!(f, "sector {sector} holds something other than entries; format it to use it")
            }
            Self::Worn { sector } => {
                write!(f, "sector {sector} does not read back as it was written: the memory is worn")
            }
            Self::Version { version } => {
                write!(f, "the memory has version {version}; this program reads version {VERSION}")
            }
            Self::TooFewSectors { sectors } => write!(f, "{sectors} sectors are too few"),
            Self::Damaged { first, last } => write!(f, "entries {first} to {last} can no longer be read"),
            Self::Twice { number } => write!(f, "entry {number} is there twice"),
            Self::Stale => f.write_str("the memory failed before; open it again"),
            Self::Record(error) => error.fmt(f),
        }
    }
}

impl<E: fmt::Debug + fmt::Display> core::error::Error for StoreError<E> {}
