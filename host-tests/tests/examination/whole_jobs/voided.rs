//! A void takes an entry out as if it had never been made; of a check that failed the doubt stays.

use halfskip::findings::{Suspicion, suspicion};
use halfskip::record::entry::{Entry, LengthUnit, Text};
use halfskip_host_tests::told::{
    Roomy, difference, examined, fact, facts_of, told, without_numbers, without_reasons,
};

use super::day;

fn void(number: u32) -> Entry {
    Entry::Void { number, reason: Text::try_from("a typing error").unwrap() }
}

/// Facts that may be added to the day, each with some weight of its own.
const ADDED: [&str; 21] = [
    "note \"nothing\"",
    "units in",
    "material steel",
    "screen max=90 noise=8 reference=50",
    "screen reference=40",
    "tolerance angle=2 path=0.1 velocity=0.05 range=0.1",
    "probe p70 angle=70 frequency=2 element=10",
    "timebase p60 path=25,100 time=17.9,63.9",
    "angle p45 depth=20 distance=22.5",
    "dac p45 path=90 height=40 gain=50",
    "dac p60 beyond=hold",
    "transfer p60 gain=3",
    "scanning p60 margin=6",
    GOOD,
    "linearity screen large=80,60,40 small=40,20,20",
    "linearity gain set=80,40 change=-6,6 shown=60,80",
    "reading R1 probe=p45 side=b x=127 standoff=20 path=28.3 height=80 gain=20 point=corner",
    "reading R1 probe=p60 side=a x=127 standoff=35 path=80 height=over gain=20",
    "reading new probe=p60 side=a x=127 standoff=35 path=38 height=75 gain=30",
    "observe W1 orbit=steady",
    "criteria sheet.toml",
];

/// A check of p60 within its limits.
const GOOD: &str = "check p60 path=60 shown=60.2 height=80 gain=41";
/// Checks of p60 that fail, by the range and by the sensitivity.
const FAILED: [&str; 2] =
    ["check p60 path=60 shown=57 height=80 gain=41", "check p60 path=60 shown=60 height=30 gain=41"];

#[test]
fn a_void_restores_the_findings_to_the_last_bit() {
    let day = day();
    let before = told(&examined(&day).facts());
    assert!(before.len() > 5_000);
    let mut changed = 0;
    for line in ADDED {
        let mut examination = examined(&day);
        let number = add(&mut examination, line);
        changed += usize::from(told(&examination.facts()) != before);
        examination.record(void(number)).unwrap();
        assert_eq!(difference(&told(&examination.facts()), &before), None, "{line}");
        assert!(examination.entry(number).unwrap().1, "{line}");
    }
    assert!(changed >= 11, "only {changed} of the added facts had any weight");
}

#[test]
fn many_voids_restore_the_findings_in_any_order() {
    let day = day();
    let before = told(&examined(&day).facts());
    for turned in [false, true] {
        let mut examination = examined(&day);
        let mut numbers: Vec<u32> =
            ADDED.iter().chain(&FAILED).map(|line| add(&mut examination, line)).collect();
        // The good one fails by the narrow limits that were in force when it was made.
        let good = ADDED.iter().position(|line| *line == GOOD).unwrap();
        let mut checks = numbers[ADDED.len()..].to_vec();
        checks.push(numbers[good]);
        assert!(told(&examination.facts()) != before);
        if turned {
            numbers.reverse();
        }
        for number in numbers {
            examination.record(void(number)).unwrap();
        }
        let after = told(&examination.facts());
        assert_eq!(difference(&without_doubt(&after, &checks), &without_reasons(&before)), None);
    }
}

fn add(examination: &mut Roomy, line: &str) -> u32 {
    examination.record(fact(line, LengthUnit::Mm).unwrap()).unwrap()
}

/// A told text without the doubt that voided checks leave, and without the reasons that it may take the place of.
fn without_doubt(told: &str, checks: &[u32]) -> String {
    checks.iter().fold(without_reasons(told), |told, check| {
        let doubt = format!("Some(VoidedCheck {{ number: {check} }})");
        let caution = format!("the check of entry {check} was not within its limits; it was voided");
        let lines = told.lines().filter(|line| !line.contains(&caution));
        lines.map(|line| line.replace(&doubt, "None") + "\n").collect()
    })
}

#[test]
fn a_void_of_a_failed_check_restores_all_but_the_doubt() {
    let day = day();
    let before = told(&examined(&day).facts());
    for line in FAILED {
        let mut examination = examined(&day);
        let number = add(&mut examination, line);
        let failed = told(&examination.facts());
        examination.record(void(number)).unwrap();
        let voided = told(&examination.facts());
        assert!(failed != before && voided != before && voided != failed, "{line}");
        // Places, levels, lengths, heights, verdicts by the rows, all other cautions.
        assert_eq!(difference(&without_doubt(&voided, &[number]), &without_reasons(&before)), None, "{line}");
        // What stays known: every reading of the probe that was checked is suspect, and no other.
        let facts = examination.facts();
        let mut suspect = 0;
        for reading in facts.readings() {
            let of_it = facts.probe(reading.probe()).unwrap().name().as_str() == "p60";
            let doubt = of_it.then_some(Suspicion::VoidedCheck { number });
            assert_eq!(suspicion(&facts, reading), doubt, "{line}");
            suspect += usize::from(of_it);
        }
        assert!(suspect > 20);
        // A good one takes the doubt away.
        add(&mut examination, GOOD);
        let cleared = without_reasons(&told(&examination.facts()));
        assert_eq!(difference(&cleared, &without_reasons(&before)), None, "{line}");
    }
}

#[test]
fn what_was_voided_of_a_calibration_stays_in_the_history() {
    let day = day();
    let mut examination = examined(&day);
    let added = ["timebase p60 path=25,100 time=17.9,63.9", "dac p45 path=90 height=40 gain=50"];
    for line in added.into_iter().chain(FAILED) {
        let number = add(&mut examination, line);
        examination.record(void(number)).unwrap();
        let history = &examination.settings().common().history;
        assert!(history.iter().any(|event| event.number == number && event.void), "{line}");
    }
    // A good check that is voided says nothing.
    let number = add(&mut examination, GOOD);
    examination.record(void(number)).unwrap();
    assert!(examination.settings().common().history.iter().all(|event| event.number != number));
}

#[test]
fn what_was_voided_might_as_well_never_have_been_said() {
    let day = day();
    let mut compared = 0;
    for (place, left_out) in day.iter().enumerate() {
        let mut never: Box<Roomy> = Box::default();
        let mut others = day.iter().enumerate().filter(|(other, _)| *other != place).map(|(_, entry)| entry);
        // Without its probe or time base a reading is refused, and nothing is left to compare.
        if !others.all(|entry| never.record(entry.clone()).is_ok()) {
            continue;
        }
        let mut voided = examined(&day);
        voided.record(void(place as u32 + 1)).unwrap();
        let [never, voided] = [&never, &voided].map(|job| without_numbers(&told(&job.facts())));
        assert_eq!(difference(&never, &voided), None, "{left_out:?}");
        compared += 1;
    }
    assert!(compared >= day.len() - 4, "only {compared}");
}

/// What is told of an entry that others rest on.
fn refused(lines: &[&str], number: u32) -> String {
    let mut examination = examined(&facts_of(&lines.join("\n")));
    let before = told(&examination.facts());
    let why = examination.record(void(number)).unwrap_err().to_string();
    assert_eq!(difference(&told(&examination.facts()), &before), None);
    assert!(!examination.entry(number).unwrap().1);
    assert_eq!(examination.last() as usize, lines.len());
    why
}

#[test]
fn an_entry_that_another_rests_on_is_not_taken_out_before_that() {
    let screens = [
        "screen noise=40",
        "screen noise=5",
        "screen reference=30",
        "probe p angle=60 frequency=4 element=8x9",
        "dac p path=30 height=80 gain=38",
    ];
    assert_eq!(refused(&screens, 2), "entry 3 rests on entry 2; void 3 first");
    let mut examination = examined(&facts_of(&screens.join("\n")));
    for number in [3, 2] {
        examination.record(void(number)).unwrap();
    }
    assert_eq!(examination.settings().common().screen.noise().get(), 40.0);
}
