//! `margin ID`: how far the sheet's word is from another one, and what would settle an undetermined one.

mod remedy;

use core::fmt;

use halfskip::acceptance::criteria::{
    Asked, Change, LengthAlong, Margin, Measured, margin, margin_of_rating,
};
use halfskip::calibration::level::{Bound, level_uncertainty};
use halfskip::findings::evaluate;
use halfskip::record::entry::EnteredHeight;
use halfskip::record::examination::Facts;
use halfskip::units::Decibels;
use halfskip::units::decimal::Fixed;

use crate::answers::Record;
use crate::answers::indication::{because, said, word};
use crate::answers::page::Page;

/// Answers `margin ID`.
#[inline(never)]
pub(in crate::answers) fn answer(record: &Record<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let Some(indication) = crate::answers::indication(record, name, page)? else { return Ok(()) };
    let verdict = record.judged(indication);
    page.heading(format_args!("Indication {name}: {}", word(verdict.as_ref())))?;
    page.item("because", format_args!("{}", because(&record.facts, verdict.as_ref())))?;
    let (Some(sheet), Some(found)) = (record.sheet, &verdict) else {
        return page.item("to settle it", format_args!("a criteria sheet"));
    };
    if let Some((asked, _)) = &found.own {
        let (read, margin) = match &found.rating {
            Some((number, rating)) => (Some(*number), margin_of_rating(sheet, asked, rating)),
            None => {
                let strongest = indication.level().ok();
                (strongest.map(|found| found.finding.reading.number()), margin(sheet, asked))
            }
        };
        limits(&record.facts, &margin, read, asked, page)?;
    }
    if found.group.is_some() {
        page.item("", format_args!("These are of the indication by itself; its group is longer."))?;
    }
    if found.verdict.is_none() { remedy::answer(record, sheet, indication, found, page) } else { Ok(()) }
}

/// The nearest limits, and whether the uncertainty of the reading that was held against them reaches one.
fn limits(
    facts: &Facts<'_>,
    margin: &Margin,
    read: Option<u32>,
    asked: &Asked,
    page: &mut Page<'_>,
) -> fmt::Result {
    let lengths = page.lengths;
    match (&margin.measure, asked.measure) {
        (Some(change), _) => {
            let by = Fixed(change.by.get().abs(), 1);
            // On the limit itself the sheet alone tells on which side another verdict lies.
            let way = if change.by.get() < 0.0 {
                " down"
            } else if change.by.get() > 0.0 {
                " up"
            } else {
                ""
            };
            page.item("nearest limit", format_args!("{by} dB{way}: {}", beyond(change)))?;
        }
        (None, Measured::Exact(_)) => {
            page.item("nearest limit", format_args!("no level changes the verdict"))?
        }
        (None, known) => page.item("nearest limit", format_args!("in dB not known: {known}"))?,
    }
    uncertain(facts, read, margin.measure.as_ref(), page)?;
    match &margin.length {
        Some(change) => {
            let by = lengths.of(change.by.get().abs());
            let way = if change.by.get() < 0.0 { "shorter" } else { "longer" };
            page.item("nearest length", format_args!("{by} {way}: {}", beyond(change)))
        }
        None => match asked.length {
            LengthAlong::Known { open: false, .. } => {
                page.item("nearest length", format_args!("no length changes the verdict"))
            }
            known => page.item("nearest length", format_args!("not known: {known}")),
        },
    }
}

/// What lies beyond a limit.
fn beyond<Q>(change: &Change<Q>) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        write!(f, "{}", said(change.verdict, &change.class))?;
        match change.row {
            Some(row) => write!(f, " (row {row})"),
            None => Ok(()),
        }
    })
}

/// The level's own uncertainty against the distance to the nearest limit.
fn uncertain(
    facts: &Facts<'_>,
    read: Option<u32>,
    nearest: Option<&Change<Decibels>>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let reading = facts.readings().find(|reading| Some(reading.number()) == read);
    let Some(found) = reading.map(|reading| evaluate(facts, reading)) else { return Ok(()) };
    let exact = found.level.is_ok_and(|found| found.level.bound == Bound::Exact);
    let (EnteredHeight::Shown(height), true) = (found.reading.height(), exact) else { return Ok(()) };
    let label = "uncertainty";
    match level_uncertainty(height.quantity(), found.budget.height) {
        Err(error) => page.item(label, format_args!("not known: {error}")),
        Ok(expanded) => {
            let reaches = nearest.map(|change| change.by.get().abs() <= expanded.get());
            let told = match reaches {
                Some(true) => ": it REACHES that limit",
                Some(false) => ": it does not reach that limit",
                None => "",
            };
            let expanded = Fixed(expanded.get(), 1);
            page.item(label, format_args!("+/- {expanded} dB (k = 2) from the reading of the height{told}"))
        }
    }
}
