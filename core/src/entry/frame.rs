//! The entry as a frame: what a device stores and sends.
//!
//! ```text
//! 00 | COBS( version u8 | postcard(entry) | CRC-32C of both, little endian ) | 00
//! ```
//!
//! COBS leaves no zero inside, so a zero marks both ends; the leading one lets a reader resynchronise after noise. The
//! version stands first because postcard does not describe itself: entries of another version are refused, not guessed.

mod reader;

pub use reader::{FrameReader, Skipped};

use core::fmt;

use super::Entry;

/// The version of the entry's layout.
pub const VERSION: u8 = 1;
/// Room for the largest frame, delimiters included.
pub const MAX_FRAME: usize = 256;
/// Version, entry and checksum: short enough for COBS to add a single byte.
const MAX_BODY: usize = MAX_FRAME - 3;
const CHECKSUM: crc::Crc<u32, crc::NoTable> = crc::Crc::<u32, crc::NoTable>::new(&crc::CRC_32_ISCSI);

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
    let mut body = [0u8; MAX_BODY];
    let (version, rest) = body.split_first_mut().ok_or(FrameError::BufferTooSmall)?;
    *version = VERSION;
    let used = postcard::to_slice(entry, rest).map_err(|_| FrameError::BufferTooSmall)?.len();
    let length = used.saturating_add(1);
    let checksum = CHECKSUM.checksum(body.get(..length).ok_or(FrameError::BufferTooSmall)?);
    let end = length.saturating_add(4);
    let free = body.get_mut(length..).and_then(|rest| rest.first_chunk_mut::<4>());
    *free.ok_or(FrameError::BufferTooSmall)? = checksum.to_le_bytes();
    let body = body.get(..end).ok_or(FrameError::BufferTooSmall)?;
    if buffer.len() < cobs::max_encoding_length(body.len()).saturating_add(2) {
        return Err(FrameError::BufferTooSmall);
    }
    let (first, rest) = buffer.split_first_mut().ok_or(FrameError::BufferTooSmall)?;
    *first = 0;
    let coded = cobs::try_encode(body, rest).map_err(|_| FrameError::BufferTooSmall)?;
    *rest.get_mut(coded).ok_or(FrameError::BufferTooSmall)? = 0;
    buffer.get(..coded.saturating_add(2)).ok_or(FrameError::BufferTooSmall)
}

/// Reads one frame, with or without its delimiters.
///
/// # Errors
/// [`FrameError`]: not COBS, checksum, version, no entry, or not plain; bytes left over count as no entry.
pub fn decode(frame: &[u8]) -> Result<Entry, FrameError> {
    let frame = frame.strip_prefix(&[0]).unwrap_or(frame);
    let frame = frame.strip_suffix(&[0]).unwrap_or(frame);
    let mut body = [0u8; MAX_BODY];
    if frame.is_empty() || frame.len() > MAX_FRAME || frame.contains(&0) {
        return Err(FrameError::NotAFrame);
    }
    let length = cobs::decode(frame, &mut body).map_err(|_| FrameError::NotAFrame)?;
    let body = body.get(..length).ok_or(FrameError::NotAFrame)?;
    let (content, checksum) = body.split_last_chunk::<4>().ok_or(FrameError::NotAFrame)?;
    if CHECKSUM.checksum(content) != u32::from_le_bytes(*checksum) {
        return Err(FrameError::Checksum);
    }
    let (version, entry) = content.split_first().ok_or(FrameError::NotAFrame)?;
    if *version != VERSION {
        return Err(FrameError::Version(*version));
    }
    match postcard::take_from_bytes::<Entry>(entry) {
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
