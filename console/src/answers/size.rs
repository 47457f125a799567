//! `size ID`: length along the weld by every rule, height by every tip.

use core::fmt::{self, Write};

use halfskip::acceptance::criteria::LengthBy;
use halfskip::findings::{HeightMethod, HeightObservation, Indication, LengthRule, evaluate, height_of};
use halfskip::record::entry::PointPeaked;
use halfskip::record::examination::Facts;
use halfskip::units::Decibels;

use super::Record;
use super::indication::{height as height_line, length};
use super::locate::side;
use crate::answers::page::{Left, Page, Right};

const SIX: Decibels = Decibels::constant(6.0);
/// How far below the strongest echo a last peak still counts. Common practice, no source.
const FLOOR: f32 = -20.0;

/// Answers `size ID`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let Some(indication) = super::indication(record, name, page)? else { return Ok(()) };
    page.heading(format_args!("Indication {name}, length along the weld"))?;
    lengths(record, indication, page)?;
    page.heading(format_args!("Indication {name}, height through the wall"))?;
    heights(indication, page)
}

#[inline(never)]
fn lengths(record: &Record<'_>, indication: Indication<'_>, page: &mut Page<'_>) -> fmt::Result {
    let by = |rule| indication.length(rule);
    length(&record.facts, "half amplitude", LengthRule::DROP_6, &by(LengthRule::DROP_6), page)?;
    let sheet = record.sheet.map(|sheet| sheet.head().length_by);
    let floor = match (sheet, indication.level()) {
        (Some(LengthBy::Level(level)), _) => Some(level),
        (_, Ok(found)) => Decibels::new(found.level.db.get() + FLOOR).ok(),
        _ => None,
    };
    if let Some(floor) = floor {
        let rule = LengthRule::EndPeaks { drop: SIX, floor };
        length(&record.facts, "last peaks", rule, &by(rule), page)?;
    }
    let rule = record.length_rule();
    match sheet {
        Some(_) if rule == LengthRule::DROP_6 => Ok(()),
        Some(_) => length(&record.facts, "by the sheet", rule, &by(rule), page),
        None => Ok(()),
    }
}

#[inline(never)]
fn heights(indication: Indication<'_>, page: &mut Page<'_>) -> fmt::Result {
    let facts = indication.facts();
    let point = indication.place();
    let observations = indication.heights(point.as_ref());
    let longest = facts.probes().iter().map(|state| state.name().chars().count()).max().unwrap_or(0);
    let probe = longest.max(5);
    if !observations.is_empty() {
        let unit = page.lengths.unit();
        writeln!(
            page,
            "  {} side {} {}  +/-  entries",
            Left(probe, &"probe"),
            Left(16, &"method"),
            Right(9, &format_args!("height {unit}"))
        )?;
    }
    for observation in &observations {
        row(facts, observation, probe, page)?;
    }
    useless_tips(indication, &observations, page)?;
    height_line(height_of(facts, &observations).as_ref(), point.as_ref(), page)
}

fn row(
    facts: &Facts<'_>,
    observation: &HeightObservation<'_>,
    probe: usize,
    page: &mut Page<'_>,
) -> fmt::Result {
    let (lengths, tip) = (page.lengths, observation.tip);
    let name = facts.probe(tip.probe()).map_or("", |state| state.name().as_str());
    let method = match observation.method {
        HeightMethod::SeenTogether => "seen together",
        HeightMethod::PeakedApart => "peaked apart",
        HeightMethod::BetweenTips => "between tips",
    };
    write!(
        page,
        "  {} {} {} {} {}  {}",
        Left(probe, &name),
        Left(4, &side(tip.side(), tip.face())),
        Left(16, &method),
        Right(9, &lengths.bare(observation.height.height)),
        Right(4, &lengths.bare(observation.uncertainty())),
        tip.number()
    )?;
    match &observation.lower {
        Some(lower) => writeln!(page, ", {}", lower.number()),
        None => writeln!(page),
    }
}

/// Tips that give no height, and why not.
fn useless_tips(
    indication: Indication<'_>,
    used: &[HeightObservation<'_>],
    page: &mut Page<'_>,
) -> fmt::Result {
    let is_used = |number: u32| {
        used.iter().any(|observation| {
            let lower = observation.lower.as_ref().map(|lower| lower.number());
            observation.tip.number() == number || lower == Some(number)
        })
    };
    let tips = indication
        .readings()
        .filter(|reading| matches!(reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip));
    for tip in tips.filter(|tip| !is_used(tip.number())) {
        let number = tip.number();
        match evaluate(indication.facts(), tip).place {
            Err(reason) => page.remark(format_args!("the tip of entry {number} has no place: {reason}"))?,
            Ok(_) => page.remark(format_args!(
                "the tip of entry {number} gives no height: neither a corner nor the other tip goes with it"
            ))?,
        }
    }
    Ok(())
}
