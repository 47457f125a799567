//! `halfskip import`: readings from a table of a logger or a spreadsheet.
//!
//! The first line names the columns, by the keys of a `reading`, with the unit of its numbers in brackets:
//!
//! ```text
//! indication,probe,side,x [mm],standoff [mm],path [mm],height [%],gain [dB],point
//! 1,p60,a,128,34.8,40.31,76,34,corner
//! ```
//!
//! Columns come in any order; an empty cell leaves its key out, and a number may have its column's unit behind it. A row becomes
//! the line that a person would type, and is refused for what that line would be refused for. Nothing is kept unless every row
//! can be, nor where the job holds every reading of the table already.

mod cells;
mod header;
mod row;
mod twice;

use std::format;
use std::io::{self, BufRead, BufWriter, Write};
use std::path::Path;
use std::string::{String, ToString};
use std::vec::Vec;

use super::args::{Import, Source};
use super::console::Desk;
use super::exit::{Exit, Stop, reason};
use super::feed::{open, read_job, tell};
use super::lines::LineReader;
use super::names::shown;
use super::session::Session;
use super::{LINE, Lines, Outcome};
use cells::{Cell, is_empty, told_separator};
use header::Header;

/// A row as a line, and the line of the table that it comes from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Reading {
    /// The line of the table, counted from 1.
    pub number: u64,
    /// What a person would type.
    pub line: String,
}

/// Why a part of a table is no reading.
struct Refused {
    /// Character of the table's line, counted from 1.
    column: usize,
    why: String,
}

/// Takes a table: shows its lines, tries them on a job, or adds them to it.
///
/// # Errors
/// [`Stop`]: table or job cannot be had, a row is no reading, or one cannot be kept.
pub fn run(asked: &Import) -> Result<Exit, Stop> {
    let mut out = BufWriter::new(io::stdout().lock());
    let readings = readings(&asked.table.name(), open(&asked.table)?, &mut io::stderr())?;
    let Some(job) = &asked.job else {
        for reading in &readings {
            writeln!(out, "{}", reading.line).map_err(|error| Stop::writing(&error))?;
        }
        return done(out);
    };
    let table = asked.table.name();
    if asked.dry_run {
        let shown = tried(job, &table, &readings)?;
        say(&mut out, &shown)?;
        say(&mut out, &format!("{}; nothing was kept\n", counted(&readings, "would be recorded")))?;
        return done(out);
    }
    if !job.exists() {
        // A table that is refused leaves no empty job behind.
        tried(job, &table, &readings)?;
    }
    let mut session = Session::open(Desk::new(Some(job)), job, &mut io::stderr())?;
    not_twice(session.lines(), job, &table, &readings)?;
    let (lines, mut answers): (Vec<&[u8]>, String) =
        (readings.iter().map(|reading| reading.line.as_bytes()).collect(), String::new());
    session.take_all(&lines, &mut answers, |place, why| {
        let number = readings.get(place).map_or(0, |reading| reading.number);
        tell(&mut io::stderr(), &table, number, Some(1), why);
    })?;
    say(&mut out, &answers)?;
    say(&mut out, &format!("{} in {}\n", counted(&readings, "recorded"), shown(job)))?;
    done(out)
}

fn done(mut out: impl Write) -> Result<Exit, Stop> {
    out.flush().map(|()| Exit::Done).map_err(|error| Stop::writing(&error))
}

fn say(out: &mut impl Write, text: &str) -> Result<(), Stop> {
    out.write_all(text.as_bytes()).map_err(|error| Stop::writing(&error))
}

fn counted(readings: &[Reading], what: &str) -> String {
    match readings.len() {
        1 => format!("1 reading {what}"),
        count => format!("{count} readings {what}"),
    }
}

/// Takes the rows behind a job's own lines, and forgets both; what they are answered.
fn tried(job: &Path, table: &str, readings: &[Reading]) -> Result<String, Stop> {
    let mut desk = Desk::new(Some(job));
    if job.exists() {
        read_job(&Source::File(job.to_path_buf()), &mut desk, &mut io::stderr())?;
    }
    not_twice(&desk, job, table, readings)?;
    let (mut bad, mut answers) = (false, String::new());
    for reading in readings {
        let mut answer = String::new();
        let outcome = desk.line(reading.line.as_bytes(), &mut answer);
        if outcome == Outcome::Recorded {
            answers += &format!("{}\n  {answer}", reading.line);
        } else {
            tell(&mut io::stderr(), table, reading.number, Some(1), &answer);
            bad = true;
        }
    }
    if bad { Err(Stop::Told) } else { Ok(answers) }
}

/// Refuses a table of which a job holds every reading, and tells when it holds some.
fn not_twice(desk: &Desk, job: &Path, table: &str, readings: &[Reading]) -> Result<(), Stop> {
    let held = twice::held(desk, readings);
    let Some((place, entry)) = held.first() else { return Ok(()) };
    let (job, all) = (shown(job), readings.len());
    if held.len() == all {
        let why = format!("{table}: {job} holds every reading of it already, the first as entry {entry}");
        return Err(Stop::Failed(format!("{why}; nothing was kept")));
    }
    let number = readings.get(*place).map_or(0, |reading| reading.number);
    let count = held.len();
    let why = format!("caution: {job} holds {count} of {all} readings already, this one as entry {entry}");
    tell(&mut io::stderr(), table, number, Some(1), &why);
    Ok(())
}

/// Every row of a table as a line. Every row that is none is named on `errors`, as `name:line:column: why`; the first
/// decimal mark that could part thousands draws a caution.
///
/// # Errors
/// [`Stop`]: the table cannot be read, or a row is no reading.
pub fn readings(name: &str, table: impl BufRead, errors: &mut dyn Write) -> Result<Vec<Reading>, Stop> {
    let mut reader = LineReader::new(table, LINE);
    let (mut header, mut readings, mut bad): (Option<Header>, Vec<Reading>, bool) = (None, Vec::new(), false);
    let (mut separator, mut doubts) = (None, Doubts::default());
    loop {
        let line = reader.next_line();
        let line =
            line.map_err(|error| Stop::Failed(format!("{name}: cannot be read: {}", reason(&error))))?;
        let Some(line) = line else { break };
        let number = line.number;
        let text = match line.text {
            Ok(text) if is_empty(text) || is_remark(text, header.as_ref()) => continue,
            Ok(text) => text,
            Err(fault) => {
                tell(errors, name, number, fault.column(), &fault.to_string());
                bad = true;
                continue;
            }
        };
        let taken = match &header {
            None if separator.is_none() && told_separator(text).is_some() => {
                separator = told_separator(text);
                continue;
            }
            None => Header::read(text, separator).map(|read| header = Some(read)),
            Some(_) if text.starts_with('#') => Err(Refused {
                column: 1,
                why: "row or remark? expected a name in quotes, or a blank behind the #".to_string(),
            }),
            Some(header) => row::line(header, text).map(|line| {
                readings.push(Reading { number, line });
                doubts.take(number, row::marks(header, text));
            }),
        };
        if let Err(Refused { column, why }) = taken {
            tell(errors, name, number, Some(column), &why);
            // Without a header no row can be told from another.
            if header.is_none() {
                return Err(Stop::Told);
            }
            bad = true;
        }
    }
    if header.is_none() && !bad {
        return Err(Stop::Failed(format!("{name}: holds no table: its first line names the columns")));
    }
    doubts.tell(name, errors);
    if bad { Err(Stop::Told) } else { Ok(readings) }
}

/// The first numbers of a table whose decimal marks might have been meant to part thousands.
#[derive(Default)]
struct Doubts {
    /// A number of the table has a decimal comma.
    commas: bool,
    comma: Option<(u64, Cell)>,
    point: Option<(u64, Cell)>,
}

impl Doubts {
    fn take(&mut self, number: u64, marks: row::Marks) {
        self.commas |= marks.commas;
        self.comma = self.comma.take().or_else(|| Some((number, marks.comma?)));
        self.point = self.point.take().or_else(|| Some((number, marks.point?)));
    }

    fn tell(&self, name: &str, errors: &mut dyn Write) {
        if let Some((number, Cell { column, text })) = &self.comma {
            let read = text.replacen(',', ".", 1);
            let why = format!("caution: {text} is read as {read}: a comma is the decimal mark here");
            tell(errors, name, *number, Some(*column), &why);
        }
        if let Some((number, Cell { column, text })) = self.point.as_ref().filter(|_| self.commas) {
            let why = format!(
                "caution: {text} is read with a decimal point, where other numbers of the table have a comma: were \
                 thousands meant?"
            );
            tell(errors, name, *number, Some(*column), &why);
        }
    }
}

/// Whether a line is a remark: behind a `#`, and not the row of an indication whose name begins so.
fn is_remark(text: &str, header: Option<&Header>) -> bool {
    text.strip_prefix('#').is_some_and(|remark| {
        remark.starts_with(' ') || header.is_none_or(|header| !remark.contains(header.separator))
    })
}
