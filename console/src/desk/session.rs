//! The interactive program: one line, one answer, each fact in the job file before the next line is taken.

use std::boxed::Box;
use std::format;
use std::io::{self, IsTerminal, Read, Write};
use std::path::Path;
use std::string::String;
use std::vec::Vec;

use super::exit::{Exit, Stop, reason};
use super::feed::{feed, refused, tell};
use super::job::{Job, JobError, Opened};
use super::lines::Line;
use super::names::shown;
use super::terminal::{RawMode, columns};
use super::{LINE, Lines, Outcome};
use crate::editor::{Editor, Event, Mode};

const PROMPT: &str = "> ";

/// An examination and the file that keeps it.
#[derive(Debug)]
pub struct Session<L> {
    lines: L,
    job: Option<Job>,
}

impl<L: Lines> Session<L> {
    /// An examination that is not kept.
    pub const fn new(lines: L) -> Self {
        Self { lines, job: None }
    }

    /// An examination kept in a job file, whose facts are taken first. What was found is told on `errors`.
    ///
    /// # Errors
    /// [`Stop`]: the file cannot be had, or lines of it are bad; each of them is told.
    pub fn open(mut lines: L, path: &Path, errors: &mut dyn Write) -> Result<Self, Stop> {
        let name = shown(path);
        let (job, opened) = Job::open(path, |line| taken(&mut lines, line, path, errors)).map_err(failed)?;
        let Opened { created, lines: count, torn, seals } = opened;
        if let Some(aside) = torn {
            let (line, aside) = (count.saturating_add(1), shown(&aside));
            let _ = writeln!(
                errors,
                "{name}:{line}: the last line was cut short; it is not taken, its piece is in {aside}"
            );
        }
        let _ = match (created, count) {
            (true, _) => writeln!(errors, "{name}: new job"),
            (false, 1) => writeln!(errors, "{name}: 1 line"),
            (false, count) => writeln!(errors, "{name}: {count} lines"),
        };
        seals.tell(&name, errors);
        Ok(Self { lines, job: Some(job) })
    }

    /// The examination.
    pub const fn lines(&self) -> &L {
        &self.lines
    }

    /// Seals the facts to come with a running digest.
    pub const fn seal(&mut self) {
        if let Some(job) = &mut self.job {
            job.seal();
        }
    }

    /// Takes one line. A fact that cannot be kept is refused and forgotten again.
    ///
    /// # Errors
    /// [`Stop`]: a fact could not be kept, and the facts before it cannot be read again.
    pub fn take(&mut self, line: &[u8], answer: &mut String) -> Result<Outcome, Stop> {
        let outcome = self.lines.line(line, answer);
        let (Outcome::Recorded, Some(job)) = (outcome, &mut self.job) else {
            return Ok(outcome);
        };
        let Err(error) = job.append(line) else {
            return Ok(outcome);
        };
        self.forget(&error)?;
        *answer = format!("not recorded: {error}\n");
        Ok(Outcome::Refused { column: None })
    }

    /// Takes facts, all of them or none; their answers one after the other. `refused` is told each one that cannot be
    /// recorded, by its place, and why.
    ///
    /// # Errors
    /// [`Stop`]: one was refused, or they cannot be kept.
    pub fn take_all(
        &mut self,
        facts: &[&[u8]],
        answers: &mut String,
        mut refused: impl FnMut(usize, &str),
    ) -> Result<(), Stop> {
        let mut bad = 0usize;
        for (place, fact) in facts.iter().enumerate() {
            let at = answers.len();
            if self.lines.line(fact, answers) != Outcome::Recorded {
                refused(place, answers.get(at..).unwrap_or_default().trim_end());
                bad = bad.saturating_add(1);
            }
        }
        if bad > 0 {
            self.forget(&format!("{bad} refused"))?;
            return Err(Stop::Told);
        }
        let Some(Err(error)) = self.job.as_mut().map(|job| job.append_all(facts)) else { return Ok(()) };
        self.forget(&error)?;
        Err(Stop::Failed(format!("not recorded: {error}")))
    }

    /// Takes the lines of the job again: what is shown and what is on disk stay one and the same.
    fn forget(&mut self, why: &dyn core::fmt::Display) -> Result<(), Stop> {
        self.lines.clear();
        let (lines, Some(job)) = (&mut self.lines, &mut self.job) else { return Ok(()) };
        let again = job.replay(|line| taken(lines, line, Path::new(""), &mut io::sink()));
        again.map(drop).map_err(|again| Stop::Failed(format!("{why}; {again}")))
    }

    /// Takes lines from standard input until it ends.
    ///
    /// # Errors
    /// [`Stop`]: input or output fails, or a fact was lost from memory.
    pub fn run(&mut self) -> Result<Exit, Stop> {
        let (input, output) = (io::stdin(), io::stdout());
        if input.is_terminal() && output.is_terminal() {
            let raw = RawMode::enter(&input)
                .map_err(|error| Stop::Failed(format!("terminal: {}", reason(&error))))?;
            if let Some(_guard) = raw {
                return self.converse(input.lock(), &mut output.lock(), || columns(&output));
            }
        }
        let take = |line: &[u8], answer: &mut String| self.take(line, answer);
        feed("stdin", input.lock(), take, &mut output.lock(), &mut io::stderr())
    }

    /// Takes keys from a terminal until it ends; a refused line is told and the next one is asked for.
    ///
    /// # Errors
    /// [`Stop`]: input or output fails, or a fact was lost from memory.
    pub fn converse(
        &mut self,
        mut keys: impl Read,
        screen: &mut dyn Write,
        width: impl Fn() -> Option<usize>,
    ) -> Result<Exit, Stop> {
        let mut editor: Box<Editor<LINE, 32>> = Box::new(Editor::new(Mode::Terminal, PROMPT));
        let (mut answer, mut shown) = (String::new(), Vec::new());
        let mut bytes = [0u8; 256];
        editor.prompt(|echo| shown.extend_from_slice(echo));
        loop {
            show(screen, &mut shown)?;
            let count = match keys.read(&mut bytes) {
                Ok(0) => return Ok(Exit::Done),
                Ok(count) => count,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
                Err(error) => return Err(Stop::Failed(format!("keyboard: {}", reason(&error)))),
            };
            for byte in bytes.iter().take(count) {
                answer.clear();
                let outcome = match editor.push(*byte, |echo| shown.extend_from_slice(echo)) {
                    None => continue,
                    Some(Event::Line(line)) => self.take(line.as_bytes(), &mut answer)?,
                    Some(Event::Refused(fault)) => refused(fault, &mut answer),
                    Some(Event::Interrupted) => Outcome::Quiet,
                    Some(Event::End) => {
                        show(screen, &mut shown)?;
                        return Ok(Exit::Done);
                    }
                };
                if let Outcome::Refused { column: Some(column) } = outcome {
                    shown.extend_from_slice(format!("column {column}: ").as_bytes());
                }
                shown.extend_from_slice(answer.as_bytes());
                if let Some(columns) = width() {
                    editor.set_columns(columns);
                }
                editor.prompt(|echo| shown.extend_from_slice(echo));
                // The answer says that a fact is kept: it is shown before the next line is taken.
                show(screen, &mut shown)?;
            }
        }
    }
}

fn show(screen: &mut dyn Write, shown: &mut Vec<u8>) -> Result<(), Stop> {
    let written = screen.write_all(shown).and_then(|()| screen.flush());
    shown.clear();
    written.map_err(|error| Stop::writing(&error))
}

/// Takes a line of a job file; a bad one is told.
fn taken(lines: &mut impl Lines, line: Line<'_>, path: &Path, errors: &mut dyn Write) -> bool {
    let mut answer = String::new();
    let outcome = match line.text {
        Ok(text) => lines.fact(text.as_bytes(), &mut answer),
        Err(fault) => refused(fault, &mut answer),
    };
    let Outcome::Refused { column } = outcome else {
        return true;
    };
    let name = shown(path);
    tell(errors, &name, line.number, column, &answer);
    false
}

fn failed(error: JobError) -> Stop {
    Stop::Failed(format!("{error}"))
}
