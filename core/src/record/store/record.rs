//! The records of a sector: each the frame of an entry with its number, filled up with zeros to a whole word.
//!
//! A record that was cut lacks bits and cannot be read. The next one begins so far behind the last byte programmed that
//! it can neither complete the cut one nor meet a word of it in which nothing shows.

use embedded_storage::nor_flash::NorFlash;

use super::flash::{self, BLANK, whole_words};
use super::mended::mended;
use super::sector::records_at;
use crate::record::entry::Entry;
use crate::record::entry::frame::{Frame, MAX_FRAME, decode};

/// Blank bytes behind the longest that a cut record can be: no more likely to be what it lacks than a checksum is to fit by
/// chance, and more than follow one another in a record.
const GAP: usize = 8;

/// A reader of the records of one sector.
#[derive(Debug)]
pub(super) struct Records {
    sector: usize,
    /// Where the next record begins, if it can be read.
    at: usize,
    /// Behind the last programmed byte.
    end: usize,
}

impl Records {
    /// From the first record on.
    pub(super) fn of<F: NorFlash>(flash: &mut F, sector: usize) -> Result<Self, F::Error> {
        let at = records_at::<F>();
        Ok(Self { sector, at, end: flash::programmed(flash, sector, at)? })
    }

    /// The next record that can be read; what cannot is passed over.
    pub(super) fn next<F: NorFlash>(&mut self, flash: &mut F) -> Result<Option<(u32, Entry)>, F::Error> {
        while self.at < self.end {
            let mut bytes = [BLANK; MAX_FRAME];
            let left = F::ERASE_SIZE.saturating_sub(self.at);
            let part = match bytes.get_mut(..left) {
                Some(part) => part,
                None => &mut bytes,
            };
            flash::read(flash, self.sector, self.at, part)?;
            let reach = reach(part);
            let found = mended(part.get_mut(..reach).unwrap_or_default(), record);
            let length = found.as_ref().map_or(1, |(length, ..)| *length);
            self.at = self.at.saturating_add(whole_words::<F>(length));
            if let Some((_, number, entry)) = found {
                return Ok(Some((number, entry)));
            }
        }
        Ok(None)
    }

    /// Where the next record may be programmed, once all have been read.
    pub(super) fn free<F: NorFlash>(&self, behind_last: usize) -> usize {
        if self.end <= behind_last {
            return behind_last;
        }
        whole_words::<F>(self.end.saturating_add(MAX_FRAME).saturating_add(GAP))
    }

    /// How far has been read.
    pub(super) const fn at(&self) -> usize {
        self.at
    }
}

/// How many bytes from the start of a record on may belong to it, one flipped bit considered: its zero in front or its
/// last may be none, or another byte one. Nothing of what does not begin with a zero.
fn reach(bytes: &[u8]) -> usize {
    if bytes.first().is_none_or(|first| first.count_ones() > 1) {
        return 0;
    }
    let mut zeros = bytes.iter().enumerate().skip(1).filter(|(_, byte)| **byte == 0);
    let zeros = zeros.nth(1).map_or(bytes.len(), |(last, _)| last.saturating_add(1));
    bytes.windows(GAP).position(|gap| *gap == [BLANK; GAP]).map_or(zeros, |cut| cut.min(zeros))
}

/// The record that begins with the first of the bytes, and its length.
fn record(bytes: &[u8]) -> Option<(usize, u32, Entry)> {
    let (0, rest) = bytes.split_first()? else { return None };
    let length = rest.iter().position(|byte| *byte == 0)?;
    match decode(rest.get(..length)?) {
        Ok(Frame::Numbered(number, entry)) => Some((length.saturating_add(2), number, entry)),
        _ => None,
    }
}
