//! Trying mutants: each test that reaches one is run until one fails.

use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::error::Error;
use std::fs::{self, OpenOptions};
use std::io::Write;
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::thread;
use std::time::{Duration, Instant};

use crate::list::Mutant;

/// Tests of the text of the project, not of what it does, and one at random moments: a program, and modules.
const LEFT_OUT: [&str; 4] = ["house_rules", "readme::", "report::", "killed::"];
/// The longest test that is used.
const LONGEST: Duration = Duration::from_secs(30);

/// How much of the tests' time each mutant is given before the others have had as much: most are caught in the first.
const ROUNDS: [Duration; 4] =
    [Duration::from_secs(1), Duration::from_secs(5), Duration::from_secs(25), Duration::MAX];

/// A test, what it takes, and the mutants it reaches.
pub struct Test {
    program: PathBuf,
    folder: PathBuf,
    name: String,
    /// How many of its cases it holds, where it has digests of many.
    cases: Option<u32>,
    takes: Duration,
    reaches: HashSet<u32>,
}

impl Test {
    fn command(&self) -> Command {
        let mut command = Command::new(&self.program);
        command.current_dir(&self.folder).args(["--exact", &self.name, "--test-threads=1"]);
        if let Some(cases) = self.cases {
            command.env("HALFSKIP_CASES", cases.to_string());
        }
        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        command
    }

    /// Runs it with a mutant; `None` when it did not end.
    fn passes(&self, id: u32) -> std::io::Result<Option<bool>> {
        let limit = Duration::from_secs(3) + self.takes * 8;
        let began = Instant::now();
        let mut child = self.command().env("HALFSKIP_MUTANT", id.to_string()).spawn()?;
        let mut pause = Duration::from_micros(500);
        loop {
            if let Some(status) = child.try_wait()? {
                return Ok(Some(status.success()));
            }
            if began.elapsed() > limit {
                child.kill()?;
                child.wait()?;
                return Ok(None);
            }
            std::thread::sleep(pause);
            pause = (pause * 2).min(Duration::from_millis(20));
        }
    }
}

/// Every test of the programs that passes without a mutant in time, with what it reaches.
pub fn tests(programs: &[(PathBuf, PathBuf)], scratch: &Path) -> Result<Vec<Test>, Box<dyn Error>> {
    let reached = scratch.join("reached");
    let mut tests = Vec::new();
    for (program, folder) in programs {
        let stem = program.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default();
        let listed = Command::new(program).current_dir(folder).arg("--list").output()?;
        for line in String::from_utf8(listed.stdout)?.lines() {
            let Some(name) = line.strip_suffix(": test") else { continue };
            if LEFT_OUT.iter().any(|text| stem.starts_with(text) || name.starts_with(text)) {
                continue;
            }
            let cases: &[Option<u32>] =
                if name.starts_with("pinned::") { &[Some(8), Some(24), None] } else { &[None] };
            for cases in cases {
                let mut test = Test {
                    program: program.clone(),
                    folder: folder.clone(),
                    name: name.to_owned(),
                    cases: *cases,
                    takes: LONGEST / 8,
                    reaches: HashSet::new(),
                };
                let _ = fs::remove_file(&reached);
                let status = test.command().env("HALFSKIP_REACHED", &reached).status()?;
                let began = Instant::now();
                if !status.success() || test.passes(0)? != Some(true) {
                    eprintln!("left out: {stem} {name}");
                    continue;
                }
                test.takes = began.elapsed();
                let bytes = fs::read(&reached).unwrap_or_default();
                test.reaches = bytes.as_chunks().0.iter().map(|four| u32::from_le_bytes(*four)).collect();
                tests.push(test);
            }
        }
    }
    // Short tests of little code first: they fail for what they name.
    tests.sort_by_key(|test| test.takes.as_micros() * (200 + test.reaches.len() as u128));
    Ok(tests)
}

/// The tests that failed for mutants of a file, the last one first: the likeliest to fail for its next one.
#[derive(Default)]
struct Catchers(Mutex<BTreeMap<String, Vec<usize>>>);

impl Catchers {
    /// How many are asked before all others.
    const ASKED: usize = 12;

    fn of(&self, file: &str) -> Vec<usize> {
        let known = self.0.lock().expect("no thread fails while it holds this");
        known.get(file).map_or_else(Vec::new, |tests| tests.iter().take(Self::ASKED).copied().collect())
    }

    fn caught(&self, file: &str, test: usize) {
        let mut known = self.0.lock().expect("no thread fails while it holds this");
        let tests = known.entry(file.to_owned()).or_default();
        tests.retain(|one| *one != test);
        tests.insert(0, test);
    }
}

/// What was made of a mutant so far: the tests that have passed with it, and the time they took.
struct Trial<'m> {
    mutant: &'m Mutant,
    passed: HashSet<usize>,
    spent: Duration,
}

impl Trial<'_> {
    /// Runs tests that reach the mutant until one fails or the time is over; `None` when it was over first.
    fn go_on(
        &mut self,
        tests: &[Test],
        catchers: &Catchers,
        limit: Duration,
    ) -> std::io::Result<Option<&'static str>> {
        let (first, mut left) = (catchers.of(&self.mutant.file), false);
        let others = (0..tests.len()).filter(|at| !first.contains(at));
        for at in first.iter().copied().chain(others) {
            let Some(test) = tests.get(at).filter(|test| test.reaches.contains(&self.mutant.id)) else {
                continue;
            };
            if self.passed.contains(&at) {
                continue;
            }
            if self.spent + test.takes > limit {
                left = true;
                continue;
            }
            match test.passes(self.mutant.id)? {
                Some(true) => self.passed.insert(at),
                Some(false) => {
                    catchers.caught(&self.mutant.file, at);
                    return Ok(Some("caught"));
                }
                None => return Ok(Some("endless")),
            };
            self.spent += test.takes;
        }
        Ok((!left).then_some(if self.passed.is_empty() { "unreached" } else { "missed" }))
    }
}

/// Prints how many branches of each part are taken by a test, and lists those that are not.
pub fn branches(places: &BTreeMap<u32, String>, tests: &[Test], folder: &Path) -> std::io::Result<()> {
    let taken: HashSet<u32> = tests.iter().flat_map(|test| test.reaches.iter().copied()).collect();
    let mut parts: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    let mut missing = String::new();
    for (id, place) in places {
        let part = place.trim_start_matches("core/src/").split(['/', '.']).next().unwrap_or_default();
        let (of, all) = parts.entry(part).or_default();
        *all += 1;
        if taken.contains(id) {
            *of += 1;
        } else {
            missing += place;
            missing.push('\n');
        }
    }
    for (part, (of, all)) in parts {
        println!("{part}\t{of} of {all} branches taken");
    }
    fs::write(folder.join("branches.tsv"), missing)
}

/// Tries the live mutants that have no result yet, in a shuffled order, and prints the sum.
pub fn try_all(
    mutants: &[Mutant],
    live: &BTreeSet<u32>,
    tests: &[Test],
    folder: &Path,
    within: Duration,
) -> Result<(), Box<dyn Error>> {
    let path = folder.join("results.tsv");
    let known: HashSet<String> = fs::read_to_string(&path)
        .unwrap_or_default()
        .lines()
        .filter_map(|line| line.split('\t').next_back().map(str::to_owned))
        .collect();
    let results = OpenOptions::new().create(true).append(true).open(&path)?;
    let mut order: Vec<&Mutant> = mutants.iter().filter(|mutant| live.contains(&mutant.id)).collect();
    order.sort_by_key(|mutant| mutant.id.wrapping_mul(0x9E37_79B1).rotate_left(16).wrapping_mul(0x85EB_CA6B));
    order.retain(|mutant| !known.contains(&mutant.name));
    let trial = |mutant| Trial { mutant, passed: HashSet::new(), spent: Duration::ZERO };
    let mut open: Vec<Trial<'_>> = order.into_iter().map(trial).collect();
    let began = Instant::now();
    let catchers = Catchers::default();
    for limit in ROUNDS {
        let waiting = Mutex::new(open.into_iter());
        let left = Mutex::new(Vec::new());
        thread::scope(|scope| {
            for _ in 0..thread::available_parallelism().map_or(1, NonZero::get) {
                scope.spawn(|| {
                    while began.elapsed() < within
                        && let Some(mut trial) = { waiting.lock().expect("no thread fails").next() }
                    {
                        match trial.go_on(tests, &catchers, limit).expect("a test program runs") {
                            Some(result) => (&results)
                                .write_all(format!("{result}\t{}\n", trial.mutant.name).as_bytes())
                                .expect("a line of results"),
                            None => left.lock().expect("no thread fails").push(trial),
                        }
                    }
                });
            }
        });
        open = left.into_inner().expect("no thread fails");
        eprintln!("{} mutants withstood tests of {} s", open.len(), limit.as_secs());
    }
    let mut sums: BTreeMap<String, usize> = BTreeMap::new();
    for line in fs::read_to_string(&path)?.lines() {
        *sums.entry(line.split('\t').next().unwrap_or_default().to_owned()).or_default() += 1;
    }
    for (result, count) in sums {
        println!("{result}\t{count}");
    }
    Ok(())
}
