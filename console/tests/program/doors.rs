//! The program where its surroundings are not kind: pipes that close, files that are none, names that command a terminal.

use std::fs;
use std::io::Read;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use crate::tally::directory;

/// An invented job whose only reading nothing was calibrated for: undetermined.
const JOB: &str = "\
title \"Invented\"
joint butt thickness=20 prep=square gap=2
probe p60 angle=60 frequency=4 element=8x9
reading 1 probe=p60 side=a x=128 standoff=34.8 path=40.31 height=76 gain=34
";

fn folder(name: &str) -> PathBuf {
    let folder = directory(&format!("doors-{name}"));
    fs::write(folder.join("a.job"), JOB).unwrap();
    folder
}

fn started(folder: &Path, arguments: &[&str]) -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_halfskip"));
    program.args(arguments).current_dir(folder).stdin(Stdio::null());
    program
}

fn halfskip(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let Output { status, stdout, stderr } = started(folder, arguments).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (status.code().unwrap(), text(stdout), text(stderr))
}

/// The exit status where nobody reads the answer.
fn unread(folder: &Path, arguments: &[&str]) -> (i32, String) {
    let mut program =
        started(folder, arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(program.stdout.take());
    let mut said = String::new();
    program.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    (program.wait().unwrap().code().unwrap(), said)
}

fn pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
}

#[test]
fn a_closed_pipe_hides_no_verdict() {
    let folder = folder("closed");
    for format in ["text", "json", "csv"] {
        assert_eq!(unread(&folder, &["run", "--strict", "--format", format, "a.job"]), (1, String::new()));
    }
    assert_eq!(unread(&folder, &["run", "a.job"]), (0, String::new()));
    assert_eq!(unread(&folder, &["check", "a.job"]), (1, String::new()));
    fs::write(folder.join("bad.job"), "units furlong\n").unwrap();
    assert_eq!(unread(&folder, &["export", "bad.job", "a.job"]).0, 2);
    let bad = format!("units furlong\n{JOB}");
    fs::write(folder.join("bad.job"), bad).unwrap();
    assert_eq!(unread(&folder, &["run", "--stream", "bad.job"]).0, 2);
}

#[test]
fn a_report_replaces_a_report_of_this_program_and_nothing_else() {
    let folder = folder("replaced");
    let report = |path: &str| {
        let option = if path.ends_with("pdf") { "--pdf" } else { "--html" };
        halfskip(&folder, &["report", "a.job", option, path])
    };
    for name in ["a.html", "a.pdf"] {
        let path = folder.join(name);
        assert_eq!(report(name).0, 0);
        let first = fs::read(&path).unwrap();
        assert_eq!(report(name).0, 0);
        assert_eq!(fs::read(&path).unwrap(), first);
        // Something was added, such as a signature.
        let added = [&first[..], b"\n%%EOF\n"].concat();
        if name.ends_with("pdf") {
            fs::write(&path, &added).unwrap();
            assert_eq!(report(name).0, 2);
            assert_eq!(fs::read(&path).unwrap(), added);
        }
    }
    for (name, foreign) in [
        ("b.html", "<!DOCTYPE html>\n<html><body>mine</body></html>\n"),
        ("b.pdf", "%PDF-1.7\nmine\n%%EOF\n"),
        ("c.html", "# halfskip report a.job\n"),
        ("c.pdf", "title \"/Producer (halfskip report)\"\n"),
    ] {
        fs::write(folder.join(name), foreign).unwrap();
        let (status, _, said) = report(name);
        let why = "holds something else than a report of this program; name another file";
        assert_eq!((status, said), (2, format!("halfskip: {name}: {why}\n")));
        assert_eq!(fs::read_to_string(folder.join(name)).unwrap(), foreign);
    }
    // A link stays one, and nothing else is left in the folder.
    fs::rename(folder.join("a.html"), folder.join("kept.html")).unwrap();
    symlink("kept.html", folder.join("a.html")).unwrap();
    assert_eq!(report("a.html").0, 0);
    assert!(fs::symlink_metadata(folder.join("a.html")).unwrap().is_symlink());
    let names = fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    assert_eq!(names.filter(|name| name.starts_with('.')).count(), 0);
}

#[test]
fn on_a_full_disk_the_old_report_stays_whole() {
    let folder = folder("full");
    assert_eq!(halfskip(&folder, &["report", "a.job", "--html", "a.html", "--pdf", "a.pdf"]).0, 0);
    let held = |name: &str| fs::read(folder.join(name)).unwrap();
    let before = (held("a.html"), held("a.pdf"));
    fs::write(folder.join("a.job"), JOB.replace("Invented", "Another")).unwrap();
    for option in ["--html", "--pdf"] {
        // The file may grow to less than the report needs; sh counts in blocks of 512 bytes.
        let done = Command::new("sh")
            .args(["-c", "trap '' XFSZ; ulimit -f 4; exec \"$0\" report a.job \"$1\" a.\"${1#--}\""])
            .args([env!("CARGO_BIN_EXE_halfskip"), option])
            .current_dir(&folder)
            .output()
            .unwrap();
        assert_eq!(done.status.code(), Some(2));
        assert!(String::from_utf8(done.stderr).unwrap().contains("cannot be written: File too large"));
    }
    assert_eq!((held("a.html"), held("a.pdf")), before);
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 3);
}

#[test]
fn questions_in_a_job_cost_nothing_and_a_bad_one_is_told() {
    let folder = folder("questions");
    let asked = format!("{JOB}{}", "findings\nwhy 1\nrate 7\n".repeat(5000));
    fs::write(folder.join("asked.job"), &asked).unwrap();
    let begun = Instant::now();
    let (status, answer, said) = halfskip(&folder, &["run", "asked.job"]);
    assert_eq!((status, said.as_str()), (0, ""));
    assert_eq!(answer, halfskip(&folder, &["run", "a.job"]).1);
    // Answered they take minutes; a debug build of the program takes a second for what is left.
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
    fs::write(folder.join("asked.job"), format!("{JOB}findings nonsense=1\n")).unwrap();
    let (status, _, said) = halfskip(&folder, &["run", "asked.job"]);
    assert!(status == 2 && said.starts_with("asked.job:5:"), "{said}");
}

#[test]
fn a_pipe_that_nobody_writes_to_is_given_up() {
    let folder = folder("pipes");
    for name in ["pipe", "unread"] {
        pipe(&folder.join(name));
    }
    let mut running = Vec::new();
    for arguments in [
        &["run", "pipe"][..],
        &["report", "pipe", "--html", "a.html"],
        &["report", "a.job", "--html", "unread"],
        &["check", "pipe"],
        &["import", "pipe"],
        &["ingest", "pipe"],
    ] {
        running
            .push(started(&folder, arguments).stderr(Stdio::piped()).stdout(Stdio::null()).spawn().unwrap());
    }
    for program in running {
        let done = program.wait_with_output().unwrap();
        let said = String::from_utf8(done.stderr).unwrap();
        assert_eq!(done.status.code(), Some(2));
        assert!(said.ends_with(": nobody has opened the other end of this pipe\n"), "{said}");
    }
    // One that somebody writes to is read.
    let mut program = started(&folder, &["run", "pipe"]).stdout(Stdio::piped()).spawn().unwrap();
    fs::write(folder.join("pipe"), JOB).unwrap();
    let mut answer = String::new();
    program.stdout.take().unwrap().read_to_string(&mut answer).unwrap();
    assert_eq!((program.wait().unwrap().code(), answer), (Some(0), halfskip(&folder, &["run", "a.job"]).1));
    // The piece of a last line is not put into one.
    fs::write(folder.join("torn.job"), "units mm\nunits i").unwrap();
    pipe(&folder.join("torn.job.torn"));
    let (status, _, said) = halfskip(&folder, &["--job", "torn.job"]);
    assert!(status == 2 && said.contains("torn.job.torn is no file"), "{said}");
    assert_eq!(fs::read_to_string(folder.join("torn.job")).unwrap(), "units mm\nunits i");
}

#[test]
fn a_link_to_nothing_says_so() {
    let folder = folder("dangling");
    symlink("gone.job", folder.join("link.job")).unwrap();
    let (status, _, said) = halfskip(&folder, &["--job", "link.job"]);
    assert_eq!(
        (status, said.as_str()),
        (2, "halfskip: link.job: is a link to gone.job, which is not there\n")
    );
    assert_eq!(halfskip(&folder, &["report", "a.job", "--html", "link.job"]).0, 2);
    assert!(!folder.join("gone.job").exists());
}

#[test]
fn no_message_passes_a_command_of_a_file_name_on_to_the_terminal() {
    let folder = folder("names");
    let odd = "odd\u{1b}]0;x\u{7}\u{202e}.job";
    fs::write(folder.join(odd), "units furlong\n").unwrap();
    symlink("\u{1b}gone", folder.join("\u{1b}link")).unwrap();
    for arguments in [
        &["run", odd][..],
        &["run", "\u{1b}none"],
        &["--job", odd],
        &["--job", "\u{1b}link"],
        &["check", odd],
        &["report", "a.job", "--html", odd],
        &["report", "a.job", "--html", "\u{1b}/none"],
        &["import", odd],
        &["import", "a.job", "--job", odd],
        &["export", odd],
        &["compare", odd, "a.job"],
        &["serial", odd],
        &["serial", "\u{1b}none"],
        &["ingest", odd],
        &["send", odd, "/dev/null"],
        &["send", "a.job", odd],
        &["\u{1b}[2J"],
        &["help", "\u{1b}[2J"],
        &["run", "--\u{1b}[2J", "a.job"],
        &["run", "--format", "\u{1b}[2J", "a.job"],
    ] {
        let (_, answer, said) = halfskip(&folder, arguments);
        assert!(!said.is_empty() || !answer.is_empty(), "{arguments:?}");
        for shown in [&answer, &said] {
            assert!(!shown.contains(['\u{1b}', '\u{7}', '\u{202e}']), "{arguments:?}: {shown:?}");
        }
    }
}

#[test]
fn a_record_is_begun_only_when_the_port_is_open() {
    let folder = folder("port");
    let (status, _, said) = halfskip(&folder, &["serial", "none", "--record", "new.job"]);
    assert_eq!(status, 2);
    assert!(said.contains("none: the port cannot be opened"), "{said}");
    assert!(!folder.join("new.job").exists());
}

#[test]
fn a_page_stays_xml_whatever_a_job_says() {
    let folder = folder("xml");
    fs::write(folder.join("a.job"), JOB.replace("Invented", "In\u{fffe}ven\u{ffff}ted")).unwrap();
    assert_eq!(halfskip(&folder, &["report", "a.job", "--html", "a.html"]).0, 0);
    let page = fs::read_to_string(folder.join("a.html")).unwrap();
    assert!(page.contains("In\u{fffd}ven\u{fffd}ted") && !page.contains(['\u{fffe}', '\u{ffff}']));
}
