//! Every case of every vector file through the library's public functions.

use std::collections::BTreeSet;

use halfskip::physics::material::PRESETS;
use halfskip_host_tests::accuracy::PROMISED;
use halfskip_host_tests::bound::{UNBOUND, answer};
use halfskip_host_tests::graded::graded;
use halfskip_host_tests::vectors::{Answer, Case, Status, Vectors, read_all};

fn files() -> Vec<Vectors> {
    read_all().unwrap_or_else(|error| panic!("{error}"))
}

fn waits(case: &Case) -> bool {
    UNBOUND.iter().any(|(quantity, _)| *quantity == case.quantity)
}

#[test]
fn every_case_gives_the_printed_value_or_the_named_refusal() {
    let mut faults = Vec::new();
    let (mut judged, mut seen) = (0, 0);
    for file in files() {
        for case in &file.cases {
            let Some(answer) = answer(case) else {
                if !waits(case) {
                    faults.push(format!("{}: no function is bound to '{}'", case.id, case.quantity));
                }
                continue;
            };
            judged += 1;
            seen += usize::from(case.status == Status::Seen);
            if let Err(mismatch) = case.judge(&answer, PROMISED) {
                faults.push(mismatch.to_string());
            }
            // A refusal may come before the last input is looked at.
            let unread = case.unread();
            if !unread.is_empty() && !matches!(answer, Answer::Refused(_)) {
                faults.push(format!("{}: nothing reads {unread:?}", case.id));
            }
        }
    }
    println!("{judged} cases judged, {seen} of them against a value seen in its source");
    let graded = graded(&files());
    for of in graded {
        println!("{}: {} and {} in tables, of {}", of.grade, of.single, of.cells, of.source);
    }
    assert_eq!(seen, graded.iter().map(|of| of.single + of.cells).sum::<usize>(), "a grade that is none");
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn at_least_sixty_seen_values_are_judged_beside_the_printed_tables() {
    let files = files();
    let cells: usize = files.iter().map(|file| file.cells).sum();
    let cases = files.iter().flat_map(|file| &file.cases);
    let seen = cases.filter(|case| case.status == Status::Seen && !waits(case)).count();
    assert_eq!(cells, 128);
    assert!(seen >= cells + 60, "{seen} seen, {cells} of them in tables");
}

#[test]
fn what_waits_for_a_function_is_in_the_files_and_still_waits() {
    let files = files();
    let cases = || files.iter().flat_map(|file| &file.cases);
    let quantities: BTreeSet<&str> = cases().map(|case| case.quantity.as_str()).collect();
    for (quantity, reason) in UNBOUND {
        assert!(quantities.contains(quantity), "{quantity} is in no file");
        assert!(!reason.is_empty());
    }
    for case in cases().filter(|case| waits(case)) {
        assert!(answer(case).is_none(), "{} is bound", case.quantity);
    }
}

#[test]
fn every_preset_is_held_against_its_source() {
    let files = files();
    for preset in &PRESETS {
        for quantity in ["tabulated_long_m_s", "tabulated_shear_m_s"] {
            let found = files
                .iter()
                .flat_map(|file| &file.cases)
                .find(|case| case.quantity == quantity && case.word("preset") == Some(preset.name));
            let case = found.unwrap_or_else(|| panic!("no {quantity} for '{}'", preset.name));
            assert_eq!(case.status, Status::Seen);
            let document = preset.source().split([',', ':']).next().unwrap_or_default();
            assert!(
                case.source.starts_with(document),
                "{}: {} against {}",
                case.id,
                case.source,
                preset.source()
            );
        }
    }
}
