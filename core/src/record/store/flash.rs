//! A flash memory by its sectors: the parts that are erased together.
//!
//! The store programs each word, the part that is programmed together, at most once between two erasures and in rising
//! order, so that memories with an error-correcting code a word serve as well. Power may fail in the middle of any call.
//! What a word then holds whose programming was cut does not matter, nor what a sector holds whose erasing was cut, as
//! long as they can still be read.

use core::ops::Range;

use embedded_storage::nor_flash::NorFlash;

/// What an unprogrammed byte reads as.
pub(super) const BLANK: u8 = 0xFF;
/// The widest word there may be.
pub(super) const MAX_WORD: usize = 32;

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

/// Programs words from offset `at` of a sector, in runs without those that would not change: an error-correcting code
/// would make them programmed, though they still read as blank.
pub(super) fn program<F: NorFlash>(
    flash: &mut F,
    sector: usize,
    at: usize,
    words: &[u8],
) -> Result<(), F::Error> {
    let mut write = |run: Range<usize>| match words.get(run.clone()) {
        Some(bytes) if !bytes.is_empty() => {
            flash.write(place::<F>(sector, at.saturating_add(run.start)), bytes)
        }
        _ => Ok(()),
    };
    let mut run = 0..0usize;
    for word in words.chunks(whole_words::<F>(1)) {
        let end = run.end.saturating_add(word.len());
        if word.iter().all(|byte| *byte == BLANK) {
            write(core::mem::replace(&mut run, end..end))?;
        } else {
            run.end = end;
        }
    }
    write(run)
}

/// Erases a sector.
pub(super) fn erase<F: NorFlash>(flash: &mut F, sector: usize) -> Result<(), F::Error> {
    flash.erase(place::<F>(sector, 0), place::<F>(sector, F::ERASE_SIZE))
}
