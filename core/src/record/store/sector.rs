//! One sector: a mark that retires it, a head that gives it its place, and records.
//!
//! ```text
//! mark (one word, unprogrammed while the sector is in use)
//! head "HSL" | version of the entries' layout, a digit | sequence u32 | number of its first entry u32 | CRC-32C,
//!     little endian, filled up to whole words
//! records
//! ```
//!
//! The mark stands first: when erasing is cut and leaves the lower part of the sector, the mark is among it.

use embedded_storage::nor_flash::NorFlash;

use super::flash::{self, BLANK, MAX_WORD, whole_words};
use crate::record::entry::frame::{VERSION, checksum};

const MAGIC: [u8; 4] = [b'H', b'S', b'L', b'0' + VERSION];
/// Bytes of a head.
pub(super) const HEAD: usize = 16;

/// A sector in use.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Head {
    /// One more than that of the sector before it.
    pub(super) sequence: u32,
    /// The number of its first entry, whether it has one yet or not.
    pub(super) first: u32,
}

/// What a sector is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Found {
    /// Nothing is programmed.
    Blank,
    /// It is in use.
    Live(Head),
    /// It was retired, or power failed before it came into use: it can be erased.
    Spent,
    /// It is in use with entries of another version, or was when a later program came.
    Version(u8),
    /// It holds something else.
    Foreign,
}

/// Where the records begin.
pub(super) const fn records_at<F: NorFlash>() -> usize {
    F::WRITE_SIZE.saturating_add(whole_words::<F>(HEAD))
}

impl Head {
    fn bytes(self) -> [u8; HEAD] {
        let mut bytes = [0; HEAD];
        let fields = MAGIC.into_iter().chain(self.sequence.to_le_bytes()).chain(self.first.to_le_bytes());
        for (byte, field) in bytes.iter_mut().zip(fields) {
            *byte = field;
        }
        if let Some((content, end)) = bytes.split_last_chunk_mut::<4>() {
            *end = checksum(content).to_le_bytes();
        }
        bytes
    }

    fn read(bytes: &[u8; HEAD]) -> Option<Self> {
        let (magic, rest) = bytes.split_first_chunk::<4>()?;
        let (sequence, rest) = rest.split_first_chunk::<4>()?;
        let (first, _) = rest.split_first_chunk::<4>()?;
        let head = Self { sequence: u32::from_le_bytes(*sequence), first: u32::from_le_bytes(*first) };
        (*magic == MAGIC && head.bytes() == *bytes).then_some(head)
    }

    /// The version of the entries behind a whole head.
    fn version(bytes: &[u8; HEAD]) -> Option<u8> {
        let (content, sum) = bytes.split_last_chunk::<4>()?;
        let [b'H', b'S', b'L', digit, ..] = content else { return None };
        let whole = checksum(content).to_le_bytes() == *sum;
        digit.checked_sub(b'0').filter(|version| whole && *version <= 9)
    }

    /// Takes a blank sector into use.
    pub(super) fn program<F: NorFlash>(self, flash: &mut F, sector: usize) -> Result<(), F::Error> {
        let mut words = [0; MAX_WORD];
        for (byte, field) in words.iter_mut().zip(self.bytes()) {
            *byte = field;
        }
        let length = whole_words::<F>(HEAD);
        flash::program(flash, sector, F::WRITE_SIZE, words.get(..length).unwrap_or(&words))
    }
}

/// Retires a sector, so that it stays out of use even if erasing it is cut.
pub(super) fn retire<F: NorFlash>(flash: &mut F, sector: usize) -> Result<(), F::Error> {
    let word = [0; MAX_WORD];
    flash::program(flash, sector, 0, word.get(..F::WRITE_SIZE).unwrap_or(&word))
}

/// The head of a sector in use.
pub(super) fn head<F: NorFlash>(flash: &mut F, sector: usize) -> Result<Option<Head>, F::Error> {
    let mut head = [0; HEAD];
    flash::read(flash, sector, F::WRITE_SIZE, &mut head)?;
    let Some(head) = Head::read(&head) else { return Ok(None) };
    Ok(blank(flash, sector, 0, F::WRITE_SIZE)?.then_some(head))
}

/// Looks at a sector as a whole.
pub(super) fn look<F: NorFlash>(flash: &mut F, sector: usize) -> Result<Found, F::Error> {
    if let Some(head) = head(flash, sector)? {
        return Ok(Found::Live(head));
    }
    let mut bytes = [0; HEAD];
    flash::read(flash, sector, F::WRITE_SIZE, &mut bytes)?;
    let version = Head::version(&bytes);
    if let Some(other) = version.filter(|version| *version != VERSION)
        && blank(flash, sector, 0, F::WRITE_SIZE)?
    {
        return Ok(Found::Version(other));
    }
    let retired = version.is_some();
    // A head whose programming was cut has nothing behind it.
    if retired || blank(flash, sector, records_at::<F>(), F::ERASE_SIZE)? {
        let blank = blank(flash, sector, 0, records_at::<F>())?;
        return Ok(if blank { Found::Blank } else { Found::Spent });
    }
    Ok(Found::Foreign)
}

/// Whether nothing is programmed from one offset to another.
pub(super) fn blank<F: NorFlash>(
    flash: &mut F,
    sector: usize,
    from: usize,
    to: usize,
) -> Result<bool, F::Error> {
    Ok(last_programmed(flash, sector, from, to)?.is_none())
}

/// The last programmed byte from one offset to another, and where it stands.
pub(super) fn last_programmed<F: NorFlash>(
    flash: &mut F,
    sector: usize,
    from: usize,
    to: usize,
) -> Result<Option<(usize, u8)>, F::Error> {
    let (mut last, mut at) = (None, from);
    let mut chunk = [BLANK; MAX_WORD];
    while at < to {
        let length = to.saturating_sub(at);
        let part = match chunk.get_mut(..length) {
            Some(part) => part,
            None => &mut chunk,
        };
        flash::read(flash, sector, at, part)?;
        for byte in part.iter() {
            if *byte != BLANK {
                last = Some((at, *byte));
            }
            at = at.saturating_add(1);
        }
    }
    Ok(last)
}
