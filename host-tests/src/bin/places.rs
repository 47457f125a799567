//! How often the truth lies within the uncertainty of place and height.
//!
//! `places` holds the tables of the chapter against 1 500 draws of each set-up, or writes them with `HALFSKIP_BLESS=1` in
//! the environment; `places DRAWS` prints those of so many draws.

use std::process::ExitCode;
use std::{env, fs};

use halfskip_host_tests::placed::tables;

const CHAPTER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
const OPEN: &str = "<!-- shares -->\n";
const CLOSE: &str = "<!-- /shares -->";

fn main() -> ExitCode {
    if let Some(draws) = env::args().nth(1).and_then(|word| word.parse().ok()) {
        println!("{}", tables(draws).0);
        return ExitCode::SUCCESS;
    }
    let (now, low) = tables(1_500);
    let chapter = fs::read_to_string(CHAPTER).unwrap_or_default();
    let Some((before, (shown, after))) =
        chapter.split_once(OPEN).and_then(|(before, rest)| Some((before, rest.split_once(CLOSE)?)))
    else {
        eprintln!("{CHAPTER} has no block of shares");
        return ExitCode::FAILURE;
    };
    low.iter().for_each(|share| eprintln!("{share}"));
    if env::var_os("HALFSKIP_BLESS").is_some() {
        let written = fs::write(CHAPTER, format!("{before}{OPEN}{now}{CLOSE}{after}"));
        return if written.is_ok() { ExitCode::SUCCESS } else { ExitCode::FAILURE };
    }
    if shown != now {
        eprintln!("with HALFSKIP_BLESS=1 the chapter is given its tables:\n{now}");
    }
    if low.is_empty() && shown == now { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
