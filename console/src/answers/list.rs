//! `list`: every entry with its number. Each line is whole, so that it can be typed again.

use core::fmt::{self, Write};

use halfskip::record::entry::Entry;

use super::Entries;
use crate::answers::page::{Page, Right};
use crate::language::write;

/// Answers `list`.
#[inline(never)]
pub(super) fn answer(entries: &dyn Entries, page: &mut Page<'_>) -> fmt::Result {
    let mut result = Ok(());
    let (mut count, mut place) = (0u32, 0);
    entries.each(&mut |number, voided, entry| {
        count = count.saturating_add(1);
        if result.is_ok() {
            result = line(page, number, entry);
            if voided && result.is_ok() {
                result = match entries.voided_by(number, &mut place) {
                    Some((by, reason)) => page.remark(format_args!("void by entry {by}: {reason}")),
                    None => page.remark(format_args!("void")),
                };
            }
        }
    });
    result?;
    if count == 0 { page.heading(format_args!("nothing is recorded")) } else { Ok(()) }
}

fn line(page: &mut Page<'_>, number: u32, entry: &Entry) -> fmt::Result {
    write!(page, "{}  ", Right(4, &number))?;
    write::entry(page, entry)?;
    page.write_str("\n")
}
