//! A job's lines taken as the shell takes them, for checks of what they amount to.

use halfskip::acceptance::criteria::Criteria;
use halfskip::findings::{Findings, HeightFinding, Indication, Scratch};
use halfskip::record::examination::Facts;
use halfskip_console::sheets::criteria as sheet;
use halfskip_console::sheets::{NoSheets, OneSheet};
use halfskip_console::shell::{Outcome, Shell};

/// The findings of an examination, by a sheet or without one; what they are evaluated in lives as long as the test.
#[must_use]
pub fn findings<'a>(facts: &Facts<'a>, sheet: Option<&'a Criteria>) -> &'a Findings<'a> {
    let scratch = Box::leak(Box::new(Scratch::<64>::new()));
    Box::leak(Box::new(Findings::new(*facts, sheet, scratch)))
}

/// An indication of an examination without a sheet.
#[must_use]
pub fn indication<'a>(facts: &Facts<'a>, place: u8) -> Indication<'a> {
    findings(facts, None).indication(place)
}

/// Its height.
#[must_use]
pub fn height(facts: &Facts<'_>, place: u8) -> Option<HeightFinding> {
    let found = indication(facts, place);
    found.height(found.place().as_ref())
}

/// A shell at the capacities of a device.
pub type Job = Box<Shell<NoSheets>>;

/// The lines of a job, one after the other.
///
/// # Panics
/// When a line is refused; it says which and why.
#[must_use]
pub fn job(lines: &str) -> Job {
    let mut shell: Job = Box::new(Shell::new(NoSheets));
    for line in lines.lines() {
        let mut answer = String::new();
        let outcome = shell.line(line.as_bytes(), &mut answer);
        assert!(!matches!(outcome, Outcome::Refused { .. }), "{line}\n{answer}");
    }
    shell
}

/// Why a job's last line is refused, the others being taken.
///
/// # Panics
/// When an earlier line is refused, or the last one is not.
#[must_use]
pub fn refusal(lines: &str) -> String {
    let (earlier, last) = lines.trim().rsplit_once('\n').unwrap_or(("", lines.trim()));
    let (mut shell, mut answer) = (job(earlier), String::new());
    let outcome = shell.line(last.as_bytes(), &mut answer);
    assert!(matches!(outcome, Outcome::Refused { .. }), "{last}\n{answer}");
    answer
}

/// What `questions` are answered after lines that are all recorded, spaces and line ends each as one space. The sheet goes
/// by the name of `it`.
///
/// # Panics
/// When the sheet is none, or a line is not recorded; it says which and why.
#[must_use]
pub fn answers<'l, const N: usize>(
    sheet: &str,
    lines: impl IntoIterator<Item = &'l str>,
    questions: [&str; N],
) -> [String; N] {
    let sheet = sheet::read::<24>(sheet).unwrap();
    let mut shell: Box<Shell<OneSheet<24>>> = Box::new(Shell::new(OneSheet { name: "it", sheet }));
    for line in lines {
        let mut answer = String::new();
        assert!(matches!(shell.line(line.as_bytes(), &mut answer), Outcome::Recorded(_)), "{line}: {answer}");
    }
    questions.map(|question| {
        let mut answer = String::new();
        shell.ask(question.as_bytes(), &mut answer);
        answer.split_whitespace().collect::<Vec<_>>().join(" ")
    })
}

/// A job with what an accept asks of its head. Before the first reading each probe has its nominal angle and a transfer of
/// 0 dB stated, where neither is said, and a good check on its first reference point; the same check again ends the job.
///
/// That makes up to three entries for each probe before the readings.
#[must_use]
pub fn calibrated(lines: &str) -> String {
    let first = lines.lines().position(|line| line.starts_with("reading ")).unwrap_or(lines.lines().count());
    let (head, rest): (Vec<&str>, Vec<&str>) =
        (lines.lines().take(first).collect(), lines.lines().skip(first).collect());
    let (mut stated, mut checks) = (Vec::new(), Vec::new());
    for probe in head.iter().filter(|line| line.starts_with("probe ")) {
        let name = probe.split(' ').nth(1).unwrap_or_default();
        let of = |verb: &str| {
            let beginning = format!("{verb} {name} ");
            head.iter().copied().find(move |line| line.starts_with(&beginning))
        };
        if of("angle").is_none() {
            stated.push(format!("angle {name} stated={}", value(probe, "angle")));
        }
        if of("transfer").is_none() {
            stated.push(format!("transfer {name} gain=0"));
        }
        if let Some(point) = of("dac") {
            let [path, height, gain] = ["path", "height", "gain"].map(|key| value(point, key));
            checks.push(format!("check {name} path={path} shown={path} height={height} gain={gain}"));
        }
    }
    let owned = |lines: Vec<&str>| lines.into_iter().map(str::to_string).collect();
    let all: [Vec<String>; 5] = [owned(head), stated, checks.clone(), owned(rest), checks];
    all.concat().into_iter().map(|line| line + "\n").collect()
}

/// What a line says behind `key=`.
fn value<'l>(line: &'l str, key: &str) -> &'l str {
    let mut parts = line.split(' ').filter_map(|part| part.split_once('='));
    parts.find(|(name, _)| *name == key).map(|(_, value)| value).unwrap_or_default()
}

/// The form of a weighted rating whose limits are whole decibels, as a sheet has it.
pub const WEIGHTED: &str = "measure = 'weighted'\n[weighted]\nper = '0.08dB/mm'\nbeyond = '25mm'\nround = 'half-up'\n\
                            round-d = 'floor'\nshorter-path = 'zero'";
