//! `rate ID`: what the sheet in force says of an indication, and of the group that it belongs to.

use core::fmt;

use halfskip::acceptance::criteria::{self, Asked, Criteria, Decision, Depth, Measure};
use halfskip::findings::{GroupVerdict, Indication, VerdictFinding};
use halfskip::units::decimal::{Fixed, fixed};

use super::findings::sheet;
use super::indication::{Because, PastDatum, Word, length, strength};
use super::{Known, judged};
use crate::answers::page::{Page, Plus};

/// Answers `rate ID`.
#[inline(never)]
pub(super) fn answer(known: &Known<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let Some(indication) = super::indication(known, name, page)? else { return Ok(()) };
    let verdict = judged(indication);
    page.heading(format_args!("Indication {name}: {}", Word(verdict.as_ref())))?;
    page.item("because", format_args!("{}", Because(&known.facts, verdict.as_ref())))?;
    sheet(known.sheet, page)?;
    if let (Some(in_force), Some(found)) = (known.sheet, &verdict) {
        measure(in_force, indication, found, page)?;
        let rule = known.length_rule();
        length(&known.facts, "length", rule, &indication.length(rule), page)?;
        if let Some((asked, decision)) = &found.own {
            put(asked, page)?;
            // An open question alone has been told above.
            if decision.row.is_some() || found.group.is_some() {
                row("by itself", in_force, decision, page)?;
            }
        }
        if let Some(group) = &found.group {
            grouped(known, in_force, group, page)?;
        }
    }
    if verdict.is_none_or(|found| found.verdict.is_none()) {
        page.item("", format_args!("Undetermined is not accepted: the sheet has not been answered."))?;
    }
    Ok(())
}

/// The sheet's measure, with all that goes into it.
fn measure(
    sheet: &Criteria,
    indication: Indication<'_>,
    found: &VerdictFinding,
    page: &mut Page<'_>,
) -> fmt::Result {
    match (sheet.head().measure, &found.rating) {
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
                    Plus(rating.d.get(), 1)
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
fn row(label: &str, sheet: &Criteria, decision: &Decision, page: &mut Page<'_>) -> fmt::Result {
    let deciding = decision.row.and_then(|number| sheet.rows().get(number.checked_sub(1)?));
    match (deciding, decision.row) {
        (Some(row), Some(number)) => page.item(label, format_args!("row {number}: {row}")),
        _ => page.item(label, format_args!("undetermined: {}", decision.because)),
    }
}

fn grouped(known: &Known<'_>, sheet: &Criteria, found: &GroupVerdict, page: &mut Page<'_>) -> fmt::Result {
    let (lengths, group) = (page.lengths, &found.group);
    let at_least = if group.open { "at least " } else { "" };
    page.item(
        "in a group",
        format_args!(
            "{}: {at_least}{}, x {} to {}{}",
            Members(known, &group.members),
            lengths.of(group.length()),
            lengths.bare(group.start.get()),
            lengths.of(group.end.get()),
            PastDatum(lengths, known.facts.girth(), group.end.get())
        ),
    )?;
    row("", sheet, &found.decision, page)
}

struct Members<'a>(&'a Known<'a>, &'a [u8]);

impl fmt::Display for Members<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut members = self.1.iter();
        if let Some(first) = members.next() {
            f.write_str(self.0.name(*first))?;
        }
        members.try_for_each(|member| write!(f, " + {}", self.0.name(*member)))
    }
}

/// The verdict and class of a decision.
pub(super) struct Said<'a>(pub Option<criteria::Verdict>, pub &'a criteria::Class);

impl fmt::Display for Said<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.map_or("undetermined", criteria::Verdict::word))?;
        if self.1.is_empty() { Ok(()) } else { write!(f, ", class {}", self.1) }
    }
}
