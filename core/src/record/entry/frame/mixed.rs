//! Frames among text: a console that a person and a program use at once.

use super::{Between, Frame, Skipped};

/// What a byte of a mixed stream completed.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(
    clippy::large_enum_variant,
    reason = "one part is held at a time, and there is no heap to put it on"
)]
pub enum Piece {
    /// A byte of text.
    Text(u8),
    /// A frame.
    Frame(Frame),
    /// Bytes that were neither.
    Skipped(Skipped),
}

/// Takes a stream apart that is text, never with a zero in it, and frames between zeros.
///
/// A frame that cannot be read leaves the reader waiting for another, since its last zero may be the first of the next;
/// so does a zero in a text. What is then too long for a frame is text again.
///
/// ```
/// use halfskip::record::entry::{Entry, LengthUnit, frame};
/// let mut buffer = [0; frame::MAX_FRAME];
/// let bytes = frame::encode(&Entry::Units(LengthUnit::In), &mut buffer).unwrap();
/// let mut mixed = frame::Mixed::new();
/// let (mut text, mut frames) = (Vec::new(), 0);
/// for byte in b"> ".iter().chain(bytes).chain(b"units").copied() {
///     match mixed.push(byte) {
///         Some(frame::Piece::Text(byte)) => text.push(byte),
///         Some(frame::Piece::Frame(_)) => frames += 1,
///         _ => {}
///     }
/// }
/// assert_eq!((text.as_slice(), frames), (b"> units".as_slice(), 1));
/// ```
#[derive(Clone, Debug, Default)]
pub struct Mixed {
    between: Between,
    in_frame: bool,
}

impl Mixed {
    /// A reader that has seen nothing and takes what comes for text.
    #[must_use]
    pub const fn new() -> Self {
        Self { between: Between::new(), in_frame: false }
    }

    /// Takes one byte.
    #[inline(never)]
    pub fn push(&mut self, byte: u8) -> Option<Piece> {
        if !self.in_frame {
            self.in_frame = byte == 0;
            return (byte != 0).then_some(Piece::Text(byte));
        }
        match self.between.push(byte) {
            Some(Ok(frame)) => {
                self.in_frame = false;
                Some(Piece::Frame(frame))
            }
            Some(Err(skipped)) => Some(Piece::Skipped(skipped)),
            None if self.between.is_too_long() => self.finish(),
            None => None,
        }
    }

    /// Gives up a frame that has begun, and tells of its bytes; text comes next.
    pub fn finish(&mut self) -> Option<Piece> {
        let skipped = self.between.skipped(super::FrameError::Cut);
        self.between.restart();
        self.in_frame = false;
        (skipped.bytes > 0).then_some(Piece::Skipped(skipped))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::frame::{Control, FrameError, encode_control};
    use std::vec::Vec;

    const ASK: Piece = Piece::Frame(Frame::Control(Control::Ask(1)));

    fn parts(bytes: &[&[u8]]) -> Vec<Piece> {
        let mut mixed = Mixed::new();
        bytes.iter().copied().flatten().filter_map(|byte| mixed.push(*byte)).collect()
    }

    fn ask(buffer: &mut [u8; 16]) -> &[u8] {
        encode_control(Control::Ask(1), buffer).unwrap()
    }

    #[test]
    fn a_lost_first_zero_costs_one_frame() {
        let mut buffer = [0; 16];
        let ask = ask(&mut buffer);
        let found = parts(&[&ask[1..], ask, b"x"]);
        let texts = found.iter().filter(|part| matches!(part, Piece::Text(_))).count();
        assert_eq!(texts, ask.len() - 2 + 1);
        assert!(found.contains(&ASK) && found.last() == Some(&Piece::Text(b'x')));
    }

    #[test]
    fn a_zero_in_a_text_ends_no_later_than_with_the_next_frame() {
        let mut buffer = [0; 16];
        let found = parts(&[b"ab\0cd", ask(&mut buffer), b"e"]);
        let skipped = Piece::Skipped(Skipped { bytes: 2, why: FrameError::NotAFrame });
        assert_eq!(found, [Piece::Text(b'a'), Piece::Text(b'b'), skipped, ASK, Piece::Text(b'e')]);
    }

    #[test]
    fn a_zero_in_a_text_without_frames_costs_no_more_than_a_frame() {
        let text = [b'x'; 2 * crate::record::entry::frame::MAX_FRAME];
        let found = parts(&[b"\0", &text]);
        let texts = found.iter().filter(|part| matches!(part, Piece::Text(_))).count();
        assert_eq!(texts, text.len() - crate::record::entry::frame::MAX_FRAME - 1);
    }
}
