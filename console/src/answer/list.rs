//! `list`: every entry with its number. Each line is whole, so that it can be typed again.

use core::fmt::{self, Write};

use halfskip::entry::{Entry, Text};

use super::Entries;
use crate::page::{Page, Right};
use crate::write;

/// Answers `list`.
#[inline(never)]
pub(super) fn answer(entries: &dyn Entries, page: &mut Page<'_>) -> fmt::Result {
    let mut result = Ok(());
    let mut count = 0u32;
    entries.each(&mut |number, voided, entry| {
        count = count.saturating_add(1);
        if result.is_ok() {
            result = line(entries, page, number, voided, entry);
        }
    });
    result?;
    if count == 0 { page.heading(format_args!("nothing is recorded")) } else { Ok(()) }
}

fn line(entries: &dyn Entries, page: &mut Page<'_>, number: u32, voided: bool, entry: &Entry) -> fmt::Result {
    write!(page, "{}  ", Right(4, &number))?;
    write::entry(page, entry)?;
    page.write_str("\n")?;
    if !voided {
        return Ok(());
    }
    match voided_by(entries, number) {
        Some((by, reason)) => page.remark(format_args!("void by entry {by}: {reason}")),
        None => page.remark(format_args!("void")),
    }
}

/// The entry that took another out, and its reason.
fn voided_by(entries: &dyn Entries, number: u32) -> Option<(u32, Text)> {
    let mut found = None;
    entries.each_but_readings(&mut |by, _, entry| {
        if let Entry::Void { number: taken_out, reason } = entry
            && *taken_out == number
        {
            found = Some((by, reason.clone()));
        }
    });
    found
}
