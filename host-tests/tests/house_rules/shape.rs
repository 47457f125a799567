//! How the project is laid out: its top level, the size of its files, its examples.

use std::collections::BTreeSet;
use std::fs;

use super::tree::{root, sources, texts, top_level};

/// What stands at the top, files whose names begin with a dot apart.
const TOP: [&str; 8] =
    ["Cargo.lock", "Cargo.toml", "DEVELOPERS.md", "README.md", "console", "core", "examples", "host-tests"];

/// The programs that the tests are linked into, each of some seconds and megabytes; a suite is a module of one of them.
const PROGRAMS: [&str; 8] = [
    "console/tests/left_out.rs",
    "console/tests/program/main.rs",
    "console/tests/shell/main.rs",
    "host-tests/tests/examination/main.rs",
    "host-tests/tests/house_rules/main.rs",
    "host-tests/tests/outside/main.rs",
    "host-tests/tests/record/main.rs",
    "host-tests/tests/shown/main.rs",
];

/// The most lines that a file may have.
const LINES: usize = 400;

#[test]
fn the_top_level_is_what_it_should_be() {
    let found: BTreeSet<String> = top_level().into_iter().filter(|name| !name.starts_with('.')).collect();
    assert_eq!(found, TOP.into_iter().map(String::from).collect());
}

#[test]
fn each_published_package_has_both_licences() {
    for (licence, says) in [("LICENSE-APACHE", "Apache License"), ("LICENSE-MIT", "MIT License")] {
        let of = |package| fs::read_to_string(root().join(package).join(licence)).unwrap();
        assert!(of("core").contains(says), "{licence}");
        assert_eq!(of("core"), of("console"));
    }
}

#[test]
fn tests_are_linked_into_a_handful_of_programs() {
    let is_program = |path: &str| match path.split('/').collect::<Vec<_>>()[..] {
        [_, "tests", file] => file.ends_with(".rs"),
        [_, "tests", _, file] => file == "main.rs",
        _ => false,
    };
    let mut found: Vec<String> =
        sources(&["core/", "console/", "host-tests/"]).into_iter().map(|source| source.path).collect();
    found.retain(|path| is_program(path));
    assert_eq!(found, PROGRAMS);
}

#[test]
fn no_file_is_too_long_to_read() {
    let sources = sources(&["core/", "console/", "host-tests/", "examples/"]);
    let long: Vec<String> = sources
        .iter()
        .map(|source| (source.text.lines().count(), &source.path))
        .filter(|(lines, _)| *lines > LINES)
        .map(|(lines, path)| format!("{path}: {lines} lines"))
        .collect();
    assert!(long.is_empty(), "{}", long.join("\n"));
    assert!(sources.len() > 150);
}

#[test]
fn every_example_is_loaded_by_some_test() {
    let tests = sources(&["console/tests/", "host-tests/tests/", "host-tests/src/"]);
    let examples = texts()
        .into_iter()
        .map(|(path, _)| path)
        .filter(|path| path.starts_with("examples/jobs/") || path.starts_with("examples/criteria/"));
    let examples: Vec<String> = examples.collect();
    assert!(examples.len() >= 5);
    for example in &examples {
        let (folder, name) = example.rsplit_once('/').unwrap();
        let loads = |text: &str| text.contains(name) || (text.contains(folder) && text.contains("read_dir"));
        assert!(tests.iter().any(|source| loads(&source.text)), "no test loads {example}");
    }
}
