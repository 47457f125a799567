//! A sealed job: kept by `--sealed`, looked at by `check`, its last digest in the report.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::tally::directory;

/// Exit status, standard output, standard error.
fn halfskip(folder: &Path, arguments: &[&str], typed: &str) -> (i32, String, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_halfskip"))
        .current_dir(folder)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(typed.as_bytes()).unwrap();
    let done = child.wait_with_output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (done.status.code().unwrap(), text(done.stdout), text(done.stderr))
}

fn folder(name: &str) -> PathBuf {
    directory(&format!("sealed-{name}"))
}

const FACTS: &str =
    "title \"Invented weld\"\nmaterial steel\nstatus\n# no fact\nnote \"one # two\" # three\n";

/// A sealed job of five entries, the last two added later without the option.
fn sealed(name: &str) -> PathBuf {
    let folder = folder(name);
    let (status, _, said) = halfskip(&folder, &["--job", "a.job", "--sealed"], FACTS);
    assert_eq!((status, said.as_str()), (0, "a.job: new job\n"));
    let (status, _, said) = halfskip(&folder, &["--job", "a.job"], "units mm\ndate 2026-01-02\n");
    assert_eq!((status, said.as_str()), (0, "a.job: 3 lines\n"));
    folder
}

fn digest(said: &str) -> &str {
    said.lines().find_map(|line| line.strip_prefix("running digest ")).unwrap()
}

#[test]
fn a_sealed_job_stays_sealed_and_is_read_like_any_other() {
    let folder = sealed("whole");
    let job = fs::read_to_string(folder.join("a.job")).unwrap();
    assert_eq!(job.lines().count(), 5);
    assert!(job.lines().all(|line| line.contains(" # seal=")), "{job}");
    let (status, said, _) = halfskip(&folder, &["check", "a.job"], "");
    assert_eq!(status, 0, "{said}");
    assert!(said.starts_with("a.job: 5 lines, all sealed, every seal fits\n"), "{said}");
    let (digest, bare) = (digest(&said), job.lines().map(|line| line.split_once(" # seal=").unwrap().0));
    assert!(job.trim_end().ends_with(digest));
    let bare: String = bare.map(|line| format!("{line}\n")).collect();
    assert_eq!(halfskip(&folder, &["run", "a.job"], ""), halfskip(&folder, &["run", "-"], &bare));
    let (status, said, _) = halfskip(&folder, &["check", "--digest", &digest.to_uppercase(), "a.job"], "");
    assert!(status == 0 && said.ends_with("that is the digest expected\n"), "{said}");
    // The report prints it.
    assert_eq!(halfskip(&folder, &["report", "a.job", "--html", "a.html"], "").0, 0);
    let page = fs::read_to_string(folder.join("a.html")).unwrap();
    assert!(page.contains(digest) && page.contains("5 lines, all sealed, every seal fits"));
}

#[test]
fn the_first_entry_that_does_not_fit_is_named() {
    let folder = sealed("touched");
    let whole = fs::read_to_string(folder.join("a.job")).unwrap();
    let lines: Vec<&str> = whole.lines().collect();
    let (changed, without, with);
    changed = whole.replace("steel", "steal");
    without = [&lines[..2], &lines[3..]].concat().join("\n") + "\n";
    with = [&lines[..1], &["# added", "units in"], &lines[1..]].concat().join("\n") + "\n";
    for (touched, expected) in [
        (changed, "does not fit its seal is line 2\nit is entry 2: material steal\n"),
        (without, "does not fit its seal is line 3\nit is entry 3: units mm\n"),
        (with, "does not fit its seal is line 2\nit is no entry: # added\n"),
    ] {
        fs::write(folder.join("b.job"), touched).unwrap();
        let (status, said, _) = halfskip(&folder, &["check", "b.job"], "");
        assert_eq!(status, 1, "{said}");
        assert!(said.contains(expected), "{said}");
    }
    // Whoever goes on with such a job is told.
    fs::write(folder.join("b.job"), whole.replace("one #", "two #")).unwrap();
    let (_, _, said) = halfskip(&folder, &["--job", "b.job"], "");
    assert!(said.contains("b.job:3: caution: does not fit its seal"), "{said}");
}

#[test]
fn what_is_cut_from_the_end_shows_by_the_digest_alone() {
    let folder = sealed("cut");
    let whole = fs::read_to_string(folder.join("a.job")).unwrap();
    let (_, said, _) = halfskip(&folder, &["check", "a.job"], "");
    let cut: String = whole.lines().take(4).map(|line| format!("{line}\n")).collect();
    let (status, _, _) = halfskip(&folder, &["check", "-"], &cut);
    assert_eq!(status, 0);
    let (status, said, _) = halfskip(&folder, &["check", "-", "--digest", digest(&said)], &cut);
    assert!(status == 1 && said.ends_with("that is NOT the digest expected\n"), "{said}");
}

#[test]
fn a_job_without_seals_has_nothing_that_fits() {
    let folder = folder("none");
    let (status, said, _) = halfskip(&folder, &["check", "-"], "units mm\n");
    assert_eq!(status, 1);
    assert!(said.starts_with("stdin: 1 line, none sealed\n"), "{said}");
    // Sealed from some line on.
    halfskip(&folder, &["--job", "a.job"], "units mm\nunits in\n");
    halfskip(&folder, &["--job", "a.job", "--sealed"], "date 2026-01-02\n");
    let (status, said, _) = halfskip(&folder, &["check", "a.job"], "");
    assert_eq!(status, 0);
    assert!(said.starts_with("a.job: 3 lines, sealed from line 3 on, every seal fits\n"), "{said}");
    for arguments in
        [&["check"][..], &["check", "none.job"], &["check", "--digest", "12ab", "a.job"], &["--sealed"]]
    {
        let (status, shown, said) = halfskip(&folder, arguments, "");
        assert_eq!((status, shown.as_str(), said.lines().count()), (2, "", 1), "{said}");
    }
}

#[test]
fn a_line_that_has_no_room_for_its_seal_is_not_recorded() {
    let folder = folder("long");
    let long = format!("units mm # {}\nunits in\n", "x".repeat(950));
    let (status, _, said) = halfskip(&folder, &["--job", "a.job", "--sealed"], &long);
    assert_eq!(status, 2);
    assert!(said.contains("not recorded: a.job: the line is too long to be sealed"), "{said}");
    assert_eq!(halfskip(&folder, &["check", "a.job"], "").0, 0);
    assert_eq!(fs::read_to_string(folder.join("a.job")).unwrap().lines().count(), 1);
}

#[test]
fn findings_of_a_job_that_was_changed_come_with_a_caution() {
    let folder = sealed("cautioned");
    let (_, whole, said) = halfskip(&folder, &["run", "a.job"], "");
    assert_eq!(said, "");
    let job = fs::read_to_string(folder.join("a.job")).unwrap();
    fs::write(folder.join("a.job"), job.replacen("Invented weld", "Invented Weld", 1)).unwrap();
    let (status, findings, said) = halfskip(&folder, &["run", "a.job"], "");
    assert_eq!(status, 0);
    assert_eq!(findings.replace("Invented Weld", "Invented weld"), whole);
    assert_eq!(said, "a.job:1: caution: does not fit its seal; halfskip check tells more\n");
}
