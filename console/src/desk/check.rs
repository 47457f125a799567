//! `halfskip check`: whether the seals of a job fit its lines, and which entry is the first that does not.

use std::format;
use std::io::{self, Write};
use std::string::{String, ToString};

use super::args::Check;
use super::exit::{Exit, Stop, answered, reason};
use super::feed::open;
use super::lines::LineReader;
use super::seal::{Seals, split};
use super::{LINE, Lines, Outcome};
use crate::commands;
use crate::commands::Group;

/// What was found in a job.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Found {
    /// By its seals.
    pub seals: Seals,
    /// The first line that does not fit: the number of its entry, when it is one, and the line without its seal.
    pub misfit: Option<(Option<u32>, String)>,
}

/// Checks a job and says what was found: 0 when every seal fits, 1 when one does not or there is none to fit.
///
/// # Errors
/// [`Stop`]: the job cannot be had, a line of it is no text, or the answer cannot be written.
pub fn run(asked: &Check) -> Result<Exit, Stop> {
    let Found { seals, misfit } = found(asked)?;
    let digest = seals.digest.to_string();
    let mut text = format!("{}: {seals}\n", asked.job.name());
    if let Some((entry, line)) = misfit {
        let which =
            entry.map_or_else(|| "it is no entry".to_string(), |entry| format!("it is entry {entry}"));
        text += &format!("{which}: {line}\nit was changed or added, or one before it was taken out\n");
    }
    text += &format!("running digest {digest}\n");
    let expected = asked.digest.as_ref().map(|expected| *expected == digest);
    text += match expected {
        Some(true) => "that is the digest expected\n",
        Some(false) => "that is NOT the digest expected\n",
        None => "hold it against one kept elsewhere: a job rewritten as a whole can be sealed anew\n",
    };
    let fits = seals.misfit.is_none() && expected.unwrap_or(seals.sealed > 0);
    let mut out = io::stdout().lock();
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    answered(written, if fits { Exit::Done } else { Exit::Findings })
}

fn found(asked: &Check) -> Result<Found, Stop> {
    let name = asked.job.name();
    let mut reader = LineReader::new(open(&asked.job)?, LINE);
    let (mut found, mut entries) = (Found::default(), 0u32);
    loop {
        let line = reader.next_line();
        let line =
            line.map_err(|error| Stop::Failed(format!("{name}: cannot be read: {}", reason(&error))))?;
        let Some(line) = line else { return Ok(found) };
        let text = line.text.map_err(|fault| Stop::Failed(format!("{name}:{}: {fault}", line.number)))?;
        let entry = is_fact(text);
        entries = entries.saturating_add(u32::from(entry));
        if !found.seals.take(text) && found.misfit.is_none() {
            found.misfit = Some((entry.then_some(entries), split(text).0.to_string()));
        }
    }
}

/// Whether a line begins as a fact does; a line that was touched may be no good fact any more.
fn is_fact(line: &str) -> bool {
    let verb = line.split_ascii_whitespace().next().and_then(commands::find);
    verb.is_some_and(|verb| verb.group != Group::Question)
}

/// Lines that are taken and their seals looked at on the way.
pub struct Watched<'a, L> {
    /// Where they go.
    pub lines: &'a mut L,
    /// What their seals say.
    pub seals: Seals,
}

impl<L: Lines> Lines for Watched<'_, L> {
    fn line(&mut self, line: &[u8], answer: &mut dyn core::fmt::Write) -> Outcome {
        if let Ok(text) = str::from_utf8(line) {
            self.seals.take(text);
        }
        self.lines.line(line, answer)
    }

    fn fact(&mut self, line: &[u8], answer: &mut dyn core::fmt::Write) -> Outcome {
        if let Ok(text) = str::from_utf8(line) {
            self.seals.take(text);
        }
        self.lines.fact(line, answer)
    }

    fn clear(&mut self) {
        self.seals = Seals::default();
        self.lines.clear();
    }
}
