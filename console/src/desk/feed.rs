//! Lines of a source taken one after another: answers on one side, every bad line on the other.

use std::boxed::Box;
use std::format;
use std::fs::File;
use std::io::{self, BufRead, BufReader, Write};
use std::string::String;

use super::args::Source;
use super::exit::{Exit, Stop, reason};
use super::lines::LineReader;
use super::patience::opened;
use super::progress::Progress;
use super::{LINE, Lines, Outcome};
use crate::language::text::Fault;

/// A source opened for reading.
///
/// # Errors
/// [`Stop`]: it cannot be opened, or is a directory.
pub fn open(source: &Source) -> Result<Box<dyn BufRead>, Stop> {
    let path = match source {
        Source::Standard => return Ok(Box::new(io::stdin().lock())),
        Source::File(path) => path,
    };
    let name = source.name();
    let failed = |error: io::Error| Stop::Failed(format!("{name}: cannot be opened: {}", reason(&error)));
    let file = opened(path, File::options().read(true)).map_err(failed)?;
    if file.metadata().map_err(failed)?.is_dir() {
        return Err(Stop::Failed(format!("{name}: is a directory, not a job file")));
    }
    Ok(Box::new(BufReader::with_capacity(1 << 16, file)))
}

/// Reads a whole job. Questions in it are passed over; every bad line is named on `errors`.
///
/// # Errors
/// [`Stop`]: the source cannot be had, or any line is bad. Nothing should then be evaluated.
pub fn read_job(source: &Source, lines: &mut impl Lines, errors: &mut dyn Write) -> Result<(), Stop> {
    let take = |line: &[u8], answer: &mut String| Ok(lines.fact(line, answer));
    let progress = Progress::alone("lines", None);
    match fed(&source.name(), open(source)?, take, &mut io::sink(), errors, progress)? {
        Exit::BadInput => Err(Stop::Told),
        _ => Ok(()),
    }
}

/// Feeds every line of a source to `take` and writes the answers.
///
/// A bad line is told on `errors` as `name:line:column: why`, and the next one is taken: the caller learns of all of
/// them. A last line without an end is taken and told, since it may be cut short.
///
/// Returns [`Exit::BadInput`] when there was a bad line.
///
/// # Errors
/// [`Stop`]: the source cannot be read, an answer cannot be written, or what `take` says.
pub fn feed(
    name: &str,
    source: impl BufRead,
    take: impl FnMut(&[u8], &mut String) -> Result<Outcome, Stop>,
    answers: &mut dyn Write,
    errors: &mut dyn Write,
) -> Result<Exit, Stop> {
    fed(name, source, take, answers, errors, Progress::new("lines", None))
}

fn fed(
    name: &str,
    source: impl BufRead,
    mut take: impl FnMut(&[u8], &mut String) -> Result<Outcome, Stop>,
    answers: &mut dyn Write,
    errors: &mut dyn Write,
    mut progress: Progress,
) -> Result<Exit, Stop> {
    let mut reader = LineReader::new(source, LINE);
    let mut answer = String::new();
    let mut exit = Exit::Done;
    loop {
        let line = match reader.next_line() {
            Ok(Some(line)) => line,
            Ok(None) => break,
            Err(error) => {
                return Err(Stop::Failed(format!("{name}: cannot be read: {}", reason(&error))));
            }
        };
        progress.step(1);
        answer.clear();
        let (number, ended) = (line.number, line.ended);
        let outcome = match line.text {
            Ok(text) => take(text.as_bytes(), &mut answer)?,
            Err(fault) => refused(fault, &mut answer),
        };
        if let Outcome::Refused { column } = outcome {
            exit = Exit::BadInput;
            progress.end();
            tell(errors, name, number, column, &answer);
            continue;
        }
        if !ended && outcome != Outcome::Quiet {
            progress.end();
            let _ = writeln!(errors, "{name}:{number}: caution: no line end; the line may be cut short");
        }
        answers.write_all(answer.as_bytes()).map_err(|error| Stop::writing(&error).after(exit))?;
    }
    answers.flush().map_err(|error| Stop::writing(&error).after(exit))?;
    Ok(exit)
}

/// Tells of one bad line. A standard error that is closed leaves only the exit status.
pub(super) fn tell(errors: &mut dyn Write, name: &str, number: u64, column: Option<usize>, why: &str) {
    let why = why.trim_end();
    let _ = match column {
        Some(column) => writeln!(errors, "{name}:{number}:{column}: {why}"),
        None => writeln!(errors, "{name}:{number}: {why}"),
    };
}

/// The refusal of a line that is no text.
pub(super) fn refused(fault: Fault, answer: &mut String) -> Outcome {
    use core::fmt::Write;
    // Writing to a string cannot fail.
    let _ = writeln!(answer, "{fault}");
    Outcome::Refused { column: fault.column() }
}
