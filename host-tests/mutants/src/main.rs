//! Mutation testing of the core. cargo-mutants says what the mutants are; here all of them are built at once, each behind
//! a switch, so that trying one costs a run of the tests that reach it and no build:
//!
//! ```sh
//! cargo mutants --list --json -p halfskip >mutants.json
//! cargo run --release --manifest-path host-tests/mutants/Cargo.toml -- mutants.json FOLDER [SECONDS]
//! ```
//!
//! Mutants are tried in a shuffled order, so that what was done when the seconds are over is a sample of all. FOLDER
//! takes the copy of the project, `results.tsv`, in `branches.tsv` the branches that no test takes, and in
//! `unlisted.tsv` the mutants not caught of which `survivors.tsv` says nothing; a second run goes on where the first one
//! ended.

mod branches;
mod build;
mod list;
mod rewrite;
mod survivors;
mod trial;

use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

fn main() -> Result<(), Box<dyn Error>> {
    let mut args = std::env::args().skip(1);
    let usage = "expected: LIST FOLDER [SECONDS]";
    let list = PathBuf::from(args.next().ok_or(usage)?);
    let folder = PathBuf::from(args.next().ok_or(usage)?);
    let seconds: u64 = args.next().map_or(Ok(u64::MAX), |text| text.parse())?;
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize()?;

    let mutants = list::read(&list)?;
    std::fs::create_dir_all(&folder)?;
    let folder = folder.canonicalize()?;
    let tree = folder.join("tree");
    build::copy(&root, &tree, &mutants)?;
    let built = build::build(&root, &tree, &mutants)?;
    eprintln!(
        "{} mutants: {} live, {} do not compile, {} cannot be switched",
        mutants.len(),
        built.live.len(),
        built.unviable.len(),
        built.unplaced.len()
    );
    let began = Instant::now();
    let tests = trial::tests(&built.programs, &folder)?;
    eprintln!("{} tests, {} s", tests.len(), began.elapsed().as_secs());
    trial::branches(&built.branches, &tests, &folder)?;
    trial::try_all(&mutants, &built.live, &tests, &folder, Duration::from_secs(seconds))?;
    survivors::report(&root, &mutants, &built.live, &folder)
}
