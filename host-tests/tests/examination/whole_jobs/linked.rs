//! Links between the readings of an indication spare a walk past all others, and change nothing else.

use halfskip_host_tests::job::findings;
use std::iter::repeat_with;

use halfskip::findings::{Caution, cautions};
use halfskip::record::entry::{Entry, Text};
use halfskip::record::examination::{Examination, Refusal};
use halfskip_host_tests::told::{examined, facts_of, told};

use super::{day, inches, written};

/// The day with its readings taken in turn: one of each indication, then the next of each. Every other reading is short,
/// the rest have long numbers.
fn in_turn() -> Vec<Entry> {
    let short = facts_of(&written(|number| inches(number) + "in"));
    let mixed = day().into_iter().zip(short).zip([false, true].into_iter().cycle());
    let (mut settings, mut indications): (Vec<Entry>, Vec<(String, Vec<Entry>)>) = Default::default();
    for entry in mixed.map(|((long, short), is_short)| if is_short { short } else { long }) {
        let Entry::Reading(reading) = &entry else {
            settings.push(entry);
            continue;
        };
        let name = reading.indication.to_string();
        match indications.iter_mut().find(|(known, _)| *known == name) {
            Some((_, readings)) => readings.push(entry),
            None => indications.push((name, vec![entry])),
        }
    }
    let (seen, first): (Vec<_>, Vec<_>) =
        settings.into_iter().partition(|entry| matches!(entry, Entry::Observe(_) | Entry::Void { .. }));
    let mut queues: Vec<_> = indications.into_iter().map(|(_, readings)| readings.into_iter()).collect();
    let rounds = repeat_with(|| queues.iter_mut().filter_map(Iterator::next).collect::<Vec<_>>());
    let readings = rounds.take_while(|round| !round.is_empty()).flatten().collect::<Vec<_>>();
    let seen = seen.into_iter().filter(|entry| matches!(entry, Entry::Observe(_)));
    first.into_iter().chain(readings).chain(seen).collect()
}

/// All that is said of the entries, and the numbers of each indication's readings in force, every fifth one voided.
fn said<const LINKS: usize>(entries: &[Entry]) -> (String, Vec<Vec<u32>>) {
    let mut examination: Box<Examination<16, 64, 4096, 65_536, LINKS>> = Box::new(Examination::new());
    let mut voided = Vec::new();
    for entry in entries {
        let number = examination.record(entry.clone()).unwrap();
        if matches!(entry, Entry::Reading(_)) && number.is_multiple_of(5) {
            voided.push(number);
        }
    }
    for number in voided {
        examination.record(Entry::Void { number, reason: Text::try_from("twice").unwrap() }).unwrap();
    }
    let facts = examination.facts();
    let numbers = facts.seen().map(|place| facts.readings_of(place).map(|one| one.number()).collect());
    (told(&facts), numbers.collect())
}

#[test]
fn findings_are_the_same_with_links_and_without() {
    let entries = in_turn();
    let walked = said::<0>(&entries);
    assert!(walked.1.len() > 3 && walked.1.iter().all(|numbers| numbers.len() > 2), "{:?}", walked.1);
    assert_eq!(walked, said::<4096>(&entries));
    // A few readings know the next one, the others walk.
    assert_eq!(walked, said::<1>(&entries));
    assert_eq!(walked, said::<17>(&entries));
}

#[test]
fn a_refused_reading_leaves_the_links_as_they_were() {
    let entries = in_turn();
    let mut examination: Box<Examination<4, 16, 12, 4096, 12>> = Box::new(Examination::new());
    let refused = entries.iter().find_map(|entry| examination.record(entry.clone()).err());
    assert_eq!(refused, Some(Refusal::Full { what: "readings", capacity: 12 }));
    let facts = examination.facts();
    let in_turn: Vec<u32> = facts.readings().map(|reading| reading.number()).collect();
    let mut one_by_one: Vec<u32> =
        facts.seen().flat_map(|place| facts.readings_of(place)).map(|reading| reading.number()).collect();
    one_by_one.sort_unstable();
    assert_eq!(in_turn, one_by_one);
}

#[test]
fn cautions_by_known_doubts_are_those_that_are_worked_out() {
    let upside_down = "\
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2
probe p60 angle=60 frequency=4 element=9 front=10
dac p60 path=30 height=80 gain=38
dac p60 path=60 height=80 gain=44
reading T probe=p60 side=a x=0 standoff=25 path=32 height=50 gain=40 point=upper-tip
reading T probe=p60 side=a x=0 standoff=25 path=24 height=50 gain=40 point=lower-tip
reading V probe=p60 side=a x=0 standoff=20 path=30 height=50 gain=40
reading V probe=p60 side=b x=0 standoff=90 path=30 height=50 gain=40
";
    let examination = examined(&facts_of(upside_down));
    let facts = examination.facts();
    let mut worked_out: Vec<Caution> = Vec::new();
    cautions(findings(&facts, None), |caution| worked_out.push(caution));
    assert!(worked_out.contains(&Caution::ViewsDisagree { indication: 1 }), "{worked_out:?}");
    assert!(worked_out.contains(&Caution::HeightBelowZero { indication: 0 }), "{worked_out:?}");
}
