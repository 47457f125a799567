//! The entries that are not readings, as bytes: length, number with its void bit, postcard encoding.

use heapless::Vec;

use super::Refusal;
use crate::entry::Entry;
use crate::entry::frame::MAX_FRAME;
use crate::entry::wire;

/// The top bit of a stored number: the entry was voided.
const VOID: u32 = 1 << 31;
const HEAD: usize = 6;

/// A packed list of entries in at most `BYTES` bytes.
#[derive(Clone)]
pub(super) struct Log<const BYTES: usize> {
    bytes: Vec<u8, BYTES>,
}

impl<const BYTES: usize> Log<BYTES> {
    pub(super) const fn new() -> Self {
        Self { bytes: Vec::new() }
    }

    /// How much is kept, in bytes; also a place to come [back to](Self::back_to).
    pub(super) fn used(&self) -> usize {
        self.bytes.len()
    }

    pub(super) fn back_to(&mut self, used: usize) {
        self.bytes.truncate(used);
    }

    pub(super) fn push(&mut self, number: u32, entry: &Entry) -> Result<(), Refusal> {
        let full = Refusal::Full { what: "bytes of entries other than readings", capacity: BYTES as u32 };
        let mut buffer = [0u8; MAX_FRAME];
        let length = wire::write(entry, &mut buffer).map_err(|_| full.clone())?;
        let encoded = buffer.get(..length).ok_or_else(|| full.clone())?;
        if self.bytes.capacity().saturating_sub(self.bytes.len()) < encoded.len().saturating_add(HEAD) {
            return Err(full);
        }
        let length = length as u16;
        let parts: [&[u8]; 3] = [&length.to_le_bytes(), &number.to_le_bytes(), encoded];
        for part in parts {
            self.bytes.extend_from_slice(part).map_err(|_| full.clone())?;
        }
        Ok(())
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = (u32, bool, Entry)> + '_ {
        entries(&self.bytes)
    }

    pub(super) fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    pub(super) fn get(&self, number: u32) -> Option<(Entry, bool)> {
        self.iter().find(|(found, ..)| *found == number).map(|(_, voided, entry)| (entry, voided))
    }

    pub(super) fn void(&mut self, number: u32) {
        let mut rest: &mut [u8] = &mut self.bytes;
        while let Some((head, tail)) = rest.split_first_chunk_mut::<HEAD>() {
            let [a, b, stored @ ..] = head;
            let found = u32::from_le_bytes(*stored);
            if found & !VOID == number {
                *stored = (found | VOID).to_le_bytes();
                return;
            }
            let Some((_, next)) = tail.split_at_mut_checked(usize::from(u16::from_le_bytes([*a, *b]))) else {
                return;
            };
            rest = next;
        }
    }
}

/// The packed entries in order: number, whether voided, entry.
pub(super) fn entries(bytes: &[u8]) -> impl Iterator<Item = (u32, bool, Entry)> + '_ {
    let mut rest = bytes;
    core::iter::from_fn(move || {
        let (length, tail) = rest.split_first_chunk::<2>()?;
        let (number, tail) = tail.split_first_chunk::<4>()?;
        let (encoded, tail) = tail.split_at_checked(usize::from(u16::from_le_bytes(*length)))?;
        rest = tail;
        let number = u32::from_le_bytes(*number);
        Some((number & !VOID, number & VOID != 0, postcard::from_bytes(encoded).ok()?))
    })
}
