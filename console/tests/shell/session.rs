//! The conversation at a terminal, and lines from a pipe.

use std::fs;
use std::io::{self, Write};

use crate::tally::{Tally, directory};
use halfskip_console::desk::args::Source;
use halfskip_console::desk::exit::{Exit, Stop};
use halfskip_console::desk::feed::{feed, read_job};
use halfskip_console::desk::session::Session;

/// What a terminal gets to see of some keys.
fn conversation(session: &mut Session<Tally>, keys: &[u8]) -> String {
    let mut screen = Vec::new();
    assert_eq!(session.converse(keys, &mut screen, || Some(80)), Ok(Exit::Done));
    String::from_utf8(screen).unwrap()
}

#[test]
fn a_refused_line_changes_nothing_and_the_next_one_is_taken() {
    let mut session = Session::new(Tally::default());
    let screen = conversation(&mut session, b"add 4\radd x\rhello\x03add 5\radd \x00\rsum\r\x04");
    assert_eq!(
        screen,
        "> add 4\r\n> add x\r\ncolumn 5: no number\n> hello^C\r\n> add 5\r\n> add \x07\r\n\
         column 5: line holds a NUL byte\n> sum\r\nsum 9 of 2\n> \r\n"
    );
}

#[test]
fn a_megabyte_without_a_line_end_is_one_refusal() {
    let mut session = Session::new(Tally::default());
    let keys = [&vec![b'x'; 1 << 20][..], b"\rsum\r"].concat();
    let screen = conversation(&mut session, &keys);
    assert_eq!(screen.matches("line is longer than 4096 bytes").count(), 1);
    assert!(screen.ends_with("sum 0 of 0\n> "));
}

#[test]
fn facts_are_kept_and_questions_are_not() {
    let path = directory("kept").join("weld.job");
    let mut errors = Vec::new();
    let mut session = Session::open(Tally::default(), &path, &mut errors).unwrap();
    conversation(&mut session, b"# first\radd 4\rsum\radd x\radd 5\r");
    assert_eq!(fs::read_to_string(&path).unwrap(), "add 4\nadd 5\n");
    drop(session);
    let mut session = Session::open(Tally::default(), &path, &mut errors).unwrap();
    assert!(conversation(&mut session, b"sum\r").contains("sum 9 of 2"));
    let name = path.display();
    assert_eq!(String::from_utf8(errors).unwrap(), format!("{name}: new job\n{name}: 2 lines\n"));
}

#[test]
fn a_torn_line_is_told_with_its_place() {
    let path = directory("told").join("weld.job");
    fs::write(&path, "add 4\nadd 5\nadd 1").unwrap();
    let mut errors = Vec::new();
    let mut session = Session::open(Tally::default(), &path, &mut errors).unwrap();
    assert!(conversation(&mut session, b"sum\r").contains("sum 9 of 2"));
    let name = path.display();
    let told =
        format!("{name}:3: the last line was cut short; it is not taken, its piece is in {name}.torn\n");
    assert_eq!(String::from_utf8(errors).unwrap(), format!("{told}{name}: 2 lines\n"));
}

#[test]
fn a_fact_that_cannot_be_kept_is_forgotten_again() {
    let path = directory("lost").join("weld.job");
    let mut errors = Vec::new();
    let mut session = Session::open(Tally::default(), &path, &mut errors).unwrap();
    conversation(&mut session, b"add 4\r");
    let before = fs::read(&path).unwrap();
    fs::write(&path, [&before[..], b"add 100\n"].concat()).unwrap();
    let screen = conversation(&mut session, b"add 5\rsum\r");
    assert!(screen.contains("not recorded: "), "{screen}");
    assert!(screen.contains("was changed by another program"), "{screen}");
    assert!(screen.contains("sum 4 of 1"), "{screen}");
}

#[test]
fn every_bad_line_of_a_job_is_told_and_nothing_is_evaluated() {
    let path = directory("bad").join("weld.job");
    let long = "x".repeat(1 << 20);
    fs::write(&path, format!("add 1\r\nadd x\r\n{long}\nsum\nadd \0\nadd 2")).unwrap();
    let (mut tally, mut errors) = (Tally::default(), Vec::new());
    let stop = read_job(&Source::File(path.clone()), &mut tally, &mut errors);
    assert_eq!(stop, Err(Stop::Told));
    let name = path.display();
    assert_eq!(
        String::from_utf8(errors).unwrap(),
        format!(
            "{name}:2:5: no number\n{name}:3: line is longer than 4096 bytes\n{name}:5:5: line holds a NUL byte\n\
             {name}:6: caution: no line end; the line may be cut short\n"
        )
    );
    assert_eq!(tally.facts, [1, 2]);
}

#[test]
fn a_job_that_cannot_be_read_is_named() {
    let directory = directory("unread");
    for (path, why) in [
        (directory.clone(), "is a directory, not a job file"),
        (directory.join("none"), "cannot be opened: No such file or directory"),
    ] {
        let stop = read_job(&Source::File(path.clone()), &mut Tally::default(), &mut io::sink());
        assert_eq!(stop, Err(Stop::Failed(format!("{}: {why}", path.display()))));
    }
    let empty = directory.join("empty");
    fs::write(&empty, "").unwrap();
    assert_eq!(read_job(&Source::File(empty), &mut Tally::default(), &mut io::sink()), Ok(()));
}

/// A reader that went away after the first answer.
struct Closed(u32);

impl Write for Closed {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0 += 1;
        if self.0 > 1 { Err(io::ErrorKind::BrokenPipe.into()) } else { Ok(bytes.len()) }
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_closed_pipe_ends_the_work_without_a_word() {
    let (mut session, mut errors) = (Session::new(Tally::default()), Vec::new());
    let source = &b"add 1\nsum\nsum\nadd 2\n"[..];
    let take = |line: &[u8], answer: &mut String| session.take(line, answer);
    let stop = feed("stdin", source, take, &mut Closed(0), &mut errors);
    assert_eq!(stop, Err(Stop::ClosedPipe));
    assert!(errors.is_empty());
}
