//! Sessions as they are typed and answered, at the capacities of a device.
//!
//! In `transcripts/*.txt` a line behind `> ` is typed; what follows up to the next such line is the answer expected.
//! Lines before the first typed one say what the session is about and how its figures were come by. With
//! `HALFSKIP_BLESS=1` in the environment the answers given are written in place of those expected.

use std::fs;
use std::path::{Path, PathBuf};

use halfskip_console::answers::page::WIDTH;
use halfskip_console::shell::Shell;
use halfskip_host_tests::folders::Folders;

/// Sheets that are shipped with the program, or stand beside the transcripts.
fn shipped() -> Folders {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    Folders([root.join("../examples/criteria"), root.join("transcripts")].to_vec())
}

fn files() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("transcripts");
    let mut files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "txt"))
        .collect();
    files.sort();
    files
}

/// The session as it goes now: the same head and the same lines typed, with the answers given.
fn replayed(transcript: &str) -> String {
    let mut shell: Box<Shell<Folders>> = Box::new(Shell::new(shipped()));
    let mut session = String::new();
    let mut head = true;
    for line in transcript.lines() {
        if let Some(typed) = line.strip_prefix("> ") {
            head = false;
            session += &format!("{line}\n");
            shell.line(typed.as_bytes(), &mut session);
        } else if head {
            session += &format!("{line}\n");
        }
    }
    session
}

#[test]
fn every_session_is_answered_as_written() {
    let bless = std::env::var_os("HALFSKIP_BLESS").is_some();
    let files = files();
    assert!(!files.is_empty(), "the transcripts are missing");
    for path in files {
        let expected = fs::read_to_string(&path).unwrap();
        let session = replayed(&expected);
        if bless {
            fs::write(&path, &session).unwrap();
            continue;
        }
        let differing = expected.lines().zip(session.lines()).zip(1..).find(|((old, new), _)| old != new);
        if let Some(((old, new), line)) = differing {
            panic!("{}:{line}\n  expected {old}\n  answered {new}", path.display());
        }
        assert_eq!(expected, session, "{}", path.display());
    }
}

#[test]
fn no_answer_is_wider_than_the_page() {
    for path in files() {
        let text = fs::read_to_string(&path).unwrap();
        let mut listed = false;
        for (line, number) in text.lines().zip(1..).skip_while(|(line, _)| !line.starts_with("> ")) {
            if line.starts_with("> ") {
                // An entry is listed whole, so that it can be typed again; a refusal is one line.
                listed = line == "> list";
            } else if !(listed || line.starts_with("column ") || line.starts_with("not recorded: ")) {
                assert!(line.chars().count() <= WIDTH, "{}:{number}", path.display());
            }
        }
    }
}
