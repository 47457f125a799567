//! Job files: torn, locked, replaced, unwritable, on a full disk.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::tally::{Tally, directory};
use halfskip_console::desk::exit::Stop;
use halfskip_console::desk::job::{Job, Problem};
use halfskip_console::desk::session::Session;

/// The lines of a job, each good.
fn lines(path: &Path) -> (Job, Vec<String>, Option<PathBuf>) {
    let mut found = Vec::new();
    let (job, opened) = Job::open(path, |line| {
        found.push(line.text.unwrap().to_owned());
        true
    })
    .unwrap();
    assert_eq!(opened.lines, found.len() as u64);
    (job, found, opened.torn)
}

fn refused(path: &Path) -> String {
    Job::open(path, |_| true).unwrap_err().to_string()
}

#[test]
fn a_line_is_on_disk_when_append_returns() {
    let path = directory("append").join("weld.job");
    let (mut job, found, _) = lines(&path);
    assert!(found.is_empty());
    job.append(b"add 1").unwrap();
    job.append("note \"Überlappung\"".as_bytes()).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "add 1\nnote \"Überlappung\"\n");
    drop(job);
    assert_eq!(lines(&path).1, ["add 1", "note \"Überlappung\""]);
}

#[test]
fn cut_at_any_byte_only_the_last_line_is_missing() {
    let whole = b"add 1\nadd 22\n\nadd 333\n";
    for cut in 0..=whole.len() {
        let path = directory("torn").join("weld.job");
        fs::write(&path, &whole[..cut]).unwrap();
        let end = whole[..cut].iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
        let (mut job, found, torn) = lines(&path);
        assert_eq!(found.len(), whole[..end].iter().filter(|byte| **byte == b'\n').count());
        assert_eq!(fs::read(&path).unwrap(), &whole[..end]);
        match torn {
            Some(aside) => {
                assert_eq!(aside, path.with_extension("job.torn"));
                assert_eq!(fs::read(aside).unwrap(), [&whole[end..cut], b"\n"].concat());
            }
            None => assert_eq!(end, cut),
        }
        job.append(b"add 4").unwrap();
        assert_eq!(fs::read(&path).unwrap(), [&whole[..end], b"add 4\n"].concat());
    }
}

#[test]
fn pieces_set_aside_before_are_kept() {
    let path = directory("twice").join("weld.job");
    for piece in ["add 1", "add 2"] {
        fs::write(&path, piece).unwrap();
        lines(&path);
    }
    assert_eq!(fs::read_to_string(path.with_extension("job.torn")).unwrap(), "add 1\nadd 2\n");
}

#[test]
fn a_file_that_is_no_job_is_left_alone() {
    let path = directory("foreign").join("photo");
    let mut errors = Vec::new();
    let foreign = b"add 1\nhello\nadd x\n\xff\xd8\nadd 2\nadd";
    fs::write(&path, foreign).unwrap();
    let stop = Session::open(Tally::default(), &path, &mut errors).unwrap_err();
    let name = path.display();
    assert_eq!(stop, Stop::Failed(format!("{name}: 3 bad lines; nothing was changed")));
    assert_eq!(
        String::from_utf8(errors).unwrap(),
        format!("{name}:2:1: unknown verb\n{name}:3:5: no number\n{name}:4:1: line is not UTF-8 text\n")
    );
    assert_eq!(fs::read(&path).unwrap(), foreign);
    fs::write(&path, [b'x'; 10_000]).unwrap();
    assert!(refused(&path).ends_with("does not end in a line; this is no job file"));
    assert_eq!(fs::metadata(&path).unwrap().len(), 10_000);
}

#[test]
fn what_cannot_be_a_job_file_is_named() {
    let directory = directory("named");
    assert!(refused(&directory).ends_with("is a directory, not a job file"));
    assert!(
        refused(&directory.join("none/weld.job")).ends_with("cannot be opened: No such file or directory")
    );
    assert!(refused(Path::new("/dev/null")).ends_with("is a device or a pipe, not a job file"));
    let file = directory.join("file");
    fs::write(&file, "").unwrap();
    assert!(refused(&file.join("weld.job")).ends_with("cannot be opened: Not a directory"));
}

#[test]
fn a_job_changed_behind_the_back_is_written_no_more() {
    let directory = directory("changed");
    let (path, other) = (directory.join("weld.job"), directory.join("other.job"));
    let changes: [&dyn Fn(); 3] = [
        &|| fs::write(&path, "add 1\nadd 2\nadd 3\n").unwrap(),
        &|| fs::rename(&other, &path).unwrap(),
        &|| fs::remove_file(&path).unwrap(),
    ];
    for change in changes {
        fs::write(&path, "add 1\n").unwrap();
        fs::write(&other, "add 1\n").unwrap();
        let (mut job, ..) = lines(&path);
        change();
        let before = fs::read(&path).ok();
        assert!(matches!(job.append(b"add 9").unwrap_err().problem(), Problem::Changed));
        assert_eq!(fs::read(&path).ok(), before);
    }
}

/// Fills a small disk through a session and checks that each answer was true.
fn fill(path: &Path) {
    let mut errors = Vec::new();
    let mut session = Session::open(Tally::default(), path, &mut errors).unwrap();
    let line = format!("add 1{}", " ".repeat(600));
    let (mut kept, mut answer) = (0, String::new());
    while answer.is_empty() {
        session.take(line.as_bytes(), &mut answer).unwrap();
        kept += usize::from(answer.is_empty());
        assert!(kept < 10_000, "the disk is not full");
    }
    let name = path.display();
    let because = answer.strip_prefix(&format!("not recorded: {name}: cannot be written: "));
    assert!(["No space left on device\n", "File too large\n"].contains(&because.unwrap()), "{answer}");
    answer.clear();
    session.take(b"sum", &mut answer).unwrap();
    assert_eq!(answer, format!("sum {kept} of {kept}\n"));
    let whole = fs::read_to_string(path).unwrap();
    assert_eq!(whole, format!("{line}\n").repeat(kept));
    // Room again: the session goes on.
    fs::remove_file(path.with_extension("ballast")).unwrap();
    answer.clear();
    session.take(b"add 2", &mut answer).unwrap();
    assert_eq!(answer, "");
    assert_eq!(fs::read_to_string(path).unwrap(), format!("{whole}add 2\n"));
}

#[test]
fn on_a_full_disk_nothing_half_written_stays() {
    let disk = directory("disk");
    let mounted = Command::new("mount")
        .args(["-t", "tmpfs", "-o", "size=64k", "tmpfs"])
        .arg(&disk)
        .status()
        .is_ok_and(|status| status.success());
    if !mounted {
        println!("skipped: a small disk cannot be mounted here");
        return;
    }
    let path = disk.join("weld.job");
    fs::write(path.with_extension("ballast"), [0; 20_000]).unwrap();
    let result = std::panic::catch_unwind(|| fill(&path));
    assert!(Command::new("umount").arg(&disk).status().unwrap().success());
    result.unwrap();
}
