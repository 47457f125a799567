//! `halfskip run --stream`: one JSON line a reading as it comes; none is kept, so that a job may have any length.

use core::fmt::Write as _;
use std::boxed::Box;
use std::io::{self, BufWriter, Write};
use std::string::String;
use std::vec::Vec;

use halfskip::findings::evaluate;
use halfskip::record::entry::Entry;
use halfskip::record::examination::Examination;

use super::args::Source;
use super::console::first_word;
use super::exit::{Exit, Stop};
use super::feed::{feed, open};
use super::{Outcome, json};
use crate::commands::parse::{Line, line};

/// Room for the settings of a job and for the readings seen at one probe position.
type Passing = Examination<16, 16, 16, 1_048_576>;

/// Why an entry that a stream keeps no longer cannot be voided.
const GONE: &str = "cannot be taken out of a stream, which keeps no readings and nothing observed of them; expected run \
                    without --stream";

/// Answers each reading of a source on standard output; every bad line is told and passed over.
///
/// # Errors
/// [`Stop`]: the source cannot be had, or an answer cannot be written.
pub fn run(source: &Source) -> Result<Exit, Stop> {
    let mut passing = Box::new(Passing::new());
    let mut out = BufWriter::with_capacity(1 << 16, io::stdout().lock());
    let mut row = Vec::with_capacity(512);
    let take = |text: &[u8], answer: &mut String| Ok(pass(&mut passing, text, answer, &mut row));
    let exit = feed(&source.name(), open(source)?, take, &mut out, &mut io::stderr())?;
    out.flush().map_err(|error| Stop::writing(&error).after(exit))?;
    Ok(exit)
}

/// Whether an entry went through and was answered, or passed over: none of them can be taken back.
fn is_gone(passing: &Passing, number: u32) -> bool {
    let kept = passing.entry(number).is_some_and(|(entry, _)| !matches!(entry, Entry::Reading(_)));
    (1..=passing.last()).contains(&number) && !kept
}

fn pass(passing: &mut Passing, text: &[u8], answer: &mut String, row: &mut Vec<u8>) -> Outcome {
    let unit = passing.settings().common().units;
    let recorded = match line(text, unit) {
        Ok(None) => return Outcome::Quiet,
        Ok(Some(Line::Question(_))) => return Outcome::Answered,
        Ok(Some(Line::Fact(Entry::Reading(reading)))) => passing.pass(&reading).map(|_| true),
        // What was seen of an indication changes nothing of what is answered: a reading's place and level.
        Ok(Some(Line::Fact(Entry::Observe(_)))) => passing.pass_over().map(|_| false),
        Ok(Some(Line::Fact(Entry::Void { number, .. }))) if is_gone(passing, number) => {
            // Writing to a string cannot fail.
            let _ = match passing.pass_over() {
                Ok(_) => writeln!(answer, "entry {number} {GONE}"),
                Err(refusal) => writeln!(answer, "not recorded: {refusal}"),
            };
            return Outcome::Refused { column: first_word(text) };
        }
        Ok(Some(Line::Fact(entry))) => passing.record(entry).map(|_| false),
        Err(refusal) => {
            // Writing to a string cannot fail.
            let _ = writeln!(answer, "{}", refusal.kind);
            return Outcome::Refused { column: Some(usize::from(refusal.column)) };
        }
    };
    match recorded {
        Err(refusal) => {
            let _ = writeln!(answer, "not recorded: {refusal}");
            Outcome::Refused { column: first_word(text) }
        }
        Ok(false) => Outcome::Recorded,
        Ok(true) => {
            let facts = passing.facts();
            if let Some(last) = facts.readings().last() {
                row.clear();
                let reading = json::Reading::of(&facts, &evaluate(&facts, last));
                // Serialising plain figures and texts into memory cannot fail.
                let _ = serde_json::to_writer(&mut *row, &reading);
                answer.push_str(core::str::from_utf8(row).unwrap_or_default());
                answer.push('\n');
            }
            Outcome::Recorded
        }
    }
}
