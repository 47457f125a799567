//! Signals that end the program while the terminal is in raw mode: the terminal is as it was before.

use std::fs::{self, File};
use std::os::unix::ffi::OsStringExt;
use std::os::unix::process::ExitStatusExt;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use rustix::termios::{LocalModes, tcgetattr};

use crate::device::{Device, Line};
use crate::tally::directory;

/// A terminal: both its ends.
fn terminal() -> (std::os::fd::OwnedFd, File) {
    let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).unwrap();
    grantpt(&master).unwrap();
    unlockpt(&master).unwrap();
    let name = ptsname(&master, Vec::new()).unwrap().into_bytes();
    let name = PathBuf::from(std::ffi::OsString::from_vec(name));
    (master, File::options().read(true).write(true).open(name).unwrap())
}

fn edits(terminal: &File) -> bool {
    tcgetattr(terminal).unwrap().local_modes.contains(LocalModes::ICANON)
}

/// Ends the program by a signal when its terminal is raw, and looks at the terminal then.
fn restored(arguments: &[&str], signal: Signal) {
    let (_master, terminal) = terminal();
    let end = || Stdio::from(terminal.try_clone().unwrap());
    // Some of these signals would leave an image of the memory behind.
    let mut program = Command::new("sh");
    program.args(["-c", "ulimit -c 0; exec \"$0\" \"$@\"", env!("CARGO_BIN_EXE_halfskip")]).args(arguments);
    program.stdin(end()).stdout(end()).stderr(Stdio::null());
    let mut program = program.spawn().unwrap();
    let patience = Instant::now() + Duration::from_secs(20);
    while edits(&terminal) {
        assert!(Instant::now() < patience, "the terminal never became raw");
        thread::sleep(Duration::from_millis(5));
    }
    let id = Pid::from_child(&program);
    kill_process(id, signal).unwrap();
    assert_eq!(program.wait().unwrap().signal(), Some(signal.as_raw()));
    assert!(edits(&terminal), "{arguments:?}: still raw after {signal:?}");
}

const SIGNALS: [Signal; 4] = [Signal::TERM, Signal::HUP, Signal::QUIT, Signal::INT];

#[test]
fn a_session_that_a_signal_ends_leaves_the_terminal_as_it_was_and_every_fact_kept() {
    let job = directory("interrupted").join("a.job");
    fs::write(&job, "units mm\n").unwrap();
    for signal in SIGNALS {
        restored(&["--job", job.to_str().unwrap()], signal);
    }
    assert_eq!(fs::read_to_string(job).unwrap(), "units mm\n");
}

#[test]
fn a_conversation_with_a_device_that_a_signal_ends_leaves_the_terminal_as_it_was() {
    for signal in SIGNALS {
        let device = Device::plugged("", Line::default());
        restored(&["serial", device.path.to_str().unwrap()], signal);
        drop(device.unplug());
    }
}
