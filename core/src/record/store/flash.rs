//! A flash memory by its sectors: the parts that are erased together.
//!
//! The store programs each word, the part that is programmed together, at most once between two erasures and in rising
//! order, so that memories with an error-correcting code a word serve as well. Words that follow one another go to the
//! driver in one call. What was programmed or erased is read back. Power may fail in the middle of any call: what a word
//! then holds whose programming was cut does not matter, nor what a sector holds whose erasing was cut, as long as they
//! can still be read.

use embedded_storage::nor_flash::NorFlash;

use super::StoreError;

/// What an unprogrammed byte reads as.
pub(super) const BLANK: u8 = 0xFF;
/// The widest word there may be: a page of the usual serial memories.
pub(super) const MAX_WORD: usize = 256;
/// Bytes read at once, and the most that a driver may ask to be read at once.
pub(super) const CHUNK: usize = 32;

/// How many sectors there are; what a whole one does not fit in is not used.
pub(super) fn sectors<F: NorFlash>(flash: &F) -> usize {
    let reached = flash.capacity().min(u32::MAX as usize);
    reached.checked_div(F::ERASE_SIZE).unwrap_or(0)
}

/// The smallest multiple of the word that is not below `length`.
pub(super) const fn whole_words<F: NorFlash>(length: usize) -> usize {
    length.next_multiple_of(if F::WRITE_SIZE == 0 { 1 } else { F::WRITE_SIZE })
}

/// Where an offset of a sector is in the memory. None of the sectors there are is beyond the reach of 32 bits.
fn place<F: NorFlash>(sector: usize, at: usize) -> u32 {
    u32::try_from(sector.saturating_mul(F::ERASE_SIZE).saturating_add(at)).unwrap_or(u32::MAX)
}

/// Reads from offset `at` of a sector.
pub(super) fn read<F: NorFlash>(
    flash: &mut F,
    sector: usize,
    at: usize,
    into: &mut [u8],
) -> Result<(), F::Error> {
    flash.read(place::<F>(sector, at), into)
}

/// Programs words from offset `at` of a sector in one call, and reads them back.
pub(super) fn program<F: NorFlash>(
    flash: &mut F,
    sector: usize,
    at: usize,
    words: &[u8],
) -> Result<(), StoreError<F::Error>> {
    flash.write(place::<F>(sector, at), words).map_err(StoreError::Flash)?;
    let mut from = at;
    let mut chunk = [BLANK; CHUNK];
    for part in words.chunks(CHUNK) {
        let back = chunk.get_mut(..part.len()).unwrap_or_default();
        read(flash, sector, from, back).map_err(StoreError::Flash)?;
        if back != part {
            return Err(StoreError::Worn { sector });
        }
        from = from.saturating_add(part.len());
    }
    Ok(())
}

/// Erases a sector, and reads that it is blank.
pub(super) fn erase<F: NorFlash>(flash: &mut F, sector: usize) -> Result<(), StoreError<F::Error>> {
    let done = flash.erase(place::<F>(sector, 0), place::<F>(sector, F::ERASE_SIZE));
    done.map_err(StoreError::Flash)?;
    match programmed(flash, sector, 0).map_err(StoreError::Flash)? {
        0 => Ok(()),
        _ => Err(StoreError::Worn { sector }),
    }
}

/// The offset behind the last programmed byte of a sector from one offset on; 0 when there is none.
pub(super) fn programmed<F: NorFlash>(flash: &mut F, sector: usize, from: usize) -> Result<usize, F::Error> {
    let (mut behind, mut at) = (0, from);
    let mut chunk = [BLANK; CHUNK];
    while at < F::ERASE_SIZE {
        let left = F::ERASE_SIZE.saturating_sub(at);
        let part = match chunk.get_mut(..left) {
            Some(part) => part,
            None => &mut chunk,
        };
        read(flash, sector, at, part)?;
        for byte in part.iter() {
            at = at.saturating_add(1);
            if *byte != BLANK {
                behind = at;
            }
        }
    }
    Ok(behind)
}
