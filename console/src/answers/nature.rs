//! `nature ID`: flaw or shape, planar or not - the advice in one line, its evidence, and what would settle the rest.

use core::fmt;

use halfskip::character::{From, Nature, Orientation, Threshold, Thresholds};
use halfskip::evaluate::sizing::series::SAMPLES;
use halfskip::findings::STANDING;
use halfskip::units::Decibels;
use halfskip::units::decimal::{Entered, Fixed};

use super::Record;
use crate::answers::page::Page;
use crate::commands::parse::Stages;

/// Answers `nature ID`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, name: &str, given: &Stages, page: &mut Page<'_>) -> fmt::Result {
    let Some(indication) = super::indication(record, name, page)? else { return Ok(()) };
    let found = indication.character_by::<SAMPLES>(&thresholds(given));
    page.heading(format_args!("Indication {name}: {found}"))?;
    evidence(&found, page)?;
    if let Some(orientation) = found.orientation {
        lean(&orientation, page)?;
    }
    stages(&found, page)?;
    let mut label = "to settle it";
    for next in found.next() {
        page.item(label, format_args!("{next}"))?;
        label = "";
    }
    let [_, _, _, advice] = STANDING;
    page.heading(format_args!("{advice} Certified personnel decide, by the governing code."))
}

/// The thresholds given, the others by default.
fn thresholds(given: &Stages) -> Thresholds {
    let Thresholds { evaluation, planar, compared, difference, apart } = Thresholds::DEFAULT;
    let or = |level: Option<Entered<Decibels>>, default| {
        level.map_or(default, |level| Threshold::given(level.quantity()))
    };
    Thresholds {
        evaluation: or(given.evaluation, evaluation),
        planar: or(given.planar, planar),
        compared: or(given.compared, compared),
        difference: or(given.difference, difference),
        apart: given.apart.map_or(apart, |apart| apart.quantity()),
    }
}

/// The evidence: what supports the advice, what speaks against it, and what stands beside.
fn evidence(found: &Nature, page: &mut Page<'_>) -> fmt::Result {
    type Bearing = (&'static str, fn(i32) -> bool);
    let kinds: [Bearing; 3] = [
        ("for", |bearing| bearing > 0),
        ("against", |bearing| bearing < 0),
        ("beside", |bearing| bearing == 0),
    ];
    for (kind, wanted) in kinds {
        let mut label = kind;
        for evidence in found.evidence().filter(|evidence| wanted(found.bearing(evidence))) {
            page.item(label, format_args!("{evidence}"))?;
            label = "";
        }
    }
    if found.evidence().len() == 0 {
        page.item("evidence", format_args!("none: no echo of it has a place and a strength"))?;
    }
    Ok(())
}

/// How a plane leans.
fn lean(orientation: &Orientation, page: &mut Page<'_>) -> fmt::Result {
    let Orientation { lean, u, from } = *orientation;
    let told = u.is_none_or(|u| lean.abs() > u);
    let toward = match (told, lean < 0.0) {
        (false, _) => "",
        (true, true) => ", its upper end toward side A",
        (true, false) => ", its upper end toward side B",
    };
    let off = Fixed(lean.abs(), 0);
    match (from, u) {
        (From::Ends, Some(u)) => page.item(
            "leans",
            format_args!("{off} +/- {} deg off upright{toward}, by its two ends", Fixed(u, 0)),
        ),
        (From::Levels { directions }, _) => page.item(
            "leans",
            format_args!("about {off} deg off upright{toward}, by levels from {directions} directions"),
        ),
        _ => page.item("leans", format_args!("{off} deg off upright{toward}")),
    }
}

/// The classification standard's stages, where they speak of it.
fn stages(found: &Nature, page: &mut Page<'_>) -> fmt::Result {
    if !found.staged {
        return page.item(
            "stages",
            format_args!(
                "those of the classification standard speak of embedded indications; this lies at a face"
            ),
        );
    }
    let mut label = "stages";
    for stage in &found.stages {
        page.item(label, format_args!("{stage}"))?;
        label = "";
    }
    Ok(())
}
