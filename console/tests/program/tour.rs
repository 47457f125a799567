//! `halfskip tour`: it walks the invented example, and answers what the reader types on the way.

use std::fs;
use std::process::{Command, Stdio};

use halfskip_console::commands;
use halfskip_console::desk::exit::Exit;
use halfskip_console::desk::tour::walk;

fn straight_on() -> String {
    let done =
        Command::new(env!("CARGO_BIN_EXE_halfskip")).arg("tour").stdin(Stdio::null()).output().unwrap();
    assert!(done.status.success());
    assert_eq!(String::from_utf8(done.stderr).unwrap(), "");
    String::from_utf8(done.stdout).unwrap()
}

/// What a reader sees who types these lines at the stops.
fn walked(typed: &'static str) -> String {
    // The desk has room for far more than the stack of a test.
    let walk = move || {
        let mut out = Vec::new();
        assert_eq!(walk(&mut typed.as_bytes(), &mut out, true), Ok(Exit::Done));
        String::from_utf8(out).unwrap()
    };
    std::thread::Builder::new().stack_size(64 << 20).spawn(walk).unwrap().join().unwrap()
}

#[test]
fn its_facts_are_those_of_the_example_and_one_line_is_refused() {
    let told = straight_on();
    let job = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/jobs/butt-weld-20mm.job");
    let job = fs::read_to_string(job).unwrap();
    let mut facts = 0;
    for typed in told.lines().filter_map(|line| line.strip_prefix("> ")) {
        let verb = typed.split(' ').next().unwrap();
        assert!(commands::find(verb).is_some(), "{typed}");
        let own = ["note", "void"].contains(&verb) || typed.contains(" standof=");
        let is_fact = typed.contains(['=', '"']) && !typed.starts_with("expect ");
        if is_fact && !own {
            assert!(job.lines().any(|line| line == typed), "{typed}");
            facts += 1;
        }
    }
    assert!(facts > 25, "{facts}");
    let refused: Vec<&str> = told.lines().filter(|line| line.starts_with("column ")).collect();
    assert_eq!(refused, ["column 34: 'standof' is no key of reading; did you mean standoff?"]);
    for part in [
        "Indication 1: reject, class R",
        "entry 34 is void",
        "sheet not checked against its source",
        "it does not qualify anyone",
    ] {
        assert!(told.contains(part), "{part}");
    }
    assert!(told.lines().all(|line| line.len() <= 78 || line.contains('=')), "{told}");
}

#[test]
fn its_sheet_is_that_of_the_examples() {
    let text = |file: &str| fs::read_to_string(format!("{}/{file}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    assert_eq!(text("src/desk/tour/demonstration.toml"), text("../examples/criteria/demonstration.toml"));
}

#[test]
fn at_a_stop_the_reader_is_answered_goes_on_or_ends() {
    let stop = "[Enter: on, q: end] > ";
    assert_eq!(walked("q\n").matches(stop).count(), 1);
    // The input ends.
    assert_eq!(walked("\n\n").matches(stop).count(), 3);
    let told = walked("\nstatus\nunits cm\nnote \"mine\"\n\nq\n");
    assert_eq!(told.matches(stop).count(), 6);
    assert!(
        told.contains("column 7: ")
            && told.contains("4: note recorded")
            && told.contains("5: probe recorded")
    );
    // To the end: what the reader recorded moves the numbers, and what is taken out is still the note of the tour.
    let all = walked("\nnote \"mine\"\n\n\n\n\n\n\n\n\n\n\n\n");
    assert!(all.contains("entry 35 is void") && all.ends_with("everything else\n"), "{all}");
}
