//! What README and chapters show is what the checks hold.
//!
//! With `HALFSKIP_BLESS=1` in the environment the accuracy table that is measured, and the answers that are given, are written into them.

mod chapters;
#[path = "../../../../console/tests/shell/device/mod.rs"]
#[allow(dead_code)]
mod device;
mod links;
mod played;
#[path = "../../../../examples/logger/examples/scan.rs"]
#[allow(dead_code)]
mod scan;

use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::sync::Mutex;

use halfskip_console::desk::console::Desk;
use halfskip_console::desk::manual::overview;
use halfskip_console::desk::{Lines, Outcome};
use halfskip_host_tests::accuracy::{PROMISED, TABLE};
use halfskip_host_tests::graded::graded;
use halfskip_host_tests::measured::Worst;
use halfskip_host_tests::vectors::read_all;

const README: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../README.md");

fn readme() -> String {
    fs::read_to_string(README).unwrap()
}

/// The accuracy table as the README shows it: what is held, and the worst that was measured.
fn table() -> String {
    let worst = Worst::measured();
    let mut out =
        String::from("| function | held | worst | points | in parts of |\n| --- | --- | --- | --- | --- |\n");
    for entry in TABLE {
        let (error, points) = worst.of(entry.function).unwrap();
        let (function, held, term) = (entry.function, entry.error, entry.term);
        writeln!(out, "| {function} | {held:.0e} | {error:.1e} | {points} | {term} |").unwrap();
    }
    out
}

/// Holds the block of that name against what it should be, or writes that.
fn held(name: &str, should_be: impl Fn(&str) -> String) {
    // One block is written at a time.
    static WRITING: Mutex<()> = Mutex::new(());
    let _alone = WRITING.lock();
    let readme = readme();
    let (open, close) = (format!("<!-- {name} -->\n"), format!("<!-- /{name} -->"));
    let (before, rest) = readme.split_once(&open).unwrap();
    let (shown, after) = rest.split_once(&close).unwrap();
    let should_be = should_be(shown);
    if std::env::var_os("HALFSKIP_BLESS").is_some() {
        fs::write(README, format!("{before}{open}{should_be}{close}{after}")).unwrap();
    } else {
        assert!(shown == should_be, "with HALFSKIP_BLESS=1 the README is given its {name}:\n{should_be}");
    }
}

/// What the job of the first command answers to these lines, each told with what it is answered.
fn answered(lines: &[String]) -> String {
    let lines = lines.to_vec();
    let asked = move || {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/jobs/butt-weld-20mm.job");
        let mut desk = Desk::new(Some(&path));
        let mut answer = String::new();
        for line in fs::read_to_string(path).unwrap().lines() {
            let outcome = desk.line(line.as_bytes(), &mut answer);
            assert!(!matches!(outcome, Outcome::Refused { .. }), "{line}");
        }
        answer.clear();
        for line in lines {
            answer += &format!("> {line}\n");
            if let Outcome::Refused { column: Some(column) } = desk.line(line.as_bytes(), &mut answer) {
                answer += &format!("(column {column})\n");
            }
        }
        answer
    };
    // The desk has room for far more than the stack of a test.
    std::thread::Builder::new().stack_size(64 << 20).spawn(asked).unwrap().join().unwrap()
}

#[test]
fn the_findings_shown_are_those_of_the_first_command() {
    held("findings", |_| {
        let answer = answered(&["findings".to_owned()]);
        format!("```\n{}```\n", answer.split_once('\n').unwrap().1)
    });
}

#[test]
fn the_verbs_and_the_program_are_shown_as_they_explain_themselves() {
    held("verbs", |_| {
        let mut answer = String::new();
        halfskip_console::commands::help::answer(&mut answer, None).unwrap();
        format!("```\n{answer}```\n")
    });
    held("program", |_| format!("```\n{}```\n", overview()));
}

#[test]
fn the_session_shown_is_answered_so() {
    held("session", |shown| {
        let typed: Vec<String> =
            shown.lines().filter_map(|line| line.strip_prefix("> ")).map(String::from).collect();
        assert!(typed.len() >= 3);
        format!("```\n{}```\n", answered(&typed))
    });
}

#[test]
fn the_accuracy_table_is_the_one_that_is_measured() {
    held("accuracy", |_| table());
    assert!(readme().contains(&format!("Promised is\n{PROMISED:e} everywhere")));
}

#[test]
fn the_published_values_are_as_many_as_is_said() {
    let readme = readme();
    let (_, said) = readme.split_once("Over ").unwrap();
    let said: usize = said.split(' ').next().unwrap().parse().unwrap();
    let graded = graded(&read_all().unwrap_or_else(|error| panic!("{error}")));
    let seen: usize = graded.iter().map(|of| of.single + of.cells).sum();
    assert!(said <= seen && said + 100 > seen, "{seen} are checked");
    held("published", |_| {
        let mut out = String::from("| grade | source | values |\n| --- | --- | --- |\n");
        for of in graded {
            let cells =
                if of.cells == 0 { String::new() } else { format!(", and {} cells of a table", of.cells) };
            writeln!(out, "| {} | {} | {}{cells} |", of.grade, of.source, of.single).unwrap();
        }
        out
    });
}
