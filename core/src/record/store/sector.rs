//! One sector: a head that gives it its place, a mark, and records.
//!
//! ```text
//! head "HSL" | version of the entries' layout, a digit | sequence u32 | number of its first entry u32
//!     | sectors in use, this one included u32 | CRC-32C, little endian, filled up to whole words
//! mark (whole words of four bytes or more, unprogrammed until the oldest sector is given up for the one to come)
//! records
//! ```
//!
//! The head of the newest sector says which others are in use, so that those are found whatever has become of their own.
//! The mark is programmed before the oldest sector is erased, and lies out of reach of that: erasing may be cut as it will.

use embedded_storage::nor_flash::NorFlash;

use super::StoreError;
use super::flash::{self, CHUNK, MAX_WORD, whole_words};
use super::mended::mended;
use crate::record::entry::frame::{VERSION, checksum};

const MAGIC: [u8; 3] = *b"HSL";
/// Bytes of a head.
const HEAD: usize = 20;
/// Bytes of a mark, at the least.
const MARK: usize = 4;

/// A sector in use.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Head {
    /// One more than that of the sector before it.
    pub(super) sequence: u32,
    /// The number of its first entry, whether it has one yet or not.
    pub(super) first: u32,
    /// How many sectors are in use, up to this one.
    pub(super) used: u32,
}

/// Where the records begin.
pub(super) const fn records_at<F: NorFlash>() -> usize {
    whole_words::<F>(HEAD).saturating_add(whole_words::<F>(MARK))
}

impl Head {
    fn bytes(self, version: u8) -> [u8; HEAD] {
        let mut bytes = [0; HEAD];
        let fields = [self.sequence, self.first, self.used].map(u32::to_le_bytes);
        let magic = MAGIC.into_iter().chain([b'0'.wrapping_add(version)]);
        for (byte, field) in bytes.iter_mut().zip(magic.chain(fields.into_iter().flatten())) {
            *byte = field;
        }
        if let Some((content, end)) = bytes.split_last_chunk_mut::<4>() {
            *end = checksum(content).to_le_bytes();
        }
        bytes
    }

    /// A whole head, and the version of the entries behind it.
    fn read(bytes: &[u8]) -> Option<(u8, Self)> {
        let (magic, rest) = bytes.split_first_chunk::<3>()?;
        let (digit, rest) = rest.split_first()?;
        let (sequence, rest) = rest.split_first_chunk::<4>()?;
        let (first, rest) = rest.split_first_chunk::<4>()?;
        let (used, _) = rest.split_first_chunk::<4>()?;
        let version = digit.checked_sub(b'0').filter(|version| *magic == MAGIC && *version <= 9)?;
        let [sequence, first, used] = [sequence, first, used].map(|field| u32::from_le_bytes(*field));
        let head = Self { sequence, first, used };
        (head.bytes(version) == *bytes).then_some((version, head))
    }

    /// Takes a blank sector into use.
    pub(super) fn program<F: NorFlash>(
        self,
        flash: &mut F,
        sector: usize,
    ) -> Result<(), StoreError<F::Error>> {
        let mut words = [0; MAX_WORD];
        for (byte, field) in words.iter_mut().zip(self.bytes(VERSION)) {
            *byte = field;
        }
        flash::program(flash, sector, 0, words.get(..whole_words::<F>(HEAD)).unwrap_or(&words))
    }
}

/// The head of a sector, if it has one.
///
/// # Errors
/// [`StoreError::Version`]: it was written by a program of another version.
pub(super) fn head<F: NorFlash>(flash: &mut F, sector: usize) -> Result<Option<Head>, StoreError<F::Error>> {
    let mut bytes = [0; CHUNK];
    flash::read(flash, sector, 0, &mut bytes).map_err(StoreError::Flash)?;
    match mended(bytes.get_mut(..HEAD).unwrap_or_default(), Head::read) {
        Some((VERSION, head)) => Ok(Some(head)),
        Some((version, _)) => Err(StoreError::Version { version }),
        None => Ok(None),
    }
}

/// The newest sector: that with the highest sequence.
pub(super) fn newest<F: NorFlash>(flash: &mut F) -> Result<Option<(usize, Head)>, StoreError<F::Error>> {
    let mut newest: Option<(usize, Head)> = None;
    for sector in 0..flash::sectors(flash) {
        if let Some(head) = head(flash, sector)?
            && newest.is_none_or(|(_, newest)| head.sequence > newest.sequence)
        {
            newest = Some((sector, head));
        }
    }
    Ok(newest)
}

/// How many bits of a sector's mark are programmed.
fn marked<F: NorFlash>(flash: &mut F, sector: usize) -> Result<u32, F::Error> {
    let mut bytes = [0; CHUNK];
    let mark = bytes.get_mut(..whole_words::<F>(MARK).min(CHUNK)).unwrap_or_default();
    flash::read(flash, sector, whole_words::<F>(HEAD), mark)?;
    Ok(mark.iter().map(|byte| byte.count_zeros()).sum())
}

/// Whether the oldest sector was given up after this one, the newest. One flipped bit is no mark.
pub(super) fn gave_up<F: NorFlash>(flash: &mut F, sector: usize) -> Result<bool, F::Error> {
    Ok(marked(flash, sector)? > 1)
}

/// Marks the newest sector: the oldest is given up, and stays so even if erasing it is cut.
pub(super) fn give_up<F: NorFlash>(flash: &mut F, newest: usize) -> Result<(), StoreError<F::Error>> {
    // A mark with one flipped bit is left as it is: no word is programmed twice.
    if marked(flash, newest).map_err(StoreError::Flash)? > 0 {
        return Ok(());
    }
    let words = [0; MAX_WORD];
    let mark = words.get(..whole_words::<F>(MARK)).unwrap_or(&words);
    flash::program(flash, newest, whole_words::<F>(HEAD), mark)
}
