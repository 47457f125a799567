//! One record: the frame of an entry with its number, filled up with zeros to a whole word.

use embedded_storage::nor_flash::NorFlash;

use super::flash::{MAX_WORD, whole_words};
use crate::record::entry::Entry;
use crate::record::entry::frame::{FrameError, MAX_FRAME, encode_numbered};

/// What is put behind a cut record, so often that it is no more likely to be what the record lacks than a checksum is to
/// fit by chance.
const SPOILER: u8 = 0x01;
const SPOILERS: usize = 4;

/// The longest frame, the words in front of it and what fills up its last one.
const ROOM: usize = MAX_FRAME + 2 * MAX_WORD;

/// The most bytes that a record takes, words in front of it included.
pub(super) const fn longest<F: NorFlash>() -> usize {
    whole_words::<F>(SPOILERS).saturating_add(whole_words::<F>(MAX_FRAME))
}

/// Bytes to program: whole words.
pub(super) struct Words {
    bytes: [u8; ROOM],
    length: usize,
}

impl Words {
    /// The record of an entry; behind a record that was cut, with words in front that spoil the rest of that one.
    ///
    /// Without it, a record that lacks nothing but its last zero would be closed by the first of the next, and an entry
    /// that was never acknowledged would appear between others.
    pub(super) fn of<F: NorFlash>(number: u32, entry: &Entry, behind_cut: bool) -> Result<Self, FrameError> {
        let mut words = Self { bytes: [0; ROOM], length: 0 };
        let spoiled = if behind_cut { whole_words::<F>(SPOILERS) } else { 0 };
        let (front, rest) = words.bytes.split_at_mut_checked(spoiled).ok_or(FrameError::BufferTooSmall)?;
        front.fill(SPOILER);
        let used = encode_numbered(number, entry, rest)?.len();
        words.length = whole_words::<F>(spoiled.saturating_add(used));
        Ok(words)
    }

    pub(super) fn bytes(&self) -> &[u8] {
        self.bytes.get(..self.length).unwrap_or(&self.bytes)
    }
}
