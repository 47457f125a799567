//! What a line or a fact did, and how that is said: what every console shares.

use core::fmt::{self, Write};

use halfskip::record::entry::Entry;
use halfskip::record::examination::Examination;

use crate::answers::Said;
use crate::language::refusal::Refusal;
use crate::shell::keep::Keep;

/// What a line did.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Outcome {
    /// It was blank or a comment.
    Nothing,
    /// It was a fact, and is now the entry of this number.
    Recorded(u32),
    /// It was a question.
    Answered,
    /// It was neither, or a fact that cannot be taken, and changed nothing.
    Refused {
        /// The character that it is about, counted from 1; none when it is about the fact as a whole.
        column: Option<u16>,
    },
}

/// Puts an entry into the record and has it kept; its number, and what its acknowledgement needs of it.
#[inline(never)]
pub(super) fn put<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
>(
    examination: &mut Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>,
    entry: Entry,
    keep: &mut impl Keep,
    out: &mut dyn Write,
) -> Result<(Said, u32), Outcome> {
    let said = Said::of(&entry);
    let number = match examination.record(entry) {
        Ok(number) => number,
        Err(refusal) => return Err(refused(out, format_args!("{refusal}"))),
    };
    if keep.keep(number, || examination.entry(number).map(|(entry, _)| entry), out) {
        Ok((said, number))
    } else {
        Err(Outcome::Refused { column: None })
    }
}

/// Acknowledges what went into the record last.
#[inline(never)]
pub(super) fn acknowledged<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
>(
    examination: &Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>,
    said: &Said,
    number: u32,
    out: &mut dyn Write,
) -> Outcome {
    let _ = said.acknowledge(&examination.facts(), number, out);
    Outcome::Recorded(number)
}

/// Tells why a line is neither fact nor question.
#[inline(never)]
pub(super) fn misread(refusal: &Refusal<'_>, placed: bool, out: &mut dyn Write) -> Outcome {
    let _ = if placed { writeln!(out, "{refusal}") } else { writeln!(out, "{}", refusal.kind) };
    Outcome::Refused { column: Some(refusal.column) }
}

/// Tells why a fact cannot be taken.
#[inline(never)]
pub(super) fn refused(out: &mut dyn Write, why: fmt::Arguments<'_>) -> Outcome {
    let _ = writeln!(out, "not recorded: {why}");
    Outcome::Refused { column: None }
}
