//! RAM that behaves like flash memory, for a board that has none.

use halfskip::record::store::nor_flash::{
    ErrorType, NorFlash, NorFlashErrorKind, ReadNorFlash, check_erase, check_read, check_write,
};

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

impl<const SECTORS: usize> ErrorType for InRam<SECTORS> {
    type Error = NorFlashErrorKind;
}

impl<const SECTORS: usize> ReadNorFlash for InRam<SECTORS> {
    const READ_SIZE: usize = 1;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), NorFlashErrorKind> {
        check_read(self, offset, bytes.len())?;
        let cells = self.cells.as_flattened().iter().skip(offset as usize);
        bytes.iter_mut().zip(cells).for_each(|(byte, cell)| *byte = *cell);
        Ok(())
    }

    fn capacity(&self) -> usize {
        SECTOR * SECTORS
    }
}

impl<const SECTORS: usize> NorFlash for InRam<SECTORS> {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = SECTOR;

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), NorFlashErrorKind> {
        check_write(self, offset, bytes.len())?;
        let cells = self.cells.as_flattened_mut().iter_mut().skip(offset as usize);
        cells.zip(bytes).for_each(|(cell, byte)| *cell &= byte);
        Ok(())
    }

    fn erase(&mut self, from: u32, to: u32) -> Result<(), NorFlashErrorKind> {
        check_erase(self, from, to)?;
        let cells = self.cells.as_flattened_mut().get_mut(from as usize..to as usize);
        cells.into_iter().flatten().for_each(|cell| *cell = 0xFF);
        Ok(())
    }
}
