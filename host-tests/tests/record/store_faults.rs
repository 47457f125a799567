//! The store on a memory with a fault: every bit of it flipped, every cell of it stuck, one that erases to zeros.

use std::collections::BTreeMap;

use halfskip::record::entry::Entry;
use halfskip::record::store::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
use halfskip::record::store::{Policy, Store, StoreError};
use halfskip_host_tests::frames::fact;
use halfskip_host_tests::long::cases;
use halfskip_host_tests::nor::{Cut, Nor, PowerLost};

type Small = Nor<512, 4>;
type Kept = BTreeMap<u32, Entry>;

const SECTORS: usize = 3;
const BITS: usize = 512 * SECTORS * 8;

/// What an examiner would record, no two alike.
fn entries(count: u32) -> Vec<Entry> {
    let one = |number: u32| match number % 4 {
        0 => fact(&format!("note \"{number} {}\"", "x".repeat(number as usize % 60))),
        1 => fact(&format!("void {} reason=\"{number}\"", u32::MAX)),
        _ => fact(&format!(
            "reading {number} probe=p side=a x={number} standoff=31 path=36.9 height=76 gain=44"
        )),
    };
    (1..=count).map(one).collect()
}

/// What became of the entries that were acknowledged.
#[derive(PartialEq, Eq, Debug)]
enum Fate {
    /// All are read as they were kept.
    Read,
    /// What cannot be read is told, by its numbers or when the memory is opened.
    Told,
}

/// Opens a memory and compares what is read with what was kept; nothing is lost, changed or doubled without a word.
fn fate(memory: &mut Small, policy: Policy, kept: &Kept) -> Fate {
    let Ok(mut store) = Store::open(&mut *memory, policy) else { return Fate::Told };
    let (first, last) = (store.first(), store.last());
    let mut left: Kept = kept.range(first..).map(|(number, entry)| (*number, entry.clone())).collect();
    assert!(left.len() == kept.len() || policy == Policy::Ring, "entries before {first} are gone");
    assert!(kept.last_key_value().is_none_or(|(number, _)| last >= *number), "the numbers end with {last}");
    let mut fate = Fate::Read;
    for entry in store.entries() {
        match entry {
            Ok((number, entry)) => {
                assert_eq!(left.remove(&number), Some(entry), "{number} was not kept so, or has come before");
            }
            Err(StoreError::Damaged { first, last }) => {
                left.retain(|number, _| !(first..=last).contains(number));
                fate = Fate::Told;
            }
            Err(error) => panic!("{error}"),
        }
    }
    assert_eq!(left, Kept::new(), "not read, and nothing told");
    fate
}

/// A memory that has lived, with a record and an erasing cut on the way, and what is acknowledged on it.
fn lived(policy: Policy) -> (Small, Kept) {
    let (mut memory, mut kept) = (Small::blank(SECTORS, 21), Kept::new());
    let (mut erasing_cut, count) = (false, if policy == Policy::Stop { 15 } else { 35 });
    for entry in entries(count) {
        let mut rehearsal = memory.clone();
        rehearsal.power(None);
        Store::open(&mut rehearsal, policy).unwrap().append(&entry).unwrap();
        let erasing = rehearsal.erasures.first().filter(|_| !erasing_cut);
        if let Some(step) = erasing.copied().or((kept.len() == 4).then_some(11)) {
            erasing_cut |= erasing.is_some();
            memory.power(Some((step, Cut::Torn)));
            let cut = Store::open(&mut memory, policy).unwrap().append(&entry);
            assert_eq!(cut, Err(StoreError::Flash(PowerLost)));
            memory.power(None);
        }
        let mut store = Store::open(&mut memory, policy).unwrap();
        kept.insert(store.append(&entry).unwrap(), entry);
        let first = store.first();
        kept.retain(|number, _| *number >= first);
    }
    assert!(erasing_cut);
    (memory, kept)
}

#[test]
fn one_flipped_bit_anywhere_loses_and_doubles_nothing() {
    for policy in [Policy::Stop, Policy::Ring] {
        let (mut memory, kept) = lived(policy);
        assert_eq!(fate(&mut memory, policy, &kept), Fate::Read);
        for bit in (0..BITS).step_by(cases(37, 1)) {
            memory.cells()[bit / 8] ^= 1 << (bit % 8);
            assert_eq!(fate(&mut memory, policy, &kept), Fate::Read, "{policy:?} {bit}");
            memory.cells()[bit / 8] ^= 1 << (bit % 8);
        }
    }
}

#[test]
fn one_flipped_bit_leaves_a_log_that_goes_on() {
    let more = fact("note \"after the flip\"");
    for policy in [Policy::Stop, Policy::Ring] {
        let (memory, kept) = lived(policy);
        for bit in (0..BITS).step_by(cases(151, 1)) {
            let (mut memory, mut kept) = (memory.clone(), kept.clone());
            memory.cells()[bit / 8] ^= 1 << (bit % 8);
            let mut store = Store::open(&mut memory, policy).unwrap();
            match store.append(&more) {
                Ok(number) => assert_eq!(kept.insert(number, more.clone()), None),
                Err(error) => assert!(error == StoreError::Full && policy == Policy::Stop, "{error} {bit}"),
            }
            assert_eq!(fate(&mut memory, policy, &kept), Fate::Read, "{policy:?} {bit}");
        }
    }
}

/// Keeps entries on a memory with a stuck cell, which is opened again after what is told; how often something is.
fn kept_on_worn(memory: &mut Small, policy: Policy, mut sent: &[Entry], kept: &mut Kept) -> usize {
    // A sector that cannot be taken into use any more is told again and again.
    for told in 0..3 {
        let Ok(mut store) = Store::open(&mut *memory, policy) else { return told + 1 };
        if let [entry, rest @ ..] = sent
            && told > 0
            && kept.last_key_value().map_or(0, |(number, _)| *number) < store.last()
        {
            // It was not acknowledged and is kept all the same.
            kept.insert(store.last(), entry.clone());
            sent = rest;
        }
        loop {
            let [entry, rest @ ..] = sent else { return told };
            match store.append(entry) {
                Ok(number) => assert_eq!(kept.insert(number, entry.clone()), None, "a number comes again"),
                Err(StoreError::Full) => return told,
                Err(StoreError::Worn { .. }) => break,
                Err(error) => panic!("{error}"),
            }
            sent = rest;
        }
    }
    3
}

#[test]
fn one_stuck_cell_anywhere_loses_and_doubles_nothing_without_a_word() {
    let (mut told, mut read) = (0, 0);
    // Of the second memory each sector is used again.
    for (policy, sectors, count) in [(Policy::Stop, 3, 26), (Policy::Ring, 2, 40)] {
        let sent = entries(count);
        for cell in (0..512 * sectors * 8).step_by(cases(101, 1)) {
            for value in [false, true] {
                // Stuck from the first, or after some entries.
                for sound in [0, 13] {
                    let (mut memory, mut kept) = (Small::blank(sectors, 22), Kept::new());
                    assert_eq!(kept_on_worn(&mut memory, policy, &sent[..sound], &mut kept), 0);
                    memory.stuck = Some((cell / 8, (cell % 8) as u8, value));
                    let said = kept_on_worn(&mut memory, policy, &sent[sound..], &mut kept);
                    match fate(&mut memory, policy, &kept) {
                        Fate::Read if said == 0 => read += 1,
                        _ => told += 1,
                    }
                }
            }
        }
    }
    println!("of the stuck cells {told} are told, {read} are in nobody's way");
    assert!(told > read / 10 && read > told / 10);
}

#[test]
fn a_head_that_cannot_be_read_any_more_loses_nothing_while_it_is_not_the_newest() {
    for policy in [Policy::Stop, Policy::Ring] {
        let (memory, kept) = lived(policy);
        // The low bytes of their sequences.
        let sequences = [0, 1, 2].map(|sector| memory.clone().cells()[sector * 512 + 4]);
        let newest = *sequences.iter().filter(|sequence| **sequence != 0xFF).max().unwrap();
        for sector in (0..SECTORS).filter(|sector| sequences[*sector] < newest) {
            let mut memory = memory.clone();
            memory.cells()[sector * 512..][..20].fill(0);
            let mut store = Store::open(&mut memory, policy).unwrap();
            let read: Kept = store.entries().filter_map(Result::ok).collect();
            assert_eq!(read, kept);
        }
    }
}

#[test]
fn a_gap_in_the_numbers_is_told_wherever_it_is() {
    let sent = entries(20);
    let mut memory = Small::blank(SECTORS, 23);
    let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
    let kept: Kept = sent.iter().map(|entry| (store.append(entry).unwrap(), entry.clone())).collect();
    // All records of the first sector.
    memory.cells()[24..512].fill(0xA5);
    assert_eq!(fate(&mut memory, Policy::Stop, &kept), Fate::Told);
}

#[test]
fn a_number_that_comes_again_is_told() {
    let mut memory = Small::blank(SECTORS, 24);
    let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
    assert_eq!(store.append(&fact("units in")), Ok(1));
    let end = memory.cells().iter().rposition(|cell| *cell != 0xFF).unwrap() + 1;
    memory.cells().copy_within(24..end, end);
    let read: Vec<_> = Store::open(&mut memory, Policy::Stop).unwrap().entries().collect();
    assert_eq!(read, [Ok((1, fact("units in"))), Err(StoreError::Twice { number: 1 })]);
}

/// A memory that is erased to zeros.
#[derive(Debug)]
struct Inverted(Small);

impl ErrorType for Inverted {
    type Error = PowerLost;
}

impl ReadNorFlash for Inverted {
    const READ_SIZE: usize = 4;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), PowerLost> {
        self.0.read(offset, bytes)?;
        bytes.iter_mut().for_each(|byte| *byte = !*byte);
        Ok(())
    }

    fn capacity(&self) -> usize {
        self.0.capacity()
    }
}

impl NorFlash for Inverted {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = 512;

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), PowerLost> {
        self.0.write(offset, &bytes.iter().map(|byte| !byte).collect::<Vec<_>>())
    }

    fn erase(&mut self, from: u32, to: u32) -> Result<(), PowerLost> {
        self.0.erase(from, to)
    }
}

#[test]
fn a_memory_that_is_erased_to_zeros_is_refused_when_it_is_opened_and_when_it_is_formatted() {
    for policy in [Policy::Stop, Policy::Ring] {
        let mut memory = Inverted(Small::blank(SECTORS, 25));
        assert_eq!(Store::open(&mut memory, policy).unwrap_err(), StoreError::Foreign { sector: 0 });
        assert_eq!(Store::format(&mut memory), Err(StoreError::Worn { sector: 0 }));
    }
}

/// Calls to program and the bytes of the memory used, for one reading behind another.
fn cost<const S: usize, const W: usize>() -> (u64, usize) {
    let mut memory = Nor::<S, W>::blank(2, 26);
    let reading = &entries(2)[1];
    Store::open(&mut memory, Policy::Stop).unwrap().append(reading).unwrap();
    let used = |memory: &mut Nor<S, W>| memory.cells().iter().rposition(|cell| *cell != 0xFF).unwrap() + 1;
    let before = (memory.calls, used(&mut memory));
    Store::open(&mut memory, Policy::Stop).unwrap().append(reading).unwrap();
    (memory.calls - before.0, used(&mut memory) - before.1)
}

#[test]
fn an_entry_is_programmed_in_one_call_whatever_the_words_are() {
    let bytes = cost::<512, 1>().1;
    assert_eq!(cost::<512, 1>(), (1, bytes));
    assert_eq!(cost::<512, 4>(), (1, bytes.next_multiple_of(4)));
    assert_eq!(cost::<512, 32>(), (1, bytes.next_multiple_of(32)));
    assert_eq!(cost::<1024, 256>(), (1, 256));
}
