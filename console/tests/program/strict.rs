//! `halfskip run --strict`: status 0 only where something was held against a sheet and let pass. Everything is invented.

use std::fs;
use std::process::Command;

use crate::tally::directory;

const SHEET: &str = "title = 'invented'\nsource = 'none'\nmeasure = 'level'\nlength-by = 'drop-6'\n\
                     [[row]]\nabove = 0\nverdict = 'reject'\n[[row]]\nverdict = 'accept'\n";
const SETTINGS: &str = "joint butt thickness=20 prep=square gap=2\nprobe p angle=60 frequency=4 element=9\n\
                        dac p path=15 height=80 gain=40\ndac p path=50 height=80 gain=40\nangle p stated=60\n\
                        transfer p gain=0\nlinearity screen large=80,60 small=40,30\n";
/// A good check, before the reading and after it.
const CHECK: &str = "check p path=50 shown=50 height=80 gain=40\n";
const UNDER: &str = "criteria sheet.toml\n";
const WEAK: &str = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=60\n";
const STRONG: &str = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=30\n";

#[test]
fn status_0_says_that_something_was_read_held_against_a_sheet_and_let_pass() {
    let folder = directory("strict");
    fs::write(folder.join("sheet.toml"), SHEET).unwrap();
    let run = |job: &str, options: &[&str]| {
        fs::write(folder.join("a.job"), job).unwrap();
        let mut program = Command::new(env!("CARGO_BIN_EXE_halfskip"));
        let done = program.current_dir(&folder).arg("run").args(options).arg("a.job").output().unwrap();
        assert!(done.stderr.is_empty(), "{}", String::from_utf8_lossy(&done.stderr));
        done.status.code().unwrap()
    };
    let off = SETTINGS.replace("40,30", "50,40");
    let head = format!("{SETTINGS}{CHECK}");
    for (job, strictly) in [
        (format!("{head}{UNDER}{WEAK}{CHECK}"), 0),
        (format!("{head}{UNDER}{WEAK}"), 1),
        (format!("{head}{UNDER}{STRONG}{CHECK}"), 1),
        (format!("{off}{CHECK}{UNDER}{WEAK}{CHECK}"), 1),
        (format!("{head}{WEAK}{CHECK}"), 1),
        (format!("{head}{UNDER}"), 1),
        (format!("{head}{UNDER}{WEAK}{CHECK}void 10 reason=\"not meant\"\n"), 1),
        (SETTINGS.to_string(), 1),
        (String::new(), 1),
    ] {
        assert_eq!(run(&job, &["--strict"]), strictly, "{job}");
        assert_eq!(run(&job, &[]), 0, "{job}");
    }
}
