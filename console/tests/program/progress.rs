//! Long work says how far it has come where a person sees it, and nowhere else.

use std::fs::File;
use std::io::{Read, Write};
use std::os::fd::OwnedFd;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use rustix::fs::{Mode, OFlags, open};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};

/// A terminal: the end that a person sees, and the end that a program writes to.
fn terminal() -> (File, OwnedFd) {
    let seen = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).unwrap();
    grantpt(&seen).unwrap();
    unlockpt(&seen).unwrap();
    let name = ptsname(&seen, Vec::new()).unwrap();
    let written = open(name.as_c_str(), OFlags::RDWR | OFlags::NOCTTY, Mode::empty()).unwrap();
    (File::from(seen), written)
}

/// Feeds many lines, then a while later many more: more than anybody waits for without a word.
fn fed(arguments: &[&str], out: impl Into<Stdio>, errors: impl Into<Stdio>) -> std::process::Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_halfskip"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(out)
        .stderr(errors)
        .spawn()
        .unwrap();
    let mut typed = child.stdin.take().unwrap();
    for _ in 0..3 {
        typed.write_all("# invented\n".repeat(1000).as_bytes()).unwrap();
        sleep(Duration::from_millis(600));
    }
    drop(typed);
    child.wait_with_output().unwrap()
}

/// What the terminal shows once nobody writes to it any more.
fn shown(mut seen: File) -> String {
    let mut text = Vec::new();
    // The last writer's end ends the reading with an error on some systems.
    let mut bytes = [0; 4096];
    while let Ok(count @ 1..) = seen.read(&mut bytes) {
        text.extend_from_slice(&bytes[..count]);
    }
    String::from_utf8(text).unwrap()
}

#[test]
fn a_terminal_is_told_how_far_it_has_come_and_then_left_clean() {
    for arguments in [&["run", "--stream", "-"][..], &["run", "--format", "json", "-"]] {
        let (seen, written) = terminal();
        let done = fed(arguments, Stdio::piped(), Stdio::from(written));
        assert!(done.status.success());
        let shown = shown(seen);
        assert!(shown.contains(" lines") && shown.starts_with('\r'), "{shown:?}");
        assert!(shown.ends_with('\r') && !shown.contains('\n'), "{shown:?}");
    }
}

#[test]
fn a_pipe_is_told_nothing() {
    let done = fed(&["run", "--stream", "-"], Stdio::piped(), Stdio::piped());
    assert_eq!((done.status.success(), String::from_utf8(done.stderr).unwrap().as_str()), (true, ""));
}

#[test]
fn answers_on_the_same_terminal_are_not_written_over() {
    let (seen, written) = terminal();
    let again = written.try_clone().unwrap();
    let done = fed(&["run", "--stream", "-"], Stdio::from(written), Stdio::from(again));
    assert!(done.status.success());
    assert_eq!(shown(seen), "");
}
