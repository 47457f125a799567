//! Frames: what a device stores and sends.
//!
//! ```text
//! 00 | COBS( head u8 | content | CRC-32C of both, little endian ) | 00
//! head = version              postcard(entry)                     a fact
//! head = 80 + version         number u32 | postcard(entry)        a fact with its number, as a log keeps it
//! head = 40 + version         postcard(control)                   what two ends of a line say about their facts
//! ```
//!
//! COBS leaves no zero inside, so a zero marks both ends; the leading one lets a reader resynchronise after noise. The
//! version stands first because postcard does not describe itself: entries of another version are refused, not guessed.

mod mixed;
mod reader;
mod seal;

pub use mixed::{Mixed, Piece};
pub use reader::{FrameReader, Skipped};
pub(crate) use seal::checksum;

use core::fmt;

use serde::{Deserialize, Serialize};

use super::Entry;
use reader::Between;
use seal::{seal, unseal};

/// The version of the entry's layout.
pub const VERSION: u8 = 2;
/// Room for the largest frame, delimiters included.
pub const MAX_FRAME: usize = 256;
/// Head, content and checksum: short enough for COBS to add a single byte.
const MAX_BODY: usize = MAX_FRAME - 3;
const NUMBERED: u8 = 0x80 | VERSION;
const CONTROL: u8 = 0x40 | VERSION;

/// What a frame holds.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Frame {
    /// A fact, whose number is for the receiver to give.
    Fact(Entry),
    /// A fact with its number.
    Numbered(u32, Entry),
    /// What two ends of a line say about their facts.
    Control(Control),
}

/// What two ends of a line say about their facts.
///
/// The order of the variants is the wire format: new ones are appended, none is moved or changed.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Control {
    /// Send your facts from this number on, then your last number; from now on send each fact that you take.
    Ask(u32),
    /// The number of my last fact; 0 of none.
    Last(u32),
    /// I have not taken the fact of this number.
    Refused(u32),
}

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
                write!(f, "the frame has version {version}; this program reads version {VERSION}")
            }
            Self::NotAnEntry => f.write_str("the frame holds no entry"),
            Self::NotPlain => f.write_str("a text of the entry holds a control character"),
            Self::TooLong => f.write_str("there is no end within the length of a frame"),
            Self::Cut => f.write_str("the frame is cut short"),
        }
    }
}

impl core::error::Error for FrameError {}

/// Writes the frame of a fact, delimiters included, and returns the bytes used.
///
/// # Errors
/// [`FrameError::BufferTooSmall`]; [`MAX_FRAME`] bytes are enough for every entry. [`FrameError::NotPlain`].
///
/// ```
/// use halfskip::record::entry::{Entry, Text, frame};
/// let entry = Entry::Title(Text::try_from("Invented weld").unwrap());
/// let mut buffer = [0; frame::MAX_FRAME];
/// let bytes = frame::encode(&entry, &mut buffer).unwrap();
/// assert_eq!(frame::decode(bytes), Ok(frame::Frame::Fact(entry)));
/// ```
pub fn encode<'a>(entry: &Entry, buffer: &'a mut [u8]) -> Result<&'a [u8], FrameError> {
    seal(&[VERSION], plain(entry)?, &mut [0; MAX_BODY], buffer)
}

/// Writes the frame of a fact with its number, as [`encode`] does.
///
/// # Errors
/// As those of [`encode`].
pub fn encode_numbered<'a>(number: u32, entry: &Entry, buffer: &'a mut [u8]) -> Result<&'a [u8], FrameError> {
    let [a, b, c, d] = number.to_le_bytes();
    seal(&[NUMBERED, a, b, c, d], plain(entry)?, &mut [0; MAX_BODY], buffer)
}

/// Writes the frame of a control, as [`encode`] does.
///
/// # Errors
/// [`FrameError::BufferTooSmall`]; 16 bytes are enough.
pub fn encode_control(control: Control, buffer: &mut [u8]) -> Result<&[u8], FrameError> {
    seal(&[CONTROL], &control, &mut [0; 16], buffer)
}

/// Reads one frame, with or without its delimiters.
///
/// # Errors
/// [`FrameError`]: not COBS, checksum, version, no entry, or not plain; bytes left over count as no entry.
pub fn decode(frame: &[u8]) -> Result<Frame, FrameError> {
    let mut body = [0; MAX_BODY];
    match unseal(frame, &mut body)? {
        [VERSION, entry @ ..] => entry_of(entry).map(Frame::Fact),
        [NUMBERED, a, b, c, d, entry @ ..] => {
            let number = u32::from_le_bytes([*a, *b, *c, *d]);
            entry_of(entry).map(|entry| Frame::Numbered(number, entry))
        }
        [CONTROL, control @ ..] => whole(control).map(Frame::Control),
        [NUMBERED, ..] => Err(FrameError::NotAnEntry),
        [head, ..] => Err(FrameError::Version(head & 0x3F)),
        [] => Err(FrameError::NotAFrame),
    }
}

fn plain(entry: &Entry) -> Result<&Entry, FrameError> {
    if entry.is_plain() { Ok(entry) } else { Err(FrameError::NotPlain) }
}

fn entry_of(bytes: &[u8]) -> Result<Entry, FrameError> {
    let entry = whole(bytes)?;
    plain(&entry)?;
    Ok(entry)
}

/// What these bytes are, to the last one.
fn whole<'b, T: Deserialize<'b>>(bytes: &'b [u8]) -> Result<T, FrameError> {
    match postcard::take_from_bytes(bytes) {
        Ok((content, [])) => Ok(content),
        _ => Err(FrameError::NotAnEntry),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::Text;

    #[test]
    fn a_sound_frame_with_a_control_character_is_no_entry_to_be_kept() {
        let mut buffer = [0; MAX_FRAME];
        let entry = Entry::Note(Text::try_from("two\nlines").unwrap());
        assert_eq!(encode(&entry, &mut buffer), Err(FrameError::NotPlain));
        let sealed = seal(&[VERSION], &entry, &mut [0; MAX_BODY], &mut buffer).unwrap();
        assert_eq!(decode(sealed), Err(FrameError::NotPlain));
    }

    #[test]
    fn a_frame_of_the_first_version_is_refused_by_name() {
        let mut buffer = [0; MAX_FRAME];
        for head in [&[1][..], &[0x81, 7, 0, 0, 0], &[0x41]] {
            let sealed = seal(head, &Entry::Units(super::super::LengthUnit::In), &mut [0; 64], &mut buffer);
            let error = decode(sealed.unwrap()).unwrap_err();
            let told = std::string::ToString::to_string(&error);
            assert_eq!(told, "the frame has version 1; this program reads version 2");
        }
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
