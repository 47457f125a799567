//! `rate ID`: what the sheet in force says of an indication, and of the group that it belongs to.

use core::fmt;

use halfskip::acceptance::criteria::{Asked, Decision, Depth, Measure};
use halfskip::findings::{GroupVerdict, Indication, VerdictFinding};
use halfskip::units::decimal::{Fixed, fixed};

use super::Record;
use super::findings::sheet;
use super::indication::{because, length, past_datum, strength, word};
use crate::answers::page::{Page, joined, plus};

/// Answers `rate ID`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let Some(indication) = super::indication(record, name, page)? else { return Ok(()) };
    let verdict = record.judged(indication);
    page.heading(format_args!("Indication {name}: {}", word(verdict.as_ref())))?;
    page.item("because", format_args!("{}", because(&record.facts, verdict.as_ref())))?;
    sheet(record, page)?;
    if let (Some(sheet), Some(found)) = (record.sheet, &verdict) {
        measure(sheet.head().measure, indication, found, page)?;
        let rule = record.length_rule();
        length(&record.facts, "length", rule, &indication.length(rule), page)?;
        if let Some((asked, decision)) = &found.own {
            put(asked, page)?;
            // An open question alone has been told above.
            if decision.row.is_some() || found.group.is_some() {
                row("by itself", record, decision, page)?;
            }
        }
        if let Some(group) = &found.group {
            grouped(record, group, page)?;
        }
    }
    if verdict.is_none_or(|found| found.verdict.is_none()) {
        page.item("", format_args!("Undetermined is not accepted: the sheet has not been answered."))?;
    }
    Ok(())
}

/// The sheet's measure, with all that goes into it.
fn measure(
    measure: Measure,
    indication: Indication<'_>,
    found: &VerdictFinding,
    page: &mut Page<'_>,
) -> fmt::Result {
    match (measure, &found.rating) {
        (Measure::Level, _) => {
            page.item("measure", format_args!("level over the reference"))?;
            strength(indication.facts(), &indication.level(), page)
        }
        (Measure::Weighted(_), Some((number, rating))) => {
            page.item("measure", format_args!("weighted rating d = a - b - c, lower is stronger"))?;
            page.item(
                "rating",
                format_args!(
                    "{} - {} - {} = {} dB, entry {number}",
                    Fixed(rating.a.get(), 1),
                    Fixed(rating.b.get(), 1),
                    Fixed(rating.c.get(), 1),
                    plus(rating.d.get(), 1)
                ),
            )
        }
        (Measure::Weighted(_), None) => {
            page.item("measure", format_args!("weighted rating d = a - b - c, not known"))
        }
    }
}

/// What else the sheet was asked with.
fn put(asked: &Asked, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    page.item(
        "asked with",
        format_args!("thickness {}, nominal angle {} deg", lengths.typed(asked.thickness.get()), {
            fixed(asked.angle.get())
        }),
    )?;
    match asked.depth {
        Depth::Within { from, to } => {
            page.item("", format_args!("depth {} to {}", lengths.bare(from.get()), lengths.of(to.get())))?
        }
        Depth::Unknown(why) => page.item("", format_args!("depth not known: {why}"))?,
    }
    page.item(
        "",
        format_args!(
            "shape {}",
            match asked.planar {
                Some(true) => "planar",
                Some(false) => "not planar",
                None => "not settled",
            }
        ),
    )
}

/// A decision and the row that it rests on.
fn row(label: &str, record: &Record<'_>, decision: &Decision, page: &mut Page<'_>) -> fmt::Result {
    let deciding = decision.row.and_then(|number| record.row(number));
    match (deciding, decision.row) {
        (Some(row), Some(number)) => page.item(label, format_args!("row {number}: {row}")),
        _ => page.item(label, format_args!("undetermined: {}", decision.because)),
    }
}

fn grouped(record: &Record<'_>, found: &GroupVerdict, page: &mut Page<'_>) -> fmt::Result {
    let (lengths, group) = (page.lengths, &found.group);
    let at_least = if group.open { "at least " } else { "" };
    page.item(
        "in a group",
        format_args!(
            "{}: {at_least}{}, x {} to {}{}",
            members(record, &group.members),
            lengths.of(group.length()),
            lengths.bare(group.start.get()),
            lengths.of(group.end.get()),
            past_datum(lengths, record.facts.girth(), group.end.get())
        ),
    )?;
    row("", record, &found.decision, page)
}

fn members<'a>(record: &'a Record<'a>, members: &'a [u8]) -> impl fmt::Display {
    joined(" + ", members.iter().map(|member| record.name(*member)))
}
