//! One record: an entry with its number, sealed.
//!
//! ```text
//! 00 | COBS( 80 + version | number u32 | postcard(entry) | CRC-32C, little endian ) | 00 | 00 up to a whole word
//! ```

use super::Flash;
use super::sector::{MAX_WORD, whole_words};
use crate::entry::Entry;
use crate::entry::frame::{FrameError, MAX_BODY, MAX_FRAME, VERSION, entry_of, seal, unseal};

/// What a record begins with: the entry's version, apart from that of a frame, so that neither is taken for the other.
const RECORD: u8 = 0x80 | VERSION;
/// What is put behind a cut record, so often that it is no more likely to be what the record lacks than a checksum is to
/// fit by chance.
const SPOILER: u8 = 0x01;
const SPOILERS: usize = 4;

/// An entry with its number.
#[derive(Debug)]
pub(super) struct Record {
    pub(super) number: u32,
    pub(super) entry: Entry,
}

/// Bytes to program: whole words.
pub(super) struct Words {
    bytes: [u8; MAX_FRAME + 2 * MAX_WORD],
    length: usize,
}

impl Words {
    /// The record of an entry; behind a record that was cut, with words in front that spoil the rest of that one.
    ///
    /// Without it, a record that lacks nothing but its last zero would be closed by the first of the next, and an entry
    /// that was never acknowledged would appear between others.
    pub(super) fn of<F: Flash>(number: u32, entry: &Entry, behind_cut: bool) -> Result<Self, FrameError> {
        if !entry.is_plain() {
            return Err(FrameError::NotPlain);
        }
        let mut words = Self { bytes: [0; MAX_FRAME + 2 * MAX_WORD], length: 0 };
        let [a, b, c, d] = number.to_le_bytes();
        let spoiled = if behind_cut { whole_words::<F>(SPOILERS) } else { 0 };
        let (front, rest) = words.bytes.split_at_mut_checked(spoiled).ok_or(FrameError::BufferTooSmall)?;
        front.fill(SPOILER);
        let used = seal(&[RECORD, a, b, c, d], entry, &mut [0; MAX_BODY], rest)?.len();
        words.length = whole_words::<F>(spoiled.saturating_add(used));
        Ok(words)
    }

    pub(super) fn bytes(&self) -> &[u8] {
        self.bytes.get(..self.length).unwrap_or(&self.bytes)
    }
}

/// The record that these bytes are.
pub(super) fn read(frame: &[u8]) -> Result<Record, FrameError> {
    let mut body = [0; MAX_BODY];
    match unseal(frame, &mut body)? {
        [RECORD, a, b, c, d, entry @ ..] => {
            Ok(Record { number: u32::from_le_bytes([*a, *b, *c, *d]), entry: entry_of(entry)? })
        }
        [version, ..] => Err(FrameError::Version(version & !0x80)),
        [] => Err(FrameError::NotAFrame),
    }
}
