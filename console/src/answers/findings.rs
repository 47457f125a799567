//! `findings`: what the examination says now, the strongest first, the cautions last.

use core::fmt;

use halfskip::calibration::level::Bound;
use halfskip::findings::{Indication, STANDING, Summary, cautions};
use halfskip::record::entry::Entry;
use halfskip::record::examination::Facts;

use super::Record;
use super::grounds;
use super::indication::{because, height, length, place, seen, shape, strength, word};
use crate::answers::page::{Page, tell_each};

/// Answers `findings`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, page: &mut Page<'_>) -> fmt::Result {
    let facts = &record.facts;
    head(facts, page)?;
    sheet(record, page)?;
    grounds::technique_in_force(facts, page)?;
    let rule = record.length_rule();
    let mut summary = Summary::new();
    let mut last = None;
    while let Some((rank, indication)) = next(record, last) {
        last = Some(rank);
        let name = indication.name();
        let found = indication.place();
        let verdict = indication.verdict(found.as_ref());
        summary.add(facts, indication.number(), verdict.as_ref());
        page.heading(format_args!("Indication {name}: {}", word(verdict.as_ref())))?;
        page.item("because", format_args!("{}", because(facts, verdict.as_ref())))?;
        grounds::beside(indication, verdict.as_ref(), page)?;
        strength(facts, &indication.level(), page)?;
        place(facts, found.as_ref(), page)?;
        shape(indication.geometry(), page)?;
        length(facts, "length", rule, &indication.length(rule), page)?;
        height(indication.height(found.as_ref()).as_ref(), found.as_ref(), page)?;
        seen(facts, name, |text| page.item("seen", text))?;
    }
    if last.is_none() {
        page.heading(format_args!("No indication is recorded."))?;
    }
    if !summary.is_empty() {
        page.heading(format_args!("{}", summary.told(facts)))?;
    }
    tell_cautions(record, page)
}

/// The report's head, as far as it is recorded.
fn head(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    for (_, _, entry) in facts.entries_but_readings().filter(|(_, voided, _)| !voided) {
        match &entry {
            Entry::Title(text) => page.heading(format_args!("{text}")),
            Entry::Examiner { name, certificate: Some(certificate) } => {
                page.item("examiner", format_args!("{name}, certificate {certificate}"))
            }
            Entry::Examiner { name, certificate: None } => page.item("examiner", format_args!("{name}")),
            Entry::Procedure(text) => page.item("procedure", format_args!("{text}")),
            Entry::Equipment { name, serial: Some(serial) } => {
                page.item("equipment", format_args!("{name}, serial {serial}"))
            }
            Entry::Equipment { name, serial: None } => page.item("equipment", format_args!("{name}")),
            Entry::Date { date, time } => {
                let (year, month, day) = date.parts();
                match time {
                    Some(time) => page.item("date", format_args!("{year}-{month:02}-{day:02}, {time}")),
                    None => page.item("date", format_args!("{year}-{month:02}-{day:02}")),
                }
            }
            Entry::Note(text) => page.item("note", format_args!("{text}")),
            _ => Ok(()),
        }?;
    }
    Ok(())
}

/// The sheet in force, its source, and whether anybody held it against that.
pub(super) fn sheet(record: &Record<'_>, page: &mut Page<'_>) -> fmt::Result {
    let Some(sheet) = record.sheet else { return page.item("sheet", format_args!("none is in force")) };
    let head = sheet.head();
    page.item("sheet", format_args!("{}", head.title))?;
    page.item("source", format_args!("{}", head.source))?;
    if sheet.is_checked() {
        page.item("checked by", format_args!("{}", head.checked_by))
    } else {
        page.item("checked by", format_args!("nobody: sheet not checked against its source"))
    }
}

/// Level and place in the list of an indication: those that were not seen and those of unrecord level come last.
type Rank = (f32, u8);

/// The strongest indication behind one of that rank; of two alike the earlier one.
fn next<'a>(record: &Record<'a>, last: Option<Rank>) -> Option<(Rank, Indication<'a>)> {
    let before = |one: Rank, other: Rank| one.0 > other.0 || (one.0 == other.0 && one.1 < other.1);
    let mut first: Option<(Rank, Indication<'a>)> = None;
    for indication in record.indications() {
        let level = match indication.strength() {
            Some(level) if level.bound != Bound::AtMost => level.db.get(),
            Some(level) => level.db.get() - 1_000.0,
            None => -10_000.0,
        };
        let rank = (level, indication.number());
        let behind = last.is_none_or(|last| before(last, rank));
        if behind && first.is_none_or(|(held, _)| before(rank, held)) {
            first = Some((rank, indication));
        }
    }
    first
}

/// What the reader must be told beside the figures.
fn tell_cautions(record: &Record<'_>, page: &mut Page<'_>) -> fmt::Result {
    page.heading(format_args!("Cautions"))?;
    tell_each(
        |tell| cautions(record.findings, tell),
        |caution| page.marked("- ", format_args!("{}", caution.told(&record.facts))),
    )?;
    STANDING.iter().try_for_each(|standing| page.marked("- ", format_args!("{standing}")))
}
