//! The copy of the project with its mutants, and the test programs built from it.

use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::branches::Branches;
use crate::list::Mutant;
use crate::rewrite::rewrite;

/// The error of a match that lacks an arm: arms with guards do not count.
const NOT_EXHAUSTIVE: &str = "E0004";
const LIBRARY: &str = "core/src/lib.rs";
const SWITCH: &str = include_str!("mutant.rs");

/// What became of the mutants when they were built.
pub struct Built {
    /// Those that can be switched on.
    pub live: BTreeSet<u32>,
    /// Those that do not compile.
    pub unviable: BTreeSet<u32>,
    /// Those in places that are worked out at compile time or bind in a chain of `if let`.
    pub unplaced: BTreeSet<u32>,
    /// Where each branch is that has a probe.
    pub branches: BTreeMap<u32, String>,
    /// The test programs, and the folder they run in.
    pub programs: Vec<(PathBuf, PathBuf)>,
}

/// Copies what is committed of the project at `root` to `tree`, but for the files that take mutants.
pub fn copy(root: &Path, tree: &Path, mutants: &[Mutant]) -> Result<(), Box<dyn Error>> {
    let taken: HashSet<&str> = mutants.iter().map(|mutant| mutant.file.as_str()).chain([LIBRARY]).collect();
    let listed = Command::new("git").arg("-C").arg(root).args(["ls-files", "-z"]).output()?;
    let names = String::from_utf8(listed.stdout)?;
    for name in names.split_terminator('\0').filter(|name| !taken.contains(name)) {
        let (from, to) = (root.join(name), tree.join(name));
        put(&to, &fs::read(&from)?)?;
        fs::set_permissions(&to, fs::metadata(&from)?.permissions())?;
    }
    Ok(())
}

/// Writes a file unless it holds just that: a second run builds nothing again.
fn put(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    if fs::read(path).is_ok_and(|held| held == bytes) {
        return Ok(());
    }
    path.parent().map_or(Ok(()), fs::create_dir_all)?;
    fs::write(path, bytes)
}

/// Writes the mutants into the copy, leaves out what does not compile, and builds the tests.
pub fn build(root: &Path, tree: &Path, mutants: &[Mutant]) -> Result<Built, Box<dyn Error>> {
    let all: BTreeSet<u32> = mutants.iter().map(|mutant| mutant.id).collect();
    let known = tree.with_file_name("unviable");
    let mut unviable: BTreeSet<u32> = fs::read_to_string(&known)
        .unwrap_or_default()
        .lines()
        .filter_map(|name| mutants.iter().find(|mutant| mutant.name == name))
        .map(|mutant| mutant.id)
        .collect();
    let (live, branches) = loop {
        let (live, branches) = write(root, tree, mutants, &unviable)?;
        let faulty = faulty(tree)?;
        if faulty.is_empty() {
            break (live, branches);
        }
        if faulty.is_subset(&unviable) {
            return Err("the copy does not compile for a reason other than a mutant".into());
        }
        eprintln!("{} mutants do not compile", faulty.len());
        unviable.extend(faulty);
    };
    let names: Vec<&str> =
        mutants.iter().filter(|one| unviable.contains(&one.id)).map(|one| one.name.as_str()).collect();
    fs::write(known, names.join("\n"))?;
    let unplaced = all.iter().filter(|id| !live.contains(id) && !unviable.contains(id)).copied().collect();
    let programs = programs(tree)?;
    Ok(Built { live, branches, unviable, unplaced, programs })
}

/// Mutants that can be switched on, and where each branch is that has a probe.
type Written = (BTreeSet<u32>, BTreeMap<u32, String>);

fn write(
    root: &Path,
    tree: &Path,
    mutants: &[Mutant],
    left_out: &BTreeSet<u32>,
) -> Result<Written, Box<dyn Error>> {
    let mut places = BTreeMap::new();
    let mut by_file: BTreeMap<&str, Vec<&Mutant>> = BTreeMap::new();
    for mutant in mutants {
        let of_file = by_file.entry(&mutant.file).or_default();
        if !left_out.contains(&mutant.id) {
            of_file.push(mutant);
        }
    }
    let mut live = BTreeSet::new();
    for (file, mutants) in by_file {
        let (text, written) = rewrite(
            &fs::read_to_string(root.join(file))?,
            &mutants,
            Branches { file, left_out, places: &mut places },
        )?;
        put(&tree.join(file), text.as_bytes())?;
        live.extend(written);
    }
    put(&tree.join("core/src/mutant.rs"), SWITCH.as_bytes())?;
    let library = fs::read_to_string(root.join(LIBRARY))?;
    let features = "#![feature(core_intrinsics, const_eval_select)]\n#![allow(internal_features)]\n";
    put(&tree.join(LIBRARY), format!("{features}{library}\npub mod mutant;\n").as_bytes())?;
    places.retain(|id, _| !left_out.contains(id));
    Ok((live, places))
}

fn cargo(tree: &Path) -> Command {
    let mut command = Command::new("cargo");
    command
        .current_dir(tree)
        .env("RUSTC_BOOTSTRAP", "1")
        .env("RUSTFLAGS", "--cap-lints=allow")
        .env("CARGO_PROFILE_DEV_OPT_LEVEL", "2")
        .env("CARGO_PROFILE_DEV_DEBUG", "false")
        .env("CARGO_INCREMENTAL", "0")
        .stderr(Stdio::null());
    command
}

fn messages(mut command: Command) -> Result<Vec<Value>, Box<dyn Error>> {
    let output = command.output()?;
    output
        .stdout
        .split(|byte| *byte == b'\n')
        .filter(|line| !line.is_empty())
        .map(|line| Ok(serde_json::from_slice(line)?))
        .collect()
}

/// The mutants that errors of the compiler point at.
fn faulty(tree: &Path) -> Result<BTreeSet<u32>, Box<dyn Error>> {
    let mut check = cargo(tree);
    check.args(["check", "-p", "halfskip", "--lib", "--message-format=json"]);
    let mut found = BTreeSet::new();
    for message in messages(check)?.iter().map(|one| &one["message"]).filter(|one| one["level"] == "error") {
        let mut blamed = Vec::new();
        for span in
            message["spans"].as_array().into_iter().flatten().filter(|span| span["is_primary"] == true)
        {
            let file = fs::read_to_string(tree.join(span["file_name"].as_str().unwrap_or_default()))?;
            let line = span["line_start"].as_u64().unwrap_or(0) as usize;
            if message["code"]["code"] == NOT_EXHAUSTIVE {
                blamed.extend(switched_arms(file.lines().skip(line - 1)));
            } else {
                let above: Vec<&str> = file.lines().take(line).collect();
                blamed.extend(above.iter().rev().find_map(|line| switch_in(line)));
            }
        }
        found.extend(&blamed);
        if blamed.is_empty() && !message["spans"].as_array().is_some_and(Vec::is_empty) {
            return Err(format!("{}", message["rendered"]).into());
        }
    }
    Ok(found)
}

/// The switches in the guards of a match, which begins on the first of these lines and ends at its own indentation.
fn switched_arms<'a>(mut lines: impl Iterator<Item = &'a str>) -> Vec<u32> {
    let indent = |line: &str| line.len() - line.trim_start().len();
    let outer = lines.next().map_or(0, indent);
    let inside = lines.take_while(|line| indent(line) > outer);
    inside.filter(|line| line.contains("!crate::mutant::on(")).filter_map(switch_in).collect()
}

fn switch_in(line: &str) -> Option<u32> {
    let (_, after) = line.rsplit_once("crate::mutant::")?;
    let (_, after) = after.split_once('(')?;
    let digits: String = after.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().ok()
}

fn programs(tree: &Path) -> Result<Vec<(PathBuf, PathBuf)>, Box<dyn Error>> {
    let mut build = cargo(tree);
    build.stderr(Stdio::inherit());
    let arguments = "test --no-run --message-format=json -p halfskip -p halfskip-host-tests";
    build.args(arguments.split(' ')).arg("--features=halfskip-host-tests/long");
    let mut seen = HashSet::new();
    let mut programs = Vec::new();
    for message in messages(build)? {
        if let Some(program) = message["executable"].as_str().filter(|_| message["profile"]["test"] == true)
            && seen.insert(program.to_owned())
        {
            let manifest = Path::new(message["manifest_path"].as_str().unwrap_or_default());
            programs.push((program.into(), manifest.parent().ok_or("a manifest has a folder")?.into()));
        }
    }
    if programs.is_empty() {
        return Err("no test program was built".into());
    }
    Ok(programs)
}
