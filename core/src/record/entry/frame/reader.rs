//! Frames out of a stream of bytes that may begin anywhere, lose bytes and carry noise.

use heapless::Vec;

use super::{Frame, FrameError, MAX_FRAME, decode};

/// Bytes that were no frame: how many, zeros not counted, and why.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Skipped {
    /// How many bytes.
    pub bytes: u32,
    /// What was wrong with them.
    pub why: FrameError,
}

impl core::fmt::Display for Skipped {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{} bytes skipped: {}", self.bytes, self.why)
    }
}

impl core::error::Error for Skipped {}

/// Collects bytes from zero to zero and decodes what stands between.
///
/// What is too long for a frame is dropped up to the next zero, never decoded from its middle. Two zeros with nothing
/// between them say nothing.
///
/// ```
/// use halfskip::record::entry::{Entry, LengthUnit, frame};
/// let entry = Entry::Units(LengthUnit::In);
/// let mut buffer = [0; frame::MAX_FRAME];
/// let bytes = frame::encode(&entry, &mut buffer).unwrap();
/// let fact = frame::Frame::Fact(entry);
/// let mut reader = frame::FrameReader::new();
/// let stream = b"noise".iter().chain(bytes).copied();
/// let read: Vec<_> = stream.filter_map(|byte| reader.push(byte)).collect();
/// let noise = frame::Skipped { bytes: 5, why: frame::FrameError::NotAFrame };
/// assert_eq!(read, [Err(noise), Ok(fact)]);
/// ```
#[derive(Clone, Debug, Default)]
pub struct FrameReader {
    between: Between,
}

impl FrameReader {
    /// A reader that has seen nothing.
    #[must_use]
    pub const fn new() -> Self {
        Self { between: Between::new() }
    }

    /// Takes one byte; a zero that closes something gives the frame, or what was skipped.
    ///
    /// # Errors
    /// [`Skipped`]: what stood between the last two zeros is no frame.
    pub fn push(&mut self, byte: u8) -> Option<Result<Frame, Skipped>> {
        self.between.push(byte)
    }

    /// Tells of bytes that no zero has closed, when the stream ends, and forgets them.
    pub fn finish(&mut self) -> Option<Skipped> {
        let skipped = self.between.skipped(FrameError::Cut);
        self.between.restart();
        (skipped.bytes > 0).then_some(skipped)
    }
}

/// The bytes between two zeros.
#[derive(Clone, Debug, Default)]
pub(super) struct Between {
    bytes: Vec<u8, MAX_FRAME>,
    /// How many bytes found no room.
    beyond: u32,
}

impl Between {
    pub(super) const fn new() -> Self {
        Self { bytes: Vec::new(), beyond: 0 }
    }

    /// Takes one byte; a zero that closes something has it decoded.
    pub(super) fn push(&mut self, byte: u8) -> Option<Result<Frame, Skipped>> {
        if byte != 0 {
            if self.bytes.push(byte).is_err() {
                self.beyond = self.beyond.saturating_add(1);
            }
            return None;
        }
        if self.bytes.is_empty() {
            return None;
        }
        let result = if self.beyond == 0 { decode(&self.bytes) } else { Err(FrameError::TooLong) };
        let result = result.map_err(|why| self.skipped(why));
        self.restart();
        Some(result)
    }

    /// Whether no frame can be as long as this.
    pub(super) const fn is_too_long(&self) -> bool {
        self.beyond > 0
    }

    pub(super) fn skipped(&self, why: FrameError) -> Skipped {
        let held = u32::try_from(self.bytes.len()).unwrap_or(u32::MAX);
        Skipped { bytes: held.saturating_add(self.beyond), why }
    }

    pub(super) fn restart(&mut self) {
        self.bytes.clear();
        self.beyond = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::frame::encode;
    use crate::record::entry::{Entry, LengthUnit};
    use std::vec::Vec;

    const FACT: Entry = Entry::Units(LengthUnit::In);

    fn read(parts: &[&[u8]]) -> Vec<Result<Frame, Skipped>> {
        let mut reader = FrameReader::new();
        let mut read: Vec<_> =
            parts.iter().copied().flatten().filter_map(|byte| reader.push(*byte)).collect();
        read.extend(reader.finish().map(Err));
        read
    }

    #[test]
    fn an_over_long_run_is_dropped_to_the_next_zero() {
        let mut buffer = [0; MAX_FRAME];
        let frame = encode(&FACT, &mut buffer).unwrap();
        // The frame's own bytes at the end of a run of noise are part of the noise.
        let noise = [1u8; 1000];
        let inner = &frame[1..];
        let skipped = Skipped { bytes: 1000 + inner.len() as u32 - 1, why: FrameError::TooLong };
        assert_eq!(read(&[&noise, inner, frame]), [Err(skipped), Ok(Frame::Fact(FACT))]);
    }

    #[test]
    fn a_frame_without_its_last_zero_is_cut() {
        let mut buffer = [0; MAX_FRAME];
        let frame = encode(&FACT, &mut buffer).unwrap();
        let (_, cut) = frame.split_last().unwrap();
        let skipped = Skipped { bytes: cut.len() as u32 - 1, why: FrameError::Cut };
        assert_eq!(read(&[frame, cut]), [Ok(Frame::Fact(FACT)), Err(skipped)]);
        assert_eq!(read(&[&[0, 0, 0]]), []);
    }
}
