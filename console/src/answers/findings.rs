//! `findings`: what the examination says now, the strongest first, the cautions last.

use core::fmt;

use halfskip::acceptance::criteria::Sheet;
use halfskip::calibration::level::Bound;
use halfskip::findings::{Doubts, STANDING, Summary, cautions_with, indication, strongest};
use halfskip::record::entry::Entry;
use heapless::Vec;

use super::grounds;
use super::indication::{Because, Word, height, length, place, seen, shape, strength};
use super::{Entries, Known};
use crate::answers::page::Page;

/// Answers `findings`.
#[inline(never)]
pub(super) fn answer<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let facts = &known.facts;
    head(known.entries, page)?;
    sheet(known.sheet, page)?;
    grounds::technique_in_force(facts, page)?;
    let mut extents = known.extents();
    if let Some(sheet) = known.sheet {
        for extent in &mut extents {
            *extent = extent.as_member(facts, sheet);
        }
    }
    let rule = known.length_rule();
    let order = order(known);
    let (mut doubts, mut summary) = (Vec::new(), Summary::<INDICATIONS>::new());
    for place_in_list in &order {
        let name = known.name(*place_in_list);
        let found = indication::<SERIES>(facts, *place_in_list, rule);
        let verdict = known.verdict_at(*place_in_list, &extents, found.point.as_ref());
        summary.add(facts, *place_in_list, verdict.as_ref());
        page.heading(format_args!("Indication {name}: {}", Word(verdict.as_ref())))?;
        page.item("because", format_args!("{}", Because(facts, verdict.as_ref())))?;
        grounds::beside(known, *place_in_list, verdict.as_ref(), page)?;
        strength(facts, &found.strongest, page)?;
        place(found.point.as_ref(), page)?;
        shape(found.geometry, page)?;
        length("length", rule, &found.length, page)?;
        height(found.height.as_ref(), found.point.as_ref(), page)?;
        seen(known.entries, name, |text| page.item("seen", text))?;
        let _ = doubts.push((*place_in_list, Doubts::of(found.point.as_ref(), found.height.as_ref())));
    }
    if order.is_empty() {
        page.heading(format_args!("No indication is recorded."))?;
    }
    if !summary.is_empty() {
        page.heading(format_args!("{}", summary.told(facts)))?;
    }
    tell_cautions(known, &doubts, page)
}

/// The report's head, as far as it is recorded.
fn head(entries: &dyn Entries, page: &mut Page<'_>) -> fmt::Result {
    let mut result = Ok(());
    entries.each_but_readings(&mut |_, voided, entry| {
        if voided || result.is_err() {
            return;
        }
        result = match entry {
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
        };
    });
    result
}

/// The sheet in force, its source, and whether anybody held it against that.
pub(super) fn sheet<const ROWS: usize>(sheet: Option<&Sheet<ROWS>>, page: &mut Page<'_>) -> fmt::Result {
    let Some(sheet) = sheet else { return page.item("sheet", format_args!("none is in force")) };
    let head = sheet.head();
    page.item("sheet", format_args!("{}", head.title))?;
    page.item("source", format_args!("{}", head.source))?;
    if sheet.is_checked() {
        page.item("checked by", format_args!("{}", head.checked_by))
    } else {
        page.item("checked by", format_args!("nobody: sheet not checked against its source"))
    }
}

/// The indications, the strongest first; those that were not seen and those of unknown level last.
fn order<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
) -> Vec<u8, INDICATIONS> {
    let mut sorted: Vec<(u8, f32), INDICATIONS> = Vec::new();
    for indication in known.indications() {
        let key = match strongest(&known.facts, indication) {
            Ok(found) if found.level.bound != Bound::AtMost => found.level.db.get(),
            Ok(found) => found.level.db.get() - 1_000.0,
            Err(_) => -10_000.0,
        };
        // Each weaker one moves one place on.
        let mut carried = (indication, key);
        for held in &mut sorted {
            if carried.1 > held.1 {
                core::mem::swap(held, &mut carried);
            }
        }
        let _ = sorted.push(carried);
    }
    let mut order = Vec::new();
    for (indication, _) in &sorted {
        let _ = order.push(*indication);
    }
    order
}

/// What the reader must be told beside the figures.
fn tell_cautions<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
    doubts: &Vec<(u8, Doubts), INDICATIONS>,
    page: &mut Page<'_>,
) -> fmt::Result {
    page.heading(format_args!("Cautions"))?;
    let of = |indication| {
        let found = doubts.iter().find(|(about, _)| *about == indication);
        found.map_or(Doubts::default(), |(_, doubts)| *doubts)
    };
    let mut result = Ok(());
    cautions_with(&known.facts, known.sheet, of, |caution| {
        if result.is_ok() {
            result = page.marked("- ", format_args!("{}", caution.told(&known.facts)));
        }
    });
    result?;
    STANDING.iter().try_for_each(|standing| page.marked("- ", format_args!("{standing}")))
}
