//! The recorder: a console that takes every fact and gives it again, places each reading as it comes, and leaves findings
//! and verdicts to where the record goes. For a device whose memory holds no more.

use core::fmt::Write;

use halfskip::record::entry::Entry;
use halfskip::record::examination::Examination;

use crate::answers::{self, Said};
use crate::commands::parse::{self, Line};
use crate::commands::{Group, Verb};
use crate::shell::keep::{InMemory, Keep};
use crate::shell::outcome::{Outcome, acknowledged, misread, put};

/// Questions about the record itself.
const ASKED: [&str; 3] = ["list", "status", "help"];

/// An examination that is recorded. A `criteria` or `technique` fact is kept by its name; no sheet is read and nothing is
/// judged here.
///
/// The capacities are those of a device, as those of a [`Shell`](crate::shell::Shell).
///
/// ```
/// use halfskip_console::shell::{Outcome, recorder::Recorder};
/// let mut recorder: Recorder = Recorder::new();
/// let mut answer = String::new();
/// assert_eq!(recorder.line(b"probe p60 angle=60 frequency=4 element=8x9", &mut answer), Outcome::Recorded(1));
/// assert_eq!(recorder.line(b"findings", &mut answer), Outcome::Refused { column: Some(1) });
/// assert_eq!(answer, "1: probe recorded\ncolumn 1: findings is not part of this console\n");
/// ```
pub struct Recorder<
    const PROBES: usize = 4,
    const INDICATIONS: usize = 16,
    const READINGS: usize = 512,
    const LOG: usize = 3072,
> {
    examination: Examination<PROBES, INDICATIONS, READINGS, LOG>,
}

impl<const PROBES: usize, const INDICATIONS: usize, const READINGS: usize, const LOG: usize>
    Recorder<PROBES, INDICATIONS, READINGS, LOG>
{
    /// An examination without entries.
    #[must_use]
    pub const fn new() -> Self {
        Self { examination: Examination::new() }
    }

    /// Takes one line, with or without its end, and writes the answer; a refusal says `column N: ` first.
    pub fn line(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome {
        self.line_kept(line, &mut InMemory, out)
    }

    /// Takes one line as [`line`](Self::line) does; a fact is kept before it is acknowledged.
    pub fn line_kept(&mut self, line: &[u8], keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
        match self.taken(line, keep, out) {
            Ok((said, number)) => acknowledged(&self.examination, &said, number, out),
            Err(outcome) => outcome,
        }
    }

    /// Records a fact, as from a line or a frame, and acknowledges it.
    pub fn record(&mut self, entry: Entry, out: &mut dyn Write) -> Outcome {
        self.record_kept(entry, &mut InMemory, out)
    }

    /// Records a fact as [`record`](Self::record) does; it is kept before it is acknowledged.
    pub fn record_kept(&mut self, entry: Entry, keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
        match put(&mut self.examination, entry, keep, out) {
            Ok((said, number)) => acknowledged(&self.examination, &said, number, out),
            Err(outcome) => outcome,
        }
    }

    /// Forgets every entry.
    pub fn clear(&mut self) {
        self.examination.clear();
    }

    /// Puts a fact into the record, or answers. Apart, so that no entry lies on the stack below its acknowledgement.
    #[inline(never)]
    fn taken(
        &mut self,
        line: &[u8],
        keep: &mut impl Keep,
        out: &mut dyn Write,
    ) -> Result<(Said, u32), Outcome> {
        match parse::line_among(line, self.examination.settings().common().units, has) {
            Ok(None) => Err(Outcome::Nothing),
            Ok(Some(Line::Fact(entry))) => put(&mut self.examination, entry, keep, out),
            Ok(Some(Line::Question(question))) => {
                let _ = answers::of_the_record(&self.examination.facts(), &question, has, out);
                Err(Outcome::Answered)
            }
            Err(refusal) => Err(misread(&refusal, true, out)),
        }
    }

    /// The examination so far.
    #[must_use]
    pub const fn examination(&self) -> &Examination<PROBES, INDICATIONS, READINGS, LOG> {
        &self.examination
    }
}

impl<const PROBES: usize, const INDICATIONS: usize, const READINGS: usize, const LOG: usize> Default
    for Recorder<PROBES, INDICATIONS, READINGS, LOG>
{
    fn default() -> Self {
        Self::new()
    }
}

/// Facts, and questions about the record.
fn has(verb: &Verb) -> bool {
    verb.group != Group::Question || ASKED.contains(&verb.word)
}
