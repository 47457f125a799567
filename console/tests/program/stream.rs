//! `halfskip run --stream`: what a job may hold besides readings, none of which is kept.

use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::Value;

const SET_UP: &str = "\
joint butt thickness=20 prep=square gap=2
probe p60 angle=60 frequency=4 element=8x9
dac p60 path=20 height=80 gain=40
dac p60 path=60 height=80 gain=46
";

/// Exit status, what each line of the answer is about, standard error.
fn streamed(rest: &str) -> (i32, Vec<u64>, String) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_halfskip"))
        .args(["run", "--stream", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    program.stdin.take().unwrap().write_all(format!("{SET_UP}{rest}").as_bytes()).unwrap();
    let done = program.wait_with_output().unwrap();
    let number = |line: &str| serde_json::from_str::<Value>(line).unwrap()["n"].as_u64().unwrap();
    let answered = String::from_utf8(done.stdout).unwrap().lines().map(number).collect();
    (done.status.code().unwrap(), answered, String::from_utf8(done.stderr).unwrap())
}

fn reading(indication: &str) -> String {
    format!("reading {indication} probe=p60 side=a x=100 standoff=20 path=24 height=50 gain=40\n")
}

#[test]
fn what_was_observed_needs_no_answer_and_counts_as_an_entry() {
    let (one, two) = (reading("1"), reading("2"));
    let job = format!("{one}{two}observe 1 swivel=ragged\n{one}");
    assert_eq!(streamed(&job), (0, vec![5, 6, 8], String::new()));
}

#[test]
fn a_reading_that_was_answered_cannot_be_voided_and_that_is_said() {
    let (one, two) = (reading("1"), reading("2"));
    let void = |number: u32| format!("void {number} reason=\"wrong gain\"\n");
    // One gone, the last one that is held still, and one that was observed.
    for number in 5..=7 {
        let job = format!("{one}{two}observe 1 tip=seen\n{}{one}", void(number));
        let (status, answered, told) = streamed(&job);
        assert_eq!((status, answered), (2, vec![5, 6, 9]));
        assert_eq!(
            told,
            format!(
                "stdin:8:1: entry {number} cannot be taken out of a stream, which keeps no readings and nothing observed \
                 of them; expected run without --stream\n"
            )
        );
    }
    // What is kept can be, and what never was is told as ever.
    assert_eq!(streamed(&format!("note \"a\"\n{}{one}", void(5))).0, 0);
    let (status, answered, told) = streamed(&format!("{one}{}{one}", void(9)));
    assert_eq!((status, answered), (2, vec![5, 6]));
    assert!(told.ends_with("not recorded: there is no entry 9; the last one is 5\n"), "{told}");
}
