//! The store under power cuts: at every byte that is programmed, at every erasure, clean and torn.

use halfskip::record::entry::Entry;
use halfskip::record::store::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
use halfskip::record::store::{Policy, Store, StoreError};
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::frames::{fact, golden};
use halfskip_host_tests::long::cases;
use halfskip_host_tests::nor::{Cut, Nor, PowerLost, TORN_ERASURES};

const SECTORS: usize = 3;

/// Entries of every kind and length, no two alike.
fn entries(count: u32) -> Vec<Entry> {
    let golden = golden();
    let mut drawn = Drawn::seeded(5);
    let one = |number: u32| match drawn.bits() % 4 {
        0 => drawn.one_of(&golden.iter().collect::<Vec<_>>()).entry.clone(),
        1 => fact(&format!(
            "reading {number} probe=p side=a x={number} standoff=31 path=36.9 height=76 gain=44"
        )),
        // Bytes that look like blank memory.
        2 => fact(&format!("void {} reason=\"{number}\"", u32::MAX)),
        _ => fact(&format!("note \"{number}{}\"", "x".repeat((drawn.bits() % 110) as usize))),
    };
    (1..=count).map(one).collect()
}

/// The entries that are held, all of them readable.
fn held<const S: usize, const W: usize>(store: &mut Store<&mut Nor<S, W>>) -> Vec<(u32, Entry)> {
    let held: Vec<_> = store.entries().map(|entry| entry.unwrap()).collect();
    let numbers: Vec<_> = held.iter().map(|(number, _)| *number).collect();
    assert_eq!(numbers, (store.first()..=store.last()).collect::<Vec<_>>());
    held
}

/// Keeps entries until power fails or the memory is full; how many, and why it ended.
fn keep<const S: usize, const W: usize>(
    store: &mut Store<&mut Nor<S, W>>,
    sent: &[Entry],
) -> (usize, Option<StoreError<PowerLost>>) {
    for (kept, entry) in sent.iter().enumerate() {
        match store.append(entry) {
            Ok(number) => assert_eq!(number, store.last()),
            Err(error) => return (kept, Some(error)),
        }
    }
    (sent.len(), None)
}

/// Power is back after the last of the entries `sent` was cut: nothing is lost, nothing is there that was not sent, and
/// the store goes on. Returns the number of the oldest entry.
fn after_cut<const S: usize, const W: usize>(memory: &mut Nor<S, W>, policy: Policy, sent: &[Entry]) -> u32 {
    // Other entries than the one that was cut, so that it cannot take the place of one of them.
    let other = [fact("note \"after the cut\""), fact("units in")];
    memory.power(None);
    let mut store = Store::open(&mut *memory, policy).unwrap();
    let (first, last) = (store.first(), store.last());
    assert!(last as usize == sent.len() || last as usize + 1 == sent.len(), "{last} of {}", sent.len());
    let mut expected = held(&mut store);
    for (number, entry) in &expected {
        assert_eq!(entry, &sent[*number as usize - 1], "entry {number} of {last}");
    }
    let (more, end) = keep(&mut store, &other);
    assert!(end.is_none() || (end == Some(StoreError::Full) && policy == Policy::Stop), "{end:?}");
    expected.extend((last + 1..).zip(other.into_iter().take(more)));
    expected.retain(|(number, _)| *number >= store.first());
    // It says the same when it is opened once more.
    assert_eq!(held(&mut Store::open(memory, policy).unwrap()), expected);
    first
}

/// Lives once, and in every step of it, or every 13th, cuts the power of a copy. Returns the number of cuts.
fn campaign<const S: usize, const W: usize>(policy: Policy, how: Cut) -> u64 {
    let sent = entries(40);
    let mut memory = Nor::<S, W>::blank(SECTORS, 6);
    let (mut cuts, mut end, mut first_before) = (0, None, 1);
    for (acknowledged, entry) in sent.iter().enumerate() {
        let before = memory.clone();
        memory.power(None);
        let mut store = Store::open(&mut memory, policy).unwrap();
        if let Err(error) = store.append(entry) {
            end = Some(error);
            break;
        }
        let first_after = store.first();
        let (steps, erasures) = (memory.steps, memory.erasures.clone());
        for cut in 0..steps {
            // A torn erasure has many outcomes.
            let torn = erasures.contains(&cut) && how == Cut::Torn;
            if !torn && cut % cases(13.max(W as u64 / 2 + 1), 1) != 0 {
                continue;
            }
            for seed in 0..if torn { cases(TORN_ERASURES, 6 * TORN_ERASURES) } else { 1 } {
                let mut memory = before.clone();
                memory.reseed(seed << 32 | cut, seed % TORN_ERASURES);
                memory.power(Some((cut, how)));
                let kept = Store::open(&mut memory, policy).unwrap().append(entry);
                assert_eq!(kept, Err(StoreError::Flash(PowerLost)));
                let first = after_cut(&mut memory, policy, &sent[..=acknowledged]);
                assert!(first == first_before || first == first_after, "{first}");
                cuts += 1;
            }
        }
        first_before = first_after;
    }
    assert_eq!(end, (policy == Policy::Stop).then_some(StoreError::Full));
    assert_eq!(first_before > 1, policy == Policy::Ring, "a ring has gone round");
    cuts
}

#[test]
fn a_cut_at_any_step_loses_and_invents_nothing_byte_by_byte() {
    for how in [Cut::Clean, Cut::Torn] {
        for policy in [Policy::Stop, Policy::Ring] {
            assert!(campaign::<512, 1>(policy, how) > cases(100, 1000));
        }
    }
}

#[test]
fn a_cut_at_any_step_loses_and_invents_nothing_word_by_word() {
    for policy in [Policy::Stop, Policy::Ring] {
        assert!(campaign::<512, 4>(policy, Cut::Torn) > cases(100, 1000));
        assert!(campaign::<512, 16>(policy, Cut::Torn) > cases(100, 1000));
        assert!(campaign::<1024, 256>(policy, Cut::Torn) > cases(20, 1000));
    }
}

#[test]
fn formatting_cut_at_any_step_leaves_a_log_that_opens() {
    for count in [5, 40] {
        let mut memory = Nor::<512, 4>::blank(SECTORS, 15);
        let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
        let (_, end) = keep(&mut store, &entries(count));
        assert_eq!(end.is_some(), count == 40);
        let before = held(&mut store);
        let mut whole = memory.clone();
        whole.power(None);
        Store::format(&mut &mut whole).unwrap();
        assert_eq!(whole.erasures.len(), SECTORS);
        for step in 0..whole.steps {
            for seed in 0..if whole.erasures.contains(&step) { 5 * TORN_ERASURES } else { 1 } {
                let mut memory = memory.clone();
                memory.reseed(seed << 32 | step, seed % TORN_ERASURES);
                memory.power(Some((step, Cut::Torn)));
                assert_eq!(Store::format(&mut &mut memory), Err(StoreError::Flash(PowerLost)));
                memory.power(None);
                let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
                let left = held(&mut store);
                let oldest = before.len() - left.len();
                assert!(left == before[oldest..], "{count} {step}");
                assert!(left.is_empty() || oldest == 0 || count == 40, "{count} {step}");
                assert_eq!(store.last() == 0, left.is_empty());
                Store::format(&mut &mut memory).unwrap();
                let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
                assert_eq!(store.append(&fact("units in")), Ok(1));
            }
        }
    }
}

#[test]
fn a_store_outlives_a_thousand_cuts_in_a_row() {
    let mut drawn = Drawn::seeded(7);
    for policy in [Policy::Stop, Policy::Ring] {
        let sent = entries(2_000);
        let mut memory = Nor::<512, 8>::blank(SECTORS, 8);
        let (mut acknowledged, mut in_flight, mut formats) = (0usize, false, 0);
        for _ in 0..1_000 {
            let how = drawn.one_of(&[Cut::Clean, Cut::Torn]);
            memory.power(Some((drawn.bits() % 300, how)));
            let mut store = Store::open(&mut memory, policy).unwrap();
            let last = store.last() as usize;
            assert!(last == acknowledged || (in_flight && last == acknowledged + 1), "{last} {acknowledged}");
            for (number, entry) in held(&mut store) {
                assert_eq!(entry, sent[number as usize - 1]);
            }
            let (kept, end) = keep(&mut store, &sent[last..]);
            acknowledged = last + kept;
            in_flight = matches!(end, Some(StoreError::Flash(_)));
            if end == Some(StoreError::Full) {
                memory.power(None);
                Store::format(&mut &mut memory).unwrap();
                (acknowledged, in_flight, formats) = (0, false, formats + 1);
            }
        }
        assert_eq!(formats > 10, policy == Policy::Stop, "{formats}");
    }
}

#[test]
fn a_full_store_says_so_and_keeps_what_it_has() {
    let sent = entries(40);
    let mut memory = Nor::<512, 4>::blank(2, 9);
    let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
    let (kept, end) = keep(&mut store, &sent);
    assert_eq!(end, Some(StoreError::Full));
    let before = held(&mut store);
    assert_eq!(before.len(), kept);
    assert_eq!(store.append(&fact(&format!("note \"{}\"", "y".repeat(120)))), Err(StoreError::Full));
    assert_eq!(held(&mut Store::open(&mut memory, Policy::Stop).unwrap()), before);
}

#[test]
fn damage_is_told_by_its_numbers_and_the_numbers_behind_it_stay() {
    let sent = entries(8);
    let mut memory = Nor::<4096, 4>::blank(1, 10);
    let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
    assert_eq!(keep(&mut store, &sent[..3]).1, None);
    let third = memory.cells().iter().rposition(|cell| *cell != 0xFF).unwrap();
    let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
    assert_eq!(keep(&mut store, &sent[3..]).1, None);
    // Two bits in the last bytes of the third entry: one would be put right.
    memory.cells()[third - 8] ^= 1;
    memory.cells()[third - 9] ^= 1;
    let mut store = Store::open(&mut memory, Policy::Stop).unwrap();
    let read: Vec<_> = store.entries().collect();
    assert_eq!(read.len(), 8);
    assert_eq!(read[2], Err(StoreError::Damaged { first: 3, last: 3 }));
    assert_eq!(read[3], Ok((4, sent[3].clone())));
    assert_eq!(store.append(&sent[0]), Ok(9));
}

#[test]
fn after_a_failure_nothing_is_kept_before_the_store_is_opened_again() {
    let mut memory = Nor::<512, 4>::blank(2, 13);
    memory.power(Some((40, Cut::Clean)));
    let mut store = Store::open(memory, Policy::Stop).unwrap();
    let entry = fact("note \"a note that is longer than forty bytes, so that its writing is cut\"");
    assert_eq!(store.append(&entry), Err(StoreError::Flash(PowerLost)));
    assert_eq!(store.append(&entry), Err(StoreError::Stale));
}

#[test]
fn what_is_no_log_is_left_alone_until_it_is_formatted() {
    let mut memory = Nor::<512, 4>::blank(2, 11);
    memory.cells()[700] = 0;
    assert_eq!(Store::open(&mut memory, Policy::Stop).unwrap_err(), StoreError::Foreign { sector: 1 });
    assert_eq!(Store::open(&mut memory, Policy::Stop).unwrap_err(), StoreError::Foreign { sector: 1 });
    Store::format(&mut &mut memory).unwrap();
    assert_eq!(Store::open(&mut memory, Policy::Stop).unwrap().append(&fact("units in")), Ok(1));
    let mut memory = Nor::<512, 4>::blank(1, 12);
    assert_eq!(Store::open(&mut memory, Policy::Ring).unwrap_err(), StoreError::TooFewSectors { sectors: 1 });
}

/// A memory that remembers which sectors were erased.
struct Watched(Nor<512, 4>, Vec<u32>);

impl ErrorType for Watched {
    type Error = PowerLost;
}

impl ReadNorFlash for Watched {
    const READ_SIZE: usize = 4;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), PowerLost> {
        self.0.read(offset, bytes)
    }

    fn capacity(&self) -> usize {
        self.0.capacity()
    }
}

impl NorFlash for Watched {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = 512;

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), PowerLost> {
        self.0.write(offset, bytes)
    }

    fn erase(&mut self, from: u32, to: u32) -> Result<(), PowerLost> {
        self.1.push(from / 512);
        self.0.erase(from, to)
    }
}

#[test]
fn every_sector_but_the_first_of_a_blank_memory_is_erased_before_it_is_taken() {
    let mut memory = Watched(Nor::blank(4, 14), Vec::new());
    let note = fact(&format!("note \"{}\"", "z".repeat(110)));
    // Three fit into a sector.
    for (notes, erased) in [(8, vec![1, 2]), (2, vec![1, 2, 3])] {
        let mut store = Store::open(memory, Policy::Stop).unwrap();
        for _ in 0..notes {
            store.append(&note).unwrap();
        }
        memory = store.into_flash();
        assert_eq!(memory.1, erased);
    }
}
