//! The facts of a job, with the lines that they stand on.

use std::boxed::Box;
use std::format;
use std::io::Write;
use std::vec::Vec;

use halfskip::record::entry::Entry;
use halfskip::record::examination::Examination;

use crate::commands::parse::{self, Line};
use crate::desk::Outcome;
use crate::desk::args::Source;
use crate::desk::exit::{Exit, Stop};
use crate::desk::feed::{feed, open};

/// A fact of a job.
#[derive(Clone, PartialEq, Debug)]
pub struct Fact {
    /// The line of the job, counted from 1.
    pub line: u64,
    /// The fact.
    pub entry: Entry,
}

/// Room for what a unit rests on: some thousand changes of it.
type Units = Examination<1, 1, 1, 65_536>;

/// Takes lines of a job one after another; questions and comments are passed over.
#[derive(Default)]
pub struct Facts {
    /// Holds what says the unit of a bare length, and what voids that; all other entries are counted only.
    units: Box<Units>,
    lines: u64,
    facts: Vec<Fact>,
}

impl Facts {
    /// Takes one line and writes why, when it is none.
    pub fn take(&mut self, line: &[u8], why: &mut dyn core::fmt::Write) -> Outcome {
        self.lines = self.lines.saturating_add(1);
        match parse::line(line, self.units.settings().common().units) {
            Ok(None) => Outcome::Quiet,
            Ok(Some(Line::Question(_))) => Outcome::Answered,
            Ok(Some(Line::Fact(entry))) => {
                let says_unit = match entry {
                    Entry::Units(_) => true,
                    Entry::Void { number, .. } => self.units.entry(number).is_some(),
                    _ => false,
                };
                let counted =
                    if says_unit { self.units.record(entry.clone()) } else { self.units.pass_over() };
                if let Err(refusal) = counted {
                    let _ = writeln!(why, "not recorded: {refusal}");
                    return Outcome::Refused { column: None };
                }
                self.facts.push(Fact { line: self.lines, entry });
                Outcome::Recorded
            }
            Err(refusal) => {
                // What the line was refused for is told by the caller.
                let _ = writeln!(why, "{}", refusal.kind);
                Outcome::Refused { column: Some(usize::from(refusal.column)) }
            }
        }
    }

    /// The facts so far.
    #[must_use]
    pub fn into_facts(self) -> Vec<Fact> {
        self.facts
    }
}

/// Reads the facts of a job; every bad line is told on `errors`.
///
/// # Errors
/// [`Stop`]: the job cannot be read, or a line of it is bad.
pub fn read(job: &Source, errors: &mut dyn Write) -> Result<Vec<Fact>, Stop> {
    let mut facts = Facts::default();
    let take = |line: &[u8], answer: &mut std::string::String| Ok(facts.take(line, answer));
    match feed(&job.name(), open(job)?, take, &mut std::io::sink(), errors)? {
        Exit::BadInput => Err(Stop::Told),
        _ if facts.facts.is_empty() => Err(Stop::Failed(format!("{}: holds no facts", job.name()))),
        _ => Ok(facts.into_facts()),
    }
}
