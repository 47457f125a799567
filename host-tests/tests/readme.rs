//! What the README promises is what the checks hold.
//!
//! With `HALFSKIP_BLESS=1` in the environment the accuracy table that is measured is written into it.

use std::fmt::Write;
use std::fs;

use halfskip_host_tests::accuracy::{PROMISED, TABLE};
use halfskip_host_tests::bound::UNBOUND;
use halfskip_host_tests::measured::Worst;
use halfskip_host_tests::vectors::{Status, read_all};

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

#[test]
fn the_accuracy_table_is_the_one_that_is_measured() {
    let readme = readme();
    let (before, rest) = readme.split_once("<!-- accuracy -->\n").unwrap();
    let (shown, after) = rest.split_once("<!-- /accuracy -->").unwrap();
    let table = table();
    if std::env::var_os("HALFSKIP_BLESS").is_some() {
        fs::write(README, format!("{before}<!-- accuracy -->\n{table}<!-- /accuracy -->{after}")).unwrap();
    } else {
        assert!(shown == table, "the README's table should be\n{table}");
    }
    assert!(readme.contains(&format!("Promised is\n{PROMISED:e} everywhere")));
}

#[test]
fn the_published_values_are_as_many_as_is_said() {
    let readme = readme();
    let (_, said) = readme.split_once("Over ").unwrap();
    let said: usize = said.split(' ').next().unwrap().parse().unwrap();
    let files = read_all().unwrap_or_else(|error| panic!("{error}"));
    let waits = |quantity: &str| UNBOUND.iter().any(|(unbound, _)| *unbound == quantity);
    let cases = files.iter().flat_map(|file| &file.cases);
    let seen = cases.filter(|case| case.status == Status::Seen && !waits(&case.quantity)).count();
    assert!(said <= seen && said + 100 > seen, "{seen} are checked");
}

#[test]
fn every_file_that_is_pointed_at_is_there() {
    for name in ["README.md", "DEVELOPERS.md"] {
        let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../");
        let text = fs::read_to_string(format!("{root}{name}")).unwrap();
        let mut links = 0;
        for link in text.split("](").skip(1).map(|rest| rest.split(')').next().unwrap()) {
            links += 1;
            let (file, heading) = link.split_once('#').unwrap_or((link, ""));
            let target = if file.is_empty() { name } else { file };
            let found = fs::metadata(format!("{root}{target}"));
            assert!(found.is_ok(), "{name} points at {link}");
            if !heading.is_empty() {
                let target = fs::read_to_string(format!("{root}{target}")).unwrap();
                let headings = target.lines().filter(|line| line.starts_with('#'));
                let plain = |line: &str| line.trim_start_matches('#').trim().to_lowercase().replace(' ', "-");
                assert!(headings.map(plain).any(|found| found == heading), "{name} points at {link}");
            }
        }
        assert!(links > 3, "{name}");
    }
}
