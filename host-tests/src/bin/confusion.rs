//! How often the nature of invented reflectors is told rightly, wrongly, or not at all.
//!
//! `confusion [CASES]` draws so many cases of each kind (60 unless told otherwise) for a thorough examination, and a
//! third as many for each poorer one. `confusion KIND SET-UP SEED` prints the job of one case.

use halfskip::character::{Breaks, Root, Shape};
use halfskip_host_tests::job::indication;
use halfskip_host_tests::synthetic::{Drawing, Kind, SetUp, Truth, draw, examined, job};

/// Cases of each kind unless told otherwise.
const CASES: u64 = 60;

/// How one answer came out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Told {
    Right,
    Wrong,
    Open,
}

/// Right, wrong and open answers.
#[derive(Clone, Copy, Default)]
struct Tally([u32; 3]);

impl Tally {
    fn add(&mut self, told: Told) {
        let place = match told {
            Told::Right => 0,
            Told::Wrong => 1,
            Told::Open => 2,
        };
        self.0[place] += 1;
    }
}

/// What was told of a case: shape, breaks, root.
type Answer = (Option<Shape>, Option<Breaks>, Option<Root>);

fn answer(drawing: &Drawing, seed: u64) -> Answer {
    let examination = examined(&job(&drawing.sweeps, &drawing.reflectors, seed));
    let facts = examination.facts();
    if facts.indications().is_empty() {
        return (None, None, None);
    }
    let found = indication(&facts, 0).character();
    (found.shape, found.breaks, found.root)
}

/// An answer that should be given: nothing told leaves it open.
fn wanted<T: PartialEq>(told: Option<T>, truth: Option<T>) -> Told {
    match (told, truth) {
        (None, Some(_)) => Told::Open,
        (told, truth) if told == truth => Told::Right,
        _ => Told::Wrong,
    }
}

fn judged(told: Answer, truth: &Truth) -> [Told; 3] {
    let root = match (told.2, truth.root) {
        // A crack in a bead told as a flaw lacks only the bead.
        (Some(Root::Flaw), Some(Root::Both)) => Told::Open,
        (told, truth) => wanted(told, truth),
    };
    [wanted(told.0, truth.shape), wanted(told.1, truth.breaks), root]
}

fn table(set_up: SetUp, cases: u64) {
    println!(
        "\n{set_up:?}, {cases} cases of each kind          shape            breaks             flaw or shape of weld"
    );
    println!("{:18} {}", "", " right wrong  open".repeat(3));
    let mut sums = [Tally::default(); 3];
    for kind in Kind::ALL {
        let mut tallies = [Tally::default(); 3];
        for seed in 0..cases {
            let drawing = draw(kind, set_up, seed);
            let told = judged(answer(&drawing, seed), &drawing.truth);
            for ((tally, sum), told) in tallies.iter_mut().zip(&mut sums).zip(told) {
                tally.add(told);
                sum.add(told);
            }
        }
        row(&format!("{kind:?}"), &tallies);
    }
    row("all", &sums);
}

fn row(name: &str, tallies: &[Tally; 3]) {
    print!("{name:18} ");
    for Tally([right, wrong, open]) in tallies {
        print!("{right:6}{wrong:6}{open:6}");
    }
    println!();
}

/// The confusion matrix of one question over a thorough examination.
fn matrix(cases: u64) {
    println!("\nwhat a thorough examination tells, by what is there");
    for kind in Kind::ALL {
        let mut told: Vec<(Answer, u32, u64)> = Vec::new();
        for seed in 0..cases {
            let answer = answer(&draw(kind, SetUp::Thorough, seed), seed);
            match told.iter_mut().find(|held| held.0 == answer) {
                Some(held) => held.1 += 1,
                None => told.push((answer, 1, seed)),
            }
        }
        told.sort_by_key(|held| std::cmp::Reverse(held.1));
        for (answer, count, first) in told {
            println!("{:18} {count:4}  {}, seed {first}", format!("{kind:?}"), words(answer));
        }
    }
}

fn words((shape, breaks, root): Answer) -> String {
    let shape = match shape {
        Some(Shape::Planar) => "planar",
        Some(Shape::Volumetric) => "volumetric",
        None => "shape open",
    };
    let breaks = match breaks {
        Some(Breaks::FarFace) => "breaks the far face",
        Some(Breaks::NearFace) => "breaks the near face",
        Some(Breaks::Neither) => "buried",
        None => "face open",
    };
    let root = match root {
        Some(Root::Flaw) => "a flaw at a face",
        Some(Root::Geometry) => "the shape of the weld",
        Some(Root::Both) => "flaw and shape of the weld",
        None => "no word on the root",
    };
    format!("{shape}, {breaks}, {root}")
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [kind, set_up, seed] = arguments.as_slice() {
        let kind = Kind::ALL.into_iter().find(|known| format!("{known:?}") == *kind);
        let set_up = SetUp::ALL.into_iter().find(|known| format!("{known:?}") == *set_up);
        let (Some(kind), Some(set_up), Ok(seed)) = (kind, set_up, seed.parse()) else {
            eprintln!("confusion [CASES] | KIND SET-UP SEED");
            std::process::exit(2);
        };
        let drawing = draw(kind, set_up, seed);
        println!("# {:?} {:?}", drawing.reflectors, drawing.truth);
        print!("{}", job(&drawing.sweeps, &drawing.reflectors, seed));
        return;
    }
    let cases = arguments.first().and_then(|word| word.parse().ok()).unwrap_or(CASES);
    matrix(cases);
    table(SetUp::Thorough, cases);
    for set_up in [SetUp::OneSide, SetUp::OneProbe, SetUp::Coarse] {
        table(set_up, cases.div_ceil(3));
    }
}
