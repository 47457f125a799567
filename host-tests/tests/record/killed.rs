//! The program killed at random moments of an interactive job, over and over, on one file: nothing that it answered for is
//! lost, nothing is invented, and the next start goes on.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use halfskip_host_tests::long::cases;

/// Kills in all, and after how many a new file begins.
const KILLS: u64 = cases(20, 500);
const OF_ONE_FILE: u64 = cases(10, 50);

/// Seeded numbers (SplitMix64): the moments differ from run to run with the machine's load, the lines do not.
struct Drawn(u64);

impl Drawn {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % limit
    }
}

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// The numbers of the notes that stand in a job, in order, and whether its last line is cut.
fn notes(path: &Path) -> (Vec<u64>, bool) {
    let text = fs::read_to_string(path).unwrap_or_default();
    let whole = text.rfind('\n').map_or(0, |end| end + 1);
    let note = |line: &str| line.strip_prefix("note \"")?.split('"').next()?.parse().ok();
    let held = text[..whole].lines().map(|line| note(line).unwrap_or_else(|| panic!("{line}"))).collect();
    (held, whole < text.len())
}

/// When a program is killed.
#[derive(Clone, Copy)]
enum Moment {
    /// So long after its start.
    Started(Duration),
    /// So long after its first answer.
    Answered(Duration),
}

/// Types notes from `next` on until it is killed; the numbers of those that were answered, and of the last one typed.
fn killed(path: &Path, sealed: bool, next: u64, moment: Moment) -> (Vec<u64>, u64) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_desk"));
    program.arg("--job").arg(path);
    if sealed {
        program.arg("--sealed");
    }
    let mut child =
        program.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let mut input = child.stdin.take().unwrap();
    let (typed, last) = mpsc::channel();
    let typist = thread::spawn(move || {
        for number in next.. {
            // Typed first: what is written after the kill was never asked for.
            typed.send(number).unwrap();
            if input.write_all(format!("note \"{number}\"\n").as_bytes()).is_err() {
                return;
            }
        }
    });
    let answers = BufReader::new(child.stdout.take().unwrap());
    let (answer, first) = mpsc::channel();
    let reader = thread::spawn(move || {
        let answers = answers.lines().map_while(Result::ok).filter(|line| line.ends_with(": note recorded"));
        answers.inspect(|_| while answer.send(()).is_err() {}).count() as u64
    });
    match moment {
        Moment::Started(after) => thread::sleep(after),
        Moment::Answered(after) => {
            first.recv().unwrap();
            thread::sleep(after);
        }
    }
    child.kill().unwrap();
    let mut said = String::new();
    std::io::Read::read_to_string(&mut child.stderr.take().unwrap(), &mut said).unwrap();
    child.wait().unwrap();
    typist.join().unwrap();
    let answered = reader.join().unwrap();
    assert!(!said.contains("not recorded"), "{said}");
    ((next..next + answered).collect(), last.iter().last().unwrap_or(next))
}

fn campaign(name: &str, sealed: bool, kills: u64) {
    let (folder, mut drawn) = (folder(name), Drawn(kills));
    let (mut answered_in_all, mut in_the_midst) = (0, 0);
    for file in 0..kills / OF_ONE_FILE {
        let path = folder.join(format!("{file}.job"));
        let mut held: Vec<u64> = Vec::new();
        for _ in 0..OF_ONE_FILE {
            let next = held.last().map_or(0, |last| last + 1);
            let moment = match drawn.below(10) {
                0 => Moment::Started(Duration::from_micros(drawn.below(30_000))),
                _ => Moment::Answered(Duration::from_micros(drawn.below(8_000))),
            };
            let (answered, typed) = killed(&path, sealed, next, moment);
            let (now, cut) = notes(&path);
            in_the_midst += u64::from(cut);
            let lost = held.iter().chain(&answered).find(|number| !now.contains(number));
            assert_eq!(lost, None, "answered for and lost");
            assert!(now.iter().enumerate().all(|(place, number)| place as u64 == *number), "{now:?}");
            assert!(now.last().is_none_or(|last| *last <= typed), "invented");
            answered_in_all += answered.len();
            held = now;
        }
        if sealed {
            let check = Command::new(env!("CARGO_BIN_EXE_desk")).arg("check").arg(&path).output().unwrap();
            assert!(check.status.success(), "{}", String::from_utf8_lossy(&check.stderr));
        }
    }
    assert!(answered_in_all as u64 > kills, "killed before it could answer: {answered_in_all}");
    println!("{kills} kills, {answered_in_all} facts answered for, {in_the_midst} lines cut");
}

#[test]
fn no_kill_loses_a_fact_that_was_answered_for() {
    campaign("killed", false, KILLS - OF_ONE_FILE);
}

#[test]
fn no_kill_of_a_sealed_job_breaks_the_running_digest() {
    campaign("killed-sealed", true, OF_ONE_FILE);
}
