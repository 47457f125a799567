//! The hunt for a false accept.
//!
//! `false_accept [CASES]` draws so many spoiled examinations (100 000 unless told otherwise), each with one to three
//! faults, and as many sound ones in a hundred. It prints how often each fault was drawn and what was said, and every
//! accept, and every record that nothing bears, with its job; the exit status is 1 when there was one.

use std::collections::BTreeMap;
use std::process::ExitCode;

use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::hunt::{Case, Fault, Kept, accepts, falsely_passes, told};

fn main() -> ExitCode {
    let cases = std::env::args().nth(1).map_or(100_000, |text| text.parse().expect("a number of cases"));
    let kept = Kept::new();
    let (mut by_fault, mut words) = (BTreeMap::<Fault, u64>::new(), BTreeMap::<String, u64>::new());
    let mut false_accepts = 0u64;
    for seed in 0..cases {
        let (case, faults) = spoiled(seed);
        let said = told(&kept, &case.lines());
        for fault in &faults {
            *by_fault.entry(*fault).or_default() += 1;
        }
        let word = said.strip_prefix("Indication 1: ").unwrap_or("not told").split(',').next().unwrap_or("");
        *words.entry(word.to_string()).or_default() += 1;
        if falsely_passes(&said, &case, &faults) {
            false_accepts += 1;
            println!("# seed {seed}, {faults:?}: {said}\n{}\n", case.lines().join("\n"));
        }
    }
    let sound = cases / 100;
    let accepted = (0..sound).filter(|seed| accepts(&told(&kept, &Case::sound(*seed).lines()))).count();
    println!("spoiled cases {cases}, false accepts {false_accepts}");
    words.iter().for_each(|(word, count)| println!("  {word:<14}{count:>8}"));
    println!("sound cases {sound}, accepted {accepted}");
    by_fault.iter().for_each(|(fault, count)| println!("  {:<28}{count:>8}", format!("{fault:?}")));
    if false_accepts == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// A sound case with one to three faults that matter to its sheet.
fn spoiled(seed: u64) -> (Case, Vec<Fault>) {
    let mut case = Case::sound(seed);
    let mut drawn = Drawn::seeded(!seed);
    let mut faults = Vec::new();
    let wanted = drawn.one_of(&[1, 1, 1, 2, 3]);
    while faults.len() < wanted {
        let fault = drawn.one_of(&Fault::ALL);
        if fault.matters(&case) && !faults.contains(&fault) {
            faults.push(fault);
        }
    }
    faults.sort_by_key(|fault| fault.turn());
    for fault in &faults {
        if !case.readings.is_empty() || fault.turn() > 0 {
            fault.spoil(&mut case, &mut drawn);
        }
    }
    (case, faults)
}
