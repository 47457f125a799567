//! `grounds [ID]`: what has to be known before an accept counts, and what is known of it. The lines about grounds of other
//! answers.

use core::fmt;

use halfskip::acceptance::criteria::Verdict;
use halfskip::acceptance::technique::{Grounds, Technique};
use halfskip::findings::{Blocked, GroundBasis, GroundFinding, GroundState, Indication, VerdictFinding};
use halfskip::record::entry::Name;
use halfskip::record::examination::Facts;

use super::Record;
use crate::answers::page::{Page, joined};

/// Answers `grounds [ID]`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, name: Option<&Name>, page: &mut Page<'_>) -> fmt::Result {
    let one = match name {
        None => None,
        Some(name) => {
            let Some(found) = super::indication(record, name, page)? else { return Ok(()) };
            Some(found)
        }
    };
    technique(record.facts.technique(), page)?;
    let mut none = true;
    for indication in
        record.indications().filter(|found| one.is_none_or(|one| one.number() == found.number()))
    {
        none = false;
        page.heading(format_args!("Indication {}", indication.name()))?;
        let mut tally = Tally::default();
        for found in indication.grounds() {
            tally.count(&found);
            page.item(found.ground.name(), format_args!("{}", ground(&record.facts, &found)))?;
        }
        page.item("in all", format_args!("{tally}"))?;
    }
    if none { page.heading(format_args!("No indication is recorded.")) } else { Ok(()) }
}

/// Who asks for the grounds.
fn technique(technique: &Technique, page: &mut Page<'_>) -> fmt::Result {
    page.item("technique", format_args!("{}", technique.title()))?;
    page.item("source", format_args!("{}", technique.source()))?;
    if technique.is_minimum() {
        return Ok(());
    }
    if technique.is_checked() {
        page.item("checked by", format_args!("{}", technique.checked_by()))?;
    } else {
        page.item("checked by", format_args!("nobody: technique sheet not checked against its source"))?;
    }
    let left_out = technique.left_out();
    if left_out.is_empty() {
        return Ok(());
    }
    page.item("leaves out", format_args!("{left_out}, which the built-in minimum asks for"))
}

/// The technique sheet in force and what it leaves out, in one line; nothing without a sheet.
pub(super) fn technique_in_force(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    let technique = facts.technique();
    if technique.is_minimum() {
        return Ok(());
    }
    let left_out = technique.left_out();
    if left_out.is_empty() {
        return page.item("technique", format_args!("{}", technique.title()));
    }
    page.item(
        "technique",
        format_args!("{}; leaves out of the built-in minimum: {left_out}", technique.title()),
    )
}

/// What the grounds add to a verdict: the statements that a good word rests on, or that more than one is not met.
#[inline(never)]
pub(super) fn beside(
    indication: Indication<'_>,
    verdict: Option<&VerdictFinding>,
    page: &mut Page<'_>,
) -> fmt::Result {
    if !verdict.is_some_and(asked) {
        return Ok(());
    }
    let mut tally = Tally::default();
    indication.grounds().for_each(|found| tally.count(&found));
    let adds = match tally.not_met.iter().count() {
        0 => !tally.stated.is_empty(),
        count => count > 1,
    };
    if adds { page.item("grounds", format_args!("{tally}")) } else { Ok(()) }
}

/// Whether the grounds decide whether the word of the sheet is passed on.
pub(super) const fn asked(verdict: &VerdictFinding) -> bool {
    matches!(verdict.verdict, Some(Verdict::Accept | Verdict::Record))
        || matches!(verdict.blocked, Some(Blocked::NotMet { .. }))
}

/// "met: range checked before and after its readings (entries 20, 31)".
pub(super) fn ground<'a>(facts: &'a Facts<'a>, found: &'a GroundFinding) -> impl fmt::Display {
    fmt::from_fn(move |f| write!(f, "{}: {}{}", found.state.word(), found.says(facts), on(&found.entries)))
}

/// " (entries 20, 31)", " (entry 20)", or nothing.
fn on(basis: &GroundBasis) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let word = match basis.iter().count() {
            0 => return Ok(()),
            1 => "entry",
            _ => "entries",
        };
        let more = if basis.has_more() { " and more" } else { "" };
        write!(f, " ({word} {}{more})", joined(", ", basis.iter()))
    })
}

/// How many grounds are met, and which are not.
#[derive(Default)]
struct Tally {
    met: u8,
    stated: Grounds,
    not_met: Grounds,
}

impl Tally {
    fn count(&mut self, found: &GroundFinding) {
        match found.state {
            GroundState::NotAsked => {}
            GroundState::Met => self.met = self.met.saturating_add(1),
            GroundState::Stated => self.stated = self.stated.with(found.ground),
            GroundState::NotMet => self.not_met = self.not_met.with(found.ground),
        }
    }
}

/// "9 met, 1 stated (transfer), 1 not met (angle)".
impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} met", self.met)?;
        for (grounds, word) in [(self.stated, "stated"), (self.not_met, "not met")] {
            if !grounds.is_empty() {
                write!(f, ", {} {word} ({grounds})", grounds.iter().count())?;
            }
        }
        Ok(())
    }
}
