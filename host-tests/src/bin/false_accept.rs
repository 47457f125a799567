//! The hunt for a false accept.
//!
//! `false_accept [CASES]` draws so many spoiled examinations (100 000 unless told otherwise): every fault alone, every pair
//! of grounds 200 times or more, the rest with one to three faults; and a sound one for each hundred, 1000 at least. It
//! prints what each fault was caught by, and every case that passed, with its job; the exit status is 1 when there was one,
//! or when fewer than 995 of 1000 sound ones are accepted.

use std::collections::BTreeMap;
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

use halfskip_host_tests::hunt::{Case, Fault, Kept, Plan, accepts, falsely_passes, told};

/// Draws of each fault alone.
const ALONE: u64 = 200;
/// Draws of each pair of grounds.
const PAIR: u64 = 200;
/// Cases that are tried at a time.
const BATCH: u64 = 64;

/// What was counted. Sums alone, so that the order of the threads changes nothing.
#[derive(Default)]
struct Counts {
    /// Of each fault drawn alone, by what it was caught.
    alone: BTreeMap<Fault, BTreeMap<&'static str, u64>>,
    /// Of each fault, how often it was drawn in all, and caught.
    drawn: BTreeMap<Fault, (u64, u64)>,
    /// Of all cases, by what they were caught.
    by: BTreeMap<&'static str, u64>,
    cases: u64,
    /// Cases that passed, by their seed.
    passed: BTreeMap<u64, String>,
    /// Sound ones that were not accepted, by their seed.
    open: BTreeMap<u64, String>,
}

fn main() -> ExitCode {
    let cases = std::env::args().nth(1).map_or(100_000, |text| text.parse().expect("a number of cases"));
    let (counts, next) = (Mutex::new(Counts::default()), AtomicU64::new(0));
    let plans = plans(cases);
    let sound = (cases / 100).max(1_000);
    thread::scope(|scope| {
        for _ in 0..thread::available_parallelism().map_or(2, usize::from) {
            scope.spawn(|| {
                let kept = Kept::new();
                loop {
                    let from = next.fetch_add(BATCH, Ordering::Relaxed);
                    if from >= cases + sound {
                        break;
                    }
                    for number in from..(from + BATCH).min(cases + sound) {
                        match number.checked_sub(cases) {
                            Some(seed) => unspoiled(&kept, seed, &counts),
                            None => spoiled(&kept, number, &plans, &counts),
                        }
                    }
                }
            });
        }
    });
    let counts = counts.into_inner().expect("a thread has failed");
    report(&counts);
    let accepted = sound - counts.open.len() as u64;
    println!("spoiled {}, passed {}; sound {sound}, accepted {accepted}", counts.cases, counts.passed.len());
    let well = counts.passed.is_empty() && accepted * 1000 >= sound * 995;
    if well { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// What each case is to have: as many of each as there is room for.
fn plans(cases: u64) -> Vec<Plan> {
    let alone = Fault::ALL.iter().flat_map(|fault| (0..ALONE).map(|_| Plan::Alone(*fault)));
    let pairs = Plan::pairs().into_iter().flat_map(|pair| (0..PAIR).map(move |_| pair));
    let mut plans: Vec<Plan> = alone.chain(pairs).collect();
    let planned = plans.len() as u64;
    if cases < planned {
        // Some of all.
        plans = plans.into_iter().step_by(planned.div_ceil(cases.max(1)) as usize).collect();
    }
    plans
}

fn unspoiled(kept: &Kept, seed: u64, counts: &Mutex<Counts>) {
    let lines = Case::sound(seed).lines();
    let said = told(kept, &lines);
    if !accepts(&said.verdict) || said.refused.is_some() {
        let job = lines.join("\n");
        let mut counts = counts.lock().expect("a thread has failed");
        counts.open.insert(seed, format!("{}, {}\n{job}", said.verdict, said.by));
    }
}

fn spoiled(kept: &Kept, seed: u64, plans: &[Plan], counts: &Mutex<Counts>) {
    let plan = plans.get(seed as usize).copied().unwrap_or(Plan::Any);
    let spoiled = plan.draw(seed);
    let said = told(kept, &spoiled.case.lines());
    // Together faults may take away what the other one's line needs; alone each is taken.
    let refused = matches!(plan, Plan::Alone(_)) && said.refused.is_some();
    let passed = refused || falsely_passes(&said.verdict, &spoiled.case, &spoiled.faults);
    let mut counts = counts.lock().expect("a thread has failed");
    counts.cases += 1;
    *counts.by.entry(said.by).or_default() += 1;
    if let Plan::Alone(fault) = plan {
        *counts.alone.entry(fault).or_default().entry(said.by).or_default() += 1;
    }
    for fault in &spoiled.faults {
        let (drawn, caught) = counts.drawn.entry(*fault).or_default();
        (*drawn, *caught) = (*drawn + 1, *caught + u64::from(!passed));
    }
    if passed {
        let job = spoiled.case.lines().join("\n");
        counts.passed.insert(
            seed,
            format!("{:?}: {}{}\n{job}", spoiled.faults, said.verdict, said.refused.unwrap_or_default()),
        );
    }
}

fn report(counts: &Counts) {
    for (seed, passed) in &counts.passed {
        println!("# seed {seed}, {passed}\n");
    }
    for (seed, open) in &counts.open {
        println!("# sound {seed}, {open}\n");
    }
    println!("{:<30}{:>8}{:>8}  alone caught by", "fault", "drawn", "caught");
    for (fault, (drawn, caught)) in &counts.drawn {
        let mut by: Vec<_> = counts.alone.get(fault).into_iter().flatten().collect();
        by.sort_by_key(|(name, count)| (u64::MAX - **count, **name));
        let by: Vec<String> = by.iter().map(|(name, count)| format!("{name} {count}")).collect();
        println!("{:<30}{drawn:>8}{caught:>8}  {}", format!("{fault:?}"), by.join(", "));
    }
    println!("\n{:<30}{:>8}", "all cases by", "cases");
    counts.by.iter().for_each(|(by, count)| println!("{by:<30}{count:>8}"));
}
