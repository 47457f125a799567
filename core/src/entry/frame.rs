//! The entry as a frame: what a device stores and sends.
//!
//! ```text
//! 00 | COBS( version u8 | postcard(entry) | CRC-32C of both, little endian ) | 00
//! ```
//!
//! COBS leaves no zero inside, so a zero marks both ends; the leading one lets a reader resynchronise after noise. The
//! version stands first because postcard does not describe itself: entries of another version are refused, not guessed.

mod reader;
mod seal;

pub(crate) use reader::Between;
pub use reader::{FrameReader, Skipped};
pub(crate) use seal::{checksum, seal, unseal};

use core::fmt;

use super::Entry;

/// The version of the entry's layout.
pub const VERSION: u8 = 1;
/// Room for the largest frame, delimiters included.
pub const MAX_FRAME: usize = 256;
/// Version, entry and checksum: short enough for COBS to add a single byte.
pub(crate) const MAX_BODY: usize = MAX_FRAME - 3;

/// Why a frame could not be made or read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum FrameError {
    /// The buffer is too small for the frame.
    BufferTooSmall,
    /// The bytes are not COBS.
    NotAFrame,
    /// The checksum does not fit the bytes.
    Checksum,
    /// A version this program does not know.
    Version(u8),
    /// The checksum fits, but the bytes are no entry of this version.
    NotAnEntry,
    /// A text of the entry holds a control character, which would tear a line or reach a terminal.
    NotPlain,
    /// More bytes between two zeros than a frame can have.
    TooLong,
    /// The bytes end without the zero that closes a frame.
    Cut,
}

impl fmt::Display for FrameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BufferTooSmall => f.write_str("the buffer is too small for the frame"),
            Self::NotAFrame => f.write_str("the bytes are not a frame"),
            Self::Checksum => f.write_str("the frame's checksum does not fit"),
            Self::Version(version) => {
                write!(f, "the frame has version {version}; version {VERSION} is known")
            }
            Self::NotAnEntry => f.write_str("the frame holds no entry"),
            Self::NotPlain => f.write_str("a text of the entry holds a control character"),
            Self::TooLong => f.write_str("there is no end within the length of a frame"),
            Self::Cut => f.write_str("the frame is cut short"),
        }
    }
}

impl core::error::Error for FrameError {}

/// Writes the frame of an entry, delimiters included, and returns the bytes used.
///
/// # Errors
/// [`FrameError::BufferTooSmall`]; [`MAX_FRAME`] bytes are enough for every entry. [`FrameError::NotPlain`].
///
/// ```
/// use halfskip::entry::{Entry, Text, frame};
/// let entry = Entry::Title(Text::try_from("Invented weld").unwrap());
/// let mut buffer = [0; frame::MAX_FRAME];
/// let bytes = frame::encode(&entry, &mut buffer).unwrap();
/// assert_eq!(frame::decode(bytes), Ok(entry));
/// ```
pub fn encode<'a>(entry: &Entry, buffer: &'a mut [u8]) -> Result<&'a [u8], FrameError> {
    if !entry.is_plain() {
        return Err(FrameError::NotPlain);
    }
    pack(entry, buffer)
}

fn pack<'a>(entry: &Entry, buffer: &'a mut [u8]) -> Result<&'a [u8], FrameError> {
    seal(&[VERSION], entry, &mut [0; MAX_BODY], buffer)
}

/// Reads one frame, with or without its delimiters.
///
/// # Errors
/// [`FrameError`]: not COBS, checksum, version, no entry, or not plain; bytes left over count as no entry.
pub fn decode(frame: &[u8]) -> Result<Entry, FrameError> {
    let mut body = [0; MAX_BODY];
    match unseal(frame, &mut body)?.split_first() {
        Some((&VERSION, entry)) => entry_of(entry),
        Some((&version, _)) => Err(FrameError::Version(version)),
        None => Err(FrameError::NotAFrame),
    }
}

/// The entry that these bytes are, to the last one.
pub(crate) fn entry_of(bytes: &[u8]) -> Result<Entry, FrameError> {
    match postcard::take_from_bytes::<Entry>(bytes) {
        Ok((entry, [])) if entry.is_plain() => Ok(entry),
        Ok((_, [])) => Err(FrameError::NotPlain),
        _ => Err(FrameError::NotAnEntry),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::entry::Text;

    #[test]
    fn a_sound_frame_with_a_control_character_is_no_entry_to_be_kept() {
        let mut buffer = [0; MAX_FRAME];
        let entry = Entry::Note(Text::try_from("two\nlines").unwrap());
        assert_eq!(encode(&entry, &mut buffer), Err(FrameError::NotPlain));
        assert_eq!(decode(pack(&entry, &mut buffer).unwrap()), Err(FrameError::NotPlain));
    }

    #[test]
    fn a_changed_byte_is_found() {
        let mut buffer = [0; MAX_FRAME];
        let length = encode(&Entry::Note(Text::try_from("note").unwrap()), &mut buffer).unwrap().len();
        let frame = buffer.get_mut(..length).unwrap();
        for index in 1..length - 1 {
            frame[index] ^= 1;
            assert!(decode(frame).is_err(), "{index}");
            frame[index] ^= 1;
        }
        assert!(decode(frame).is_ok());
    }
}
