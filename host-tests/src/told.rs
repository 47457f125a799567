//! Everything that findings say of an examination, as one text that two examinations can be compared by.

use std::fmt::Write;
use std::fs;

use halfskip::acceptance::criteria::Sheet;
use halfskip::findings::{Blocked, Caution, Findings, Scratch, cautions, evaluate, suspicion};
use halfskip::record::entry::{Entry, LengthUnit};
use halfskip::record::examination::{Examination, Facts};
use halfskip_console::commands::parse::{self, Line};
use halfskip_console::sheets::criteria::{HOST_ROWS, read};

/// An examination with room for any job of these checks.
pub type Roomy = Examination<16, 64, 4096, 65_536>;

/// The fact in a line of the language, lengths in `unit` unless they say so; none in a blank line or a comment.
///
/// # Panics
/// When the line is refused or asks something.
#[must_use]
pub fn fact(line: &str, unit: LengthUnit) -> Option<Entry> {
    match parse::line(line.as_bytes(), unit) {
        Ok(None) => None,
        Ok(Some(Line::Fact(entry))) => Some(entry),
        other => panic!("{line}: {other:?}"),
    }
}

/// The facts of a job, `units` lines heeded.
///
/// # Panics
/// When a line is refused or asks something.
#[must_use]
pub fn facts_of(job: &str) -> Vec<Entry> {
    let mut unit = LengthUnit::Mm;
    let mut entries = Vec::new();
    for line in job.lines() {
        let Some(entry) = fact(line, unit) else { continue };
        if let Entry::Units(default) = entry {
            unit = default;
        }
        entries.push(entry);
    }
    entries
}

/// An examination of these entries.
///
/// # Panics
/// When one is refused.
#[must_use]
pub fn examined<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Box<Roomy> {
    let mut examination: Box<Roomy> = Box::new(Examination::new());
    for entry in entries {
        if let Err(refusal) = examination.record(entry.clone()) {
            panic!("{entry:?}: {refusal}");
        }
    }
    examination
}

/// The invented sheet that is shipped.
///
/// # Panics
/// When it cannot be read.
#[must_use]
pub fn demonstration() -> Sheet<HOST_ROWS> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/criteria/demonstration.toml");
    read(&fs::read_to_string(path).unwrap()).unwrap()
}

/// All that is said: each reading, each indication with its verdict by the demonstration sheet, every caution; what is
/// of one indication stands together, the indications in the order of their names.
///
/// # Panics
/// When what is said hangs on the room that it is worked out in.
#[must_use]
pub fn told(facts: &Facts<'_>) -> String {
    let sheet = demonstration();
    let text = told_of(&Findings::new(*facts, Some(&sheet), &mut Scratch::<64, 512>::new()));
    let narrow = told_of(&Findings::new(*facts, Some(&sheet), &mut Scratch::<1, 512, 1>::new()));
    assert_eq!(text, narrow, "in room for all and for one");
    text
}

fn told_of(findings: &Findings<'_>) -> String {
    let (facts, rule) = (findings.facts(), findings.length_rule());
    let name = |place: u8| facts.indications()[usize::from(place)].as_str();
    let mut places: Vec<u8> = facts.seen().collect();
    places.sort_by_key(|place| name(*place));
    let mut text = String::new();
    for place in places {
        let found = findings.indication(place);
        let point = found.place();
        let strongest = found.level().map(|strongest| {
            let first = strongest.without_level.map(|(number, why)| format!("number: {number} {why:?}"));
            (strongest.level, first)
        });
        let (length, height) = (found.length(rule), found.height(point.as_ref()));
        writeln!(text, "{}: {point:?}", name(place)).unwrap();
        writeln!(text, "{:?} {length:?} {height:?}", strongest.as_ref().map(|(level, _)| level)).unwrap();
        writeln!(text, "because: {:?}", strongest.map(|(_, first)| first)).unwrap();
        let heights = found.heights(point.as_ref());
        sorted(
            &mut text,
            heights.iter().map(|seen| format!("{:?} {:?} {}", seen.method, seen.height, seen.uncertainty())),
        );
        let judged = found.verdict(point.as_ref()).unwrap();
        let group = judged.group.as_ref().map(|group| (group.group.length(), group.decision.verdict));
        let blocked = match judged.blocked {
            Some(Blocked::NeighbourWithoutLength { indication } | Blocked::MayJoin { indication }) => {
                format!("beside {}", name(indication))
            }
            other => format!("{other:?}"),
        };
        writeln!(text, "{:?} {:?} {group:?}", judged.verdict, judged.class).unwrap();
        writeln!(text, "because: {blocked}").unwrap();
        let readings = facts.readings_of(place).map(|reading| {
            let found = evaluate(facts, reading);
            let probe = facts.probe(reading.probe()).unwrap().name();
            format!(
                "{probe} {:?} {:?} {:?} {:?} {:?} {:?}",
                reading.side(),
                found.path,
                found.place,
                found.uncertainty(),
                found.level,
                suspicion(facts, reading)
            )
        });
        sorted(&mut text, readings);
    }
    let mut told = Vec::new();
    // What was voided is told, and is no part of what holds without it.
    cautions(findings, |caution| {
        if !matches!(caution, Caution::Voided { .. }) {
            told.push(caution.told(facts).to_string());
        }
    });
    sorted(&mut text, told.into_iter());
    text
}

fn sorted(text: &mut String, lines: impl Iterator<Item = String>) {
    let mut lines: Vec<String> = lines.collect();
    // By what they say, not by the entries that they name.
    lines.sort_by_key(|line| without_numbers(line));
    lines.iter().for_each(|line| writeln!(text, "{line}").unwrap());
}

/// A told text without the reasons: where several hold, the first entry with one is named.
#[must_use]
pub fn without_reasons(told: &str) -> String {
    told.lines().filter(|line| !line.starts_with("because: ")).map(|line| format!("{line}\n")).collect()
}

/// A told text without the numbers of entries, which differ where one was never made.
#[must_use]
pub fn without_numbers(told: &str) -> String {
    let mut text = String::new();
    for line in told.lines() {
        let mut rest = line;
        let next = |rest: &str| {
            ["number: ", "reading ", "readings ", "check of entry ", "entries ", " to "]
                .iter()
                .filter_map(|word| Some(rest.find(word)? + word.len()))
                .min()
        };
        while let Some(at) = next(rest) {
            text += &rest[..at];
            rest = behind_numbers(&rest[at..]);
        }
        text += rest;
        text.push('\n');
    }
    text
}

/// What follows a list of numbers: "22, 25 to 31 and 4 more".
fn behind_numbers(list: &str) -> &str {
    let mut rest = list.trim_start_matches(|c: char| c.is_ascii_digit());
    while let Some(next) = [", ", " to ", " and "].iter().find_map(|between| rest.strip_prefix(between)) {
        let behind = next.trim_start_matches(|c: char| c.is_ascii_digit());
        if behind.len() == next.len() {
            return rest;
        }
        rest = behind.strip_prefix(" more").unwrap_or(behind);
    }
    rest
}

/// The first line in which two told texts differ; none when they are one.
#[must_use]
pub fn difference(one: &str, other: &str) -> Option<String> {
    let mut pairs = one.lines().zip(other.lines());
    match pairs.find(|(one, other)| one != other) {
        Some((one, other)) => Some(format!("{one}\n{other}")),
        None => (one != other).then(|| "one is longer".to_owned()),
    }
}
