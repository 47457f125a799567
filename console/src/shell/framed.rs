//! Facts that came in frames, held to what a line can say: what is recorded has to be read again where the job goes.

use core::fmt::Write;

use halfskip::record::entry::frame::{MAX_FRAME, encode};
use halfskip::record::entry::{Entry, LengthUnit};
use heapless::String;

use crate::commands::parse::{Line, line};
use crate::commands::write;

/// Room for the longest line that a fact is written as.
const LONGEST: usize = 1024;

/// Whether the line that a fact is written as reads as that fact; `out` is told why it does not.
#[inline(never)]
pub(crate) fn has_a_line(entry: &Entry, out: &mut dyn Write) -> bool {
    let mut text: String<LONGEST> = String::new();
    let written = write::entry(&mut text, entry).is_ok();
    let _ = match line(text.as_bytes(), LengthUnit::Mm) {
        Ok(Some(Line::Fact(read))) if written && same(&read, entry) => return true,
        Err(refusal) if written => writeln!(out, "not recorded: {}", refusal.kind),
        _ => writeln!(out, "not recorded: no line holds this fact"),
    };
    false
}

/// Whether two facts are the same, told by their frames: field by field it would take a kilobyte of flash more.
#[inline(never)]
pub(crate) fn same(held: &Entry, sent: &Entry) -> bool {
    let (mut one, mut other) = ([0; MAX_FRAME], [0; MAX_FRAME]);
    matches!((encode(held, &mut one), encode(sent, &mut other)), (Ok(one), Ok(other)) if one == other)
}
