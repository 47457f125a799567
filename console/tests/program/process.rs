//! The program as a process of its own: exit status, locks between processes, signals, limits of the system.
//!
//! The child is this test binary again, which then runs the program over a stand-in examination.

use std::env;
use std::fs;
use std::io::{BufRead, BufReader, ErrorKind, Read, Write};
use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::thread::sleep;
use std::time::Duration;

use crate::tally::{Tally, directory};
use halfskip_console::desk::exit::Exit;
use halfskip_console::desk::feed::read_job;
use halfskip_console::desk::program::program;

const ARGUMENTS: &str = "ARGUMENTS_OF_THE_PROGRAM";

#[test]
fn child() {
    let Ok(arguments) = env::var(ARGUMENTS) else {
        return;
    };
    let exit = program(
        arguments.lines(),
        |_| Tally::default(),
        |run| {
            let mut tally = Tally::default();
            read_job(&run.job, &mut tally, &mut std::io::stderr())?;
            Ok(if run.strict { Exit::Findings } else { Exit::Done })
        },
    );
    std::process::exit(exit.status().into());
}

/// A shell that becomes the program, after `first`.
fn started(first: &str, arguments: &str) -> Child {
    Command::new("sh")
        .args(["-c", &format!("{first} exec \"$0\" --exact process::child --nocapture")])
        .arg(env::current_exe().unwrap())
        .env(ARGUMENTS, arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

fn finished(mut child: Child, input: &[u8]) -> (i32, String, String) {
    // The program may end before it has read everything.
    let _ = child.stdin.take().unwrap().write_all(input);
    let Output { status, stdout, stderr } = child.wait_with_output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (status.code().unwrap(), text(stdout), text(stderr))
}

fn job_of(path: &Path) -> String {
    format!("--job\n{}", path.display())
}

#[test]
fn the_exit_status_tells_done_found_and_bad() {
    let ended = |arguments: &str, input: &[u8]| finished(started("", arguments), input);
    assert_eq!(ended("run\n-", b"add 1\n").0, 0);
    assert_eq!(ended("run\n-\n--strict", b"add 1\n").0, 1);
    let (status, _, said) = ended("run\n-", b"add 1\nadd x\nadd 2\nhello\n");
    assert_eq!((status, said.as_str()), (2, "stdin:2:5: no number\nstdin:4:1: unknown verb\n"));
    let (status, _, said) = ended("walk", b"");
    assert_eq!((status, said.as_str()), (2, "halfskip: unknown command 'walk'; see halfskip --help\n"));
    assert!(ended("--version", b"").1.contains(concat!("halfskip ", env!("CARGO_PKG_VERSION"))));
    assert!(ended("--help", b"").1.contains("does not qualify anyone"));
}

#[test]
fn a_bad_line_from_a_pipe_stops_no_later_one() {
    let (status, answers, said) = finished(started("", ""), b"add 1\nsub 1\nadd 2\nsum\n");
    assert!(answers.ends_with("sum 3 of 2\n"), "{answers}");
    assert_eq!((status, said.as_str()), (2, "stdin:2:1: unknown verb\n"));
}

#[test]
fn two_programs_never_share_a_job() {
    let path = directory("shared").join("weld.job");
    let mut first = started("", &job_of(&path));
    let mut errors = BufReader::new(first.stderr.take().unwrap());
    let mut said = String::new();
    errors.read_line(&mut said).unwrap();
    assert!(said.ends_with(": new job\n"), "{said}");
    let (status, _, said) = finished(started("", &job_of(&path)), b"add 5\n");
    let name = path.display();
    assert_eq!((status, said), (2, format!("halfskip: {name}: is in use by another program\n")));
    assert_eq!(finished_quietly(first, b"add 1\n"), 0);
    assert_eq!(fs::read_to_string(&path).unwrap(), "add 1\n");
    assert_eq!(finished(started("", &job_of(&path)), b"add 5\n").0, 0);
    assert_eq!(fs::read_to_string(&path).unwrap(), "add 1\nadd 5\n");
}

/// A file that others may read, and only its owner may write; the program then runs as somebody else.
#[test]
fn a_job_that_may_only_be_read_is_named_and_stays_as_it_is() {
    let folder = env::temp_dir().join(format!("halfskip-read-only-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o755)).unwrap();
    let (program, job) = (folder.join("halfskip"), folder.join("weld.job"));
    fs::copy(env!("CARGO_BIN_EXE_halfskip"), &program).unwrap();
    let kept = "units mm\nmaterial steel\n";
    fs::write(&job, kept).unwrap();
    fs::set_permissions(&job, fs::Permissions::from_mode(0o444)).unwrap();
    let run = |arguments: &[&str]| {
        let mut command = Command::new(&program);
        command.args(arguments).arg(&job).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        if rustix::process::geteuid().is_root() {
            command.uid(65_534).gid(65_534);
        }
        // What others start meanwhile holds the copy open for a moment, as it was when it was written.
        let child = loop {
            match command.spawn() {
                Err(error) if error.kind() == ErrorKind::ExecutableFileBusy => {
                    sleep(Duration::from_millis(5))
                }
                started => break started.unwrap(),
            }
        };
        finished(child, b"units in\n")
    };
    let (status, answered, said) = run(&["--job"]);
    let name = job.display();
    assert_eq!((status, answered.as_str()), (2, ""));
    assert_eq!(said, format!("halfskip: {name}: cannot be opened: Permission denied\n"));
    assert_eq!(fs::read_to_string(&job).unwrap(), kept);
    // It still is evidence that can be read.
    assert_eq!(run(&["run", "--format=csv"]).0, 0);
    fs::remove_dir_all(&folder).unwrap();
}

fn finished_quietly(mut child: Child, input: &[u8]) -> i32 {
    child.stdin.take().unwrap().write_all(input).unwrap();
    child.wait().unwrap().code().unwrap()
}

#[test]
fn killed_at_any_moment_it_keeps_what_it_answered() {
    let path = directory("killed").join("weld.job");
    let mut child = started("", &job_of(&path));
    let mut input = child.stdin.take().unwrap();
    input.write_all(b"add 1\nadd 2\nsum\nadd").unwrap();
    let answers = BufReader::new(child.stdout.take().unwrap());
    assert!(answers.lines().any(|line| line.unwrap() == "sum 3 of 2"));
    child.kill().unwrap();
    child.wait().unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "add 1\nadd 2\n");
}

#[test]
fn a_reader_that_goes_away_ends_it_quietly() {
    let mut child = started("", "");
    let mut input = child.stdin.take().unwrap();
    input.write_all(b"sum\n").unwrap();
    let mut answers = BufReader::new(child.stdout.take().unwrap());
    let mut line = String::new();
    while !line.starts_with("sum") {
        line.clear();
        assert!(answers.read_line(&mut line).unwrap() > 0);
    }
    drop(answers);
    // It ends at the next answer, though more lines may come.
    input.write_all(b"sum\n").unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(0));
    let mut said = String::new();
    child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert_eq!(said, "");
}

#[test]
fn at_a_file_size_limit_whole_lines_stay() {
    let path = directory("limited").join("weld.job");
    let line = format!("add 1{}\n", " ".repeat(300));
    let child = started("trap '' XFSZ; ulimit -f 4;", &job_of(&path));
    let (status, answers, said) = finished(child, format!("{}sum\nadd x\n", line.repeat(20)).as_bytes());
    assert_eq!(status, 2);
    assert!(said.contains("not recorded: ") && said.contains("cannot be written: File too large"), "{said}");
    let held = fs::read_to_string(&path).unwrap();
    let kept = held.len() / line.len();
    assert!((1..20).contains(&kept));
    assert_eq!(held, line.repeat(kept));
    assert!(answers.ends_with(&format!("sum {kept} of {kept}\n")), "{answers}");
}
