//! RAM that behaves like flash memory, for a board that has none.

use core::convert::Infallible;

use halfskip::store::Flash;

/// Bytes of a sector.
const SECTOR: usize = 1024;

/// Sectors that are erased to ones and programmed to zeros.
#[derive(Debug)]
pub struct InRam<const SECTORS: usize> {
    cells: [[u8; SECTOR]; SECTORS],
}

impl<const SECTORS: usize> InRam<SECTORS> {
    /// A blank memory.
    #[must_use]
    pub const fn blank() -> Self {
        Self { cells: [[0xFF; SECTOR]; SECTORS] }
    }
}

impl<const SECTORS: usize> Flash for InRam<SECTORS> {
    type Error = Infallible;
    const SECTOR: usize = SECTOR;
    const WORD: usize = 4;

    fn sectors(&self) -> usize {
        SECTORS
    }

    fn read(&mut self, sector: usize, at: usize, into: &mut [u8]) -> Result<(), Infallible> {
        let cells = self.cells.get(sector).and_then(|cells| cells.get(at..)).unwrap_or(&[]);
        into.iter_mut().zip(cells).for_each(|(byte, cell)| *byte = *cell);
        Ok(())
    }

    fn program(&mut self, sector: usize, at: usize, bytes: &[u8]) -> Result<(), Infallible> {
        let cells = self.cells.get_mut(sector).and_then(|cells| cells.get_mut(at..)).unwrap_or(&mut []);
        cells.iter_mut().zip(bytes).for_each(|(cell, byte)| *cell &= byte);
        Ok(())
    }

    fn erase(&mut self, sector: usize) -> Result<(), Infallible> {
        self.cells.get_mut(sector).into_iter().flatten().for_each(|cell| *cell = 0xFF);
        Ok(())
    }
}
