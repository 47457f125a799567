//! What the store asks of a flash memory.

/// A flash memory, or the part of one that is given to the store.
///
/// Erasing sets every byte of a sector to `0xFF`; programming clears bits. The store programs each word at most once
/// between two erasures, in rising order, so that memories with an error-correcting code per word serve as well.
///
/// Power may fail in the middle of any call. What a word then holds whose programming was cut does not matter, nor what
/// a sector holds whose erasing was cut, as long as they can still be read.
pub trait Flash {
    /// Why the memory did not do as it was asked.
    type Error;

    /// Bytes that are erased together: a multiple of [`WORD`](Self::WORD), 512 or more.
    const SECTOR: usize;
    /// Bytes that are programmed together: a power of two up to 32.
    const WORD: usize;

    /// How many sectors there are.
    fn sectors(&self) -> usize;

    /// Reads from offset `at` of a sector.
    ///
    /// # Errors
    /// That the memory cannot be read.
    fn read(&mut self, sector: usize, at: usize, into: &mut [u8]) -> Result<(), Self::Error>;

    /// Programs whole words from offset `at` of a sector.
    ///
    /// # Errors
    /// That the memory cannot be programmed.
    fn program(&mut self, sector: usize, at: usize, bytes: &[u8]) -> Result<(), Self::Error>;

    /// Erases a sector.
    ///
    /// # Errors
    /// That the memory cannot be erased.
    fn erase(&mut self, sector: usize) -> Result<(), Self::Error>;
}

impl<F: Flash> Flash for &mut F {
    type Error = F::Error;
    const SECTOR: usize = F::SECTOR;
    const WORD: usize = F::WORD;

    fn sectors(&self) -> usize {
        (**self).sectors()
    }

    fn read(&mut self, sector: usize, at: usize, into: &mut [u8]) -> Result<(), F::Error> {
        (**self).read(sector, at, into)
    }

    fn program(&mut self, sector: usize, at: usize, bytes: &[u8]) -> Result<(), F::Error> {
        (**self).program(sector, at, bytes)
    }

    fn erase(&mut self, sector: usize) -> Result<(), F::Error> {
        (**self).erase(sector)
    }
}
