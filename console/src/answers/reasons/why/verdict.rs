//! From the findings to the sheet's word.

use core::fmt;

use halfskip::acceptance::criteria::{self, Decision, Measure};
use halfskip::acceptance::rating::{PathUnit, Rounding, Weighted};
use halfskip::acceptance::technique::Technique;
use halfskip::findings::{Blocked, GroundState, Indication, VerdictFinding, evaluate};
use halfskip::units::decimal::{Fixed, fixed};

use super::steps::{Source, Steps};
use crate::answers::Record;
use crate::answers::findings::sheet;
use crate::answers::grounds::{asked, ground};
use crate::answers::indication::{because, word};
use crate::answers::page::plus;

/// Steps to the verdict.
#[inline(never)]
pub(super) fn answer(
    record: &Record<'_>,
    indication: Indication<'_>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    steps.page.heading(format_args!("Verdict"))?;
    sheet(record, steps.page)?;
    let found = record.judged(indication);
    if let (Some(sheet), Some(found)) = (record.sheet, &found) {
        if let Measure::Weighted(rule) = &sheet.head().measure {
            rating(record, rule, found, steps)?;
        }
        if let Some((asked, decision)) = &found.own {
            facts(asked, steps)?;
            decided(record, decision, steps)?;
        }
        if let Some(group) = &found.group {
            let length = steps.page.lengths.of(group.group.length());
            let members = group.group.members.len();
            steps.given("group", format_args!("{members} indications count as one, {length} long:"))?;
            decided(record, &group.decision, steps)?;
        }
    }
    if let Some(found) = found.as_ref().filter(|found| asked(found)) {
        passed_on(record, indication, found, steps)?;
    }
    steps.given("so", format_args!("{}: {}", word(found.as_ref()), because(&record.facts, found.as_ref())))
}

/// The grounds that a good word of the sheet needs: those of the indication, or of the neighbour that lacks one.
#[inline(never)]
fn passed_on(
    record: &Record<'_>,
    indication: Indication<'_>,
    found: &VerdictFinding,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let technique = record.facts.technique();
    let source = if technique.is_minimum() { Source::Practice } else { Source::Technique };
    steps.step(
        "needs",
        format_args!("the grounds that an accept or a record rests on, as the {} asks", asking(technique)),
        source,
    )?;
    let indication = match found.blocked {
        Some(Blocked::NotMet { indication: neighbour, neighbour: true, .. }) => {
            let name = record.name(neighbour);
            steps.given("of", format_args!("indication {name}, which may count as one with it:"))?;
            record.findings.indication(neighbour)
        }
        _ => indication,
    };
    for found in indication.grounds().filter(|found| found.state != GroundState::NotAsked) {
        steps.given("ground", format_args!("{}, {}", found.ground, ground(&record.facts, &found)))?;
    }
    Ok(())
}

/// "built-in minimum", or the sheet with its title.
fn asking(technique: &Technique) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        if !technique.is_minimum() {
            f.write_str("technique sheet ")?;
        }
        f.write_str(technique.title())
    })
}

/// a, b, c and d.
fn rating(
    record: &Record<'_>,
    rule: &Weighted,
    found: &VerdictFinding,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let Some((number, rating)) = &found.rating else {
        return steps.given("d", format_args!("not known"));
    };
    let reading = record.facts.readings().find(|reading| reading.number() == *number);
    let Some(reading) = reading.map(|reading| evaluate(&record.facts, reading)) else { return Ok(()) };
    let (a, b, c) = (rating.a.get(), rating.b.get(), rating.c.get());
    if let Ok(found) = reading.level {
        steps.step(
            "a",
            format_args!(
                "b - L = {} - ({}) = {}, the gain that brings entry {number} to the reference height",
                Fixed(b, 2),
                plus(found.level.db.get(), 2),
                Fixed(a, 2)
            ),
            Source::Rating,
        )?;
    }
    let attenuation = rule.attenuation;
    let (path, unit) = match (reading.path, attenuation.unit()) {
        (Ok(path), PathUnit::Inch) => (path.get() / 25.4, "in"),
        (Ok(path), PathUnit::Millimetre) => (path.get(), "mm"),
        (Err(_), _) => return Ok(()),
    };
    steps.step(
        "c",
        format_args!(
            "k (s - s0) = {} dB/{unit} ({} - {}) {unit} = {}{}",
            fixed(attenuation.per()),
            Fixed(path, 3),
            fixed(attenuation.beyond()),
            Fixed(c, 2),
            rounded(rule.round)
        ),
        Source::Rating,
    )?;
    steps.step(
        "d",
        format_args!(
            "a - b - c = {} - {} - {} = {} dB{}",
            Fixed(a, 2),
            Fixed(b, 2),
            Fixed(c, 2),
            plus(rating.d.get(), 2),
            rounded(rule.round_d)
        ),
        Source::Rating,
    )
}

const fn rounded(rounding: Rounding) -> &'static str {
    match rounding {
        Rounding::None => "",
        Rounding::HalfUp => ", rounded half up",
        Rounding::Floor => ", rounded down",
    }
}

/// What the sheet was asked with.
fn facts(asked: &criteria::Asked, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let thickness = steps.page.lengths.typed(asked.thickness.get());
    let planar = match asked.planar {
        Some(true) => "planar",
        Some(false) => "not planar",
        None => "not settled",
    };
    steps.given(
        "asked",
        format_args!(
            "thickness {thickness}, nominal angle {} deg, measure: {}, length: {}, depth: {}, shape: {planar}",
            fixed(asked.angle.get()),
            asked.measure,
            asked.length,
            deep(asked.depth)
        ),
    )
}

fn deep(depth: criteria::Depth) -> impl fmt::Display {
    fmt::from_fn(move |f| match depth {
        criteria::Depth::Within { from, to } => {
            write!(f, "{} to {} mm", Fixed(from.get(), 1), Fixed(to.get(), 1))
        }
        criteria::Depth::Unknown(why) => write!(f, "{why}"),
    })
}

/// The row that decides, or the one that cannot be answered.
fn decided(record: &Record<'_>, decision: &Decision, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let row = decision.row.and_then(|number| Some((number, record.row(number)?)));
    match row {
        Some((number, row)) => steps.step(
            "row",
            format_args!(
                "{number}: {row}. It surely holds, and no earlier row that might hold says otherwise."
            ),
            Source::Sheet,
        ),
        None => steps.step("row", format_args!("none decides: {}", decision.because), Source::Sheet),
    }
}
