//! The entries that are not readings, as bytes: length, number with its void bit, postcard encoding.

use heapless::{Vec, VecView};

use super::Refusal;
use super::kinds::Kinds;
use crate::record::entry::frame::MAX_FRAME;
use crate::record::entry::wire;
use crate::record::entry::{Entry, ObserveEntry, Text};

/// The top bit of a stored number: the entry was voided.
const VOID: u32 = 1 << 31;
const HEAD: usize = 6;
/// What the encodings of these two kinds begin with: their places among the kinds of entries.
const OBSERVE_KIND: u32 = 22;
const VOID_KIND: u32 = 24;

/// A packed list of entries, of any capacity.
#[derive(Clone)]
pub(super) struct Log<B: ?Sized = VecView<u8>> {
    bytes: B,
}

impl<const BYTES: usize> Log<Vec<u8, BYTES>> {
    pub(super) const fn new() -> Self {
        Self { bytes: Vec::new() }
    }
}

impl Log {
    /// How many bytes there is room for.
    pub(super) fn room(&self) -> usize {
        self.bytes.capacity()
    }

    /// How much is kept, in bytes; also a place to come [back to](Self::back_to).
    pub(super) fn used(&self) -> usize {
        self.bytes.len()
    }

    pub(super) fn back_to(&mut self, used: usize) {
        self.bytes.truncate(used);
    }

    pub(super) fn push(&mut self, number: u32, entry: &Entry) -> Result<(), Refusal> {
        let full =
            Refusal::Full { what: "bytes of entries other than readings", capacity: self.room() as u32 };
        let mut buffer = [0u8; MAX_FRAME];
        let length = wire::write(entry, &mut buffer).map_err(|_| full.clone())?;
        let encoded = buffer.get(..length).ok_or_else(|| full.clone())?;
        if self.room().saturating_sub(self.bytes.len()) < encoded.len().saturating_add(HEAD) {
            return Err(full);
        }
        let length = length as u16;
        let parts: [&[u8]; 3] = [&length.to_le_bytes(), &number.to_le_bytes(), encoded];
        for part in parts {
            self.bytes.extend_from_slice(part).map_err(|_| full.clone())?;
        }
        Ok(())
    }

    /// The entries in order: number, whether voided, entry.
    pub(super) fn iter(&self) -> impl Iterator<Item = (u32, bool, Entry)> + '_ {
        Records(&self.bytes).map_while(decoded)
    }

    /// Entries of some kinds in order: number, whether voided, entry. No other is decoded.
    pub(super) fn of(&self, kinds: Kinds) -> impl Iterator<Item = (u32, bool, Entry)> + '_ {
        let found = Records(&self.bytes).filter(move |(.., encoded)| kinds.have(encoded));
        found.map_while(decoded)
    }

    /// The same of those in force.
    pub(super) fn in_force(&self, kinds: Kinds) -> impl Iterator<Item = (u32, Entry)> + '_ {
        let found = Records(&self.bytes).filter(move |(_, voided, encoded)| !voided && kinds.have(encoded));
        found.map_while(decoded).map(|(number, _, entry)| (number, entry))
    }

    /// Whether one of some kinds was voided.
    pub(super) fn has_void(&self, kinds: Kinds) -> bool {
        Records(&self.bytes).any(|(_, voided, encoded)| voided && kinds.have(encoded))
    }

    /// Whether all that an entry sets is set again by one in force after it.
    pub(super) fn is_outdone(&self, number: u32) -> bool {
        let mut records = Records(&self.bytes);
        let found = records.find(|(found, ..)| *found == number);
        found.is_some_and(|(.., encoded)| is_outdone(encoded, records))
    }

    pub(super) fn get(&self, number: u32) -> Option<(Entry, bool)> {
        let (_, voided, encoded) = Records(&self.bytes).find(|(found, ..)| *found == number)?;
        Some((postcard::from_bytes(encoded).ok()?, voided))
    }

    /// The entry that took out another, and its reason: sought from a place on that an earlier search left, then before it.
    /// Voids in the order of what they take out are so found one behind the other.
    pub(super) fn taker(&self, number: u32, place: &mut usize) -> Option<(u32, Text)> {
        let mut head = [0u8; 8];
        let length = wire::write(&(VOID_KIND, number), &mut head).ok()?;
        let head = head.get(..length)?;
        let (before, behind) = self.bytes.split_at_checked(*place).unwrap_or((&self.bytes, &[]));
        for (part, end) in [(behind, self.bytes.len()), (before, before.len())] {
            let mut records = Records(part);
            if let Some((by, _, encoded)) = records.find(|(.., encoded)| encoded.starts_with(head))
                && let Ok(Entry::Void { reason, .. }) = postcard::from_bytes(encoded)
            {
                *place = end.saturating_sub(records.0.len());
                return Some((by, reason));
            }
        }
        None
    }

    /// The `observe` lines of one indication in order: number, whether voided, line. No other entry is decoded.
    pub(super) fn observations<'a>(
        &'a self,
        indication: &'a str,
    ) -> impl Iterator<Item = (u32, bool, ObserveEntry)> + 'a {
        let mut place = 0;
        core::iter::from_fn(move || self.observation(indication, &mut place))
    }

    /// The next of them from a place on, which is left behind it.
    pub(super) fn observation(
        &self,
        indication: &str,
        place: &mut usize,
    ) -> Option<(u32, bool, ObserveEntry)> {
        let mut records = Records(self.bytes.get(*place..)?);
        let found = records.find_map(|(number, voided, encoded)| {
            let (kind, line) = encoded.split_first()?;
            let (length, name) = line.split_first()?;
            let own = u32::from(*kind) == OBSERVE_KIND
                && usize::from(*length) == indication.len()
                && name.starts_with(indication.as_bytes());
            match own.then(|| postcard::from_bytes(encoded)) {
                Some(Ok(Entry::Observe(line))) => Some((number, voided, line)),
                _ => None,
            }
        });
        *place = self.bytes.len().saturating_sub(records.0.len());
        found
    }

    /// Marks an entry as voided, or takes the mark off. Its kind is given back.
    pub(super) fn mark(&mut self, number: u32, voided: bool) -> Option<u8> {
        let mut rest: &mut [u8] = &mut self.bytes;
        while let Some((head, tail)) = rest.split_first_chunk_mut::<HEAD>() {
            let [a, b, stored @ ..] = head;
            let found = u32::from_le_bytes(*stored);
            if found & !VOID == number {
                *stored = (if voided { number | VOID } else { number }).to_le_bytes();
                return tail.first().copied();
            }
            (_, rest) = tail.split_at_mut_checked(usize::from(u16::from_le_bytes([*a, *b])))?;
        }
        None
    }
}

/// The packed entries as they are kept: number, whether voided, encoding.
struct Records<'a>(&'a [u8]);

impl<'a> Iterator for Records<'a> {
    type Item = (u32, bool, &'a [u8]);

    fn next(&mut self) -> Option<Self::Item> {
        let (length, tail) = self.0.split_first_chunk::<2>()?;
        let (number, tail) = tail.split_first_chunk::<4>()?;
        let (encoded, tail) = tail.split_at_checked(usize::from(u16::from_le_bytes(*length)))?;
        self.0 = tail;
        let number = u32::from_le_bytes(*number);
        Some((number & !VOID, number & VOID != 0, encoded))
    }
}

fn decoded((number, voided, encoded): (u32, bool, &[u8])) -> Option<(u32, bool, Entry)> {
    Some((number, voided, postcard::from_bytes(encoded).ok()?))
}

/// Whether what an entry sets, and what nothing else rests on, is set again by one in force behind it.
#[inline(never)]
fn is_outdone(encoded: &[u8], behind: Records<'_>) -> bool {
    let mut behind = behind.filter(|(_, voided, later)| !voided && later.first() == encoded.first());
    if Kinds::UNITS.have(encoded) {
        return behind.next().is_some();
    }
    if Kinds::LAST_OF_PROBE.have(encoded) {
        // The kind, the length of the probe's name, the name.
        let length = encoded.get(1).map_or(0, |length| usize::from(*length));
        let Some(same) = encoded.get(..length.saturating_add(2)) else { return false };
        return behind.any(|(.., later)| later.starts_with(same));
    }
    let set = tolerances(encoded);
    Kinds::TOLERANCE.have(encoded) && behind.any(|(.., later)| set & !tolerances(later) == 0)
}

/// Which tolerances a line sets, a bit each.
#[inline(never)]
fn tolerances(encoded: &[u8]) -> u32 {
    let Ok(Entry::Tolerance(set)) = postcard::from_bytes(encoded) else { return 0 };
    let given = [
        set.angle.is_some(),
        set.path.is_some(),
        set.index.is_some(),
        set.standoff.is_some(),
        set.thickness.is_some(),
        set.velocity.is_some(),
        set.height.is_some(),
        set.range.is_some(),
        set.sensitivity.is_some(),
        set.reflector.is_some(),
        set.lean.is_some(),
    ];
    given.iter().fold(0, |bits, given| bits << 1 | u32::from(*given))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::Name;

    #[test]
    fn what_is_looked_for_is_encoded_as_the_search_expects() {
        let first = |entry: &Entry| {
            let mut buffer = [0; MAX_FRAME];
            let length = wire::write(entry, &mut buffer).unwrap();
            let (kind, rest) = buffer[..length].split_first().unwrap();
            (u32::from(*kind), rest.to_vec())
        };
        let (kind, rest) = first(&Entry::Void { number: 300, reason: Text::try_from("twice").unwrap() });
        assert_eq!((kind, rest.starts_with(&[0xac, 0x02])), (VOID_KIND, true));
        let indication = Name::try_from("S-1").unwrap();
        let line = ObserveEntry {
            indication,
            swivel: None,
            orbit: None,
            tip: Some(true),
            damped: None,
            like_clean_length: None,
        };
        let (kind, rest) = first(&Entry::Observe(line));
        assert_eq!((kind, rest.starts_with(b"\x03S-1")), (OBSERVE_KIND, true));
    }

    #[test]
    fn a_taker_is_found_wherever_the_search_begins() {
        let log: &mut Log = &mut Log::<Vec<u8, 512>>::new();
        let reason = |number: u32| Text::try_from(std::format!("{number}").as_str()).unwrap();
        for (by, number) in [(10, 3), (11, 300), (12, 2)] {
            log.push(by, &Entry::Void { number, reason: reason(number) }).unwrap();
        }
        for mut place in [0, log.used()] {
            for (by, number) in [(10, 3), (11, 300), (12, 2), (10, 3)] {
                assert_eq!(log.taker(number, &mut place), Some((by, reason(number))));
            }
            assert_eq!(log.taker(30, &mut place), None);
        }
    }

    #[test]
    fn an_entry_that_just_fits_is_kept_and_one_that_does_not_leaves_no_trace() {
        let void = |number| Entry::Void { number, reason: Text::try_from("twice").unwrap() };
        // 6 of a head and 8 of the entry, twice.
        let spare: &mut Log = &mut Log::<Vec<u8, 30>>::new();
        let exact: &mut Log = &mut Log::<Vec<u8, 28>>::new();
        (1..3).try_for_each(|number| spare.push(number, &void(number))).unwrap();
        (1..3).try_for_each(|number| exact.push(number, &void(number))).unwrap();
        assert!(spare.push(3, &void(3)).is_err() && exact.push(3, &void(3)).is_err());
        assert_eq!((spare.used(), exact.used()), (28, 28));
    }
}
