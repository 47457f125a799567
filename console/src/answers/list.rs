//! `list`: every entry with its number. Each line is whole, so that it can be typed again.

use core::fmt::{self, Write};

use halfskip::record::entry::Entry;
use halfskip::record::examination::Facts;

use crate::answers::page::{Page, Right};
use crate::commands::write;

/// Answers `list`.
#[inline(never)]
pub(super) fn answer(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    let mut place = 0;
    for (number, voided, entry) in facts.entries() {
        line(page, number, &entry)?;
        if voided {
            match facts.voided_by(number, &mut place) {
                Some((by, reason)) => page.remark(format_args!("void by entry {by}: {reason}"))?,
                None => page.remark(format_args!("void"))?,
            }
        }
    }
    if facts.last() == 0 { page.heading(format_args!("nothing is recorded")) } else { Ok(()) }
}

fn line(page: &mut Page<'_>, number: u32, entry: &Entry) -> fmt::Result {
    write!(page, "{}  ", Right(4, &number))?;
    write::entry(page, entry)?;
    page.write_str("\n")
}
