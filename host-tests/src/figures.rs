//! Every figure of every finding, written so that two differ when one bit of them does.
//!
//! The debug text of an `f32` is the shortest decimal that only this number rounds to, and tells -0 from 0. The firmware
//! compiles this same file, and its text is compared with the host's.

use core::fmt::{Result, Write};

use halfskip::acceptance::criteria;
use halfskip::findings::{self, Findings, Indication, ReadingFinding};
use halfskip::record::examination::Facts;

/// Two scans for each of four probes.
const SCANS: usize = 8;

/// Writes all that an examination says now, in figures.
///
/// # Errors
/// That `out` cannot be written.
pub fn write(found: &Findings<'_>, out: &mut dyn Write) -> Result {
    let facts = found.facts();
    for reading in facts.readings() {
        self::reading(facts, &findings::evaluate(facts, reading), out)?;
    }
    let rule = found.length_rule();
    let all = || (0..).zip(facts.indications()).map(|(place, _)| found.indication(place));
    for indication in all() {
        writeln!(out, "indication {}", indication.name())?;
        self::indication(indication, out)?;
        writeln!(out, "{rule:?} {:?}", indication.length(rule))?;
    }
    for indication in all() {
        let Some(verdict) = indication.verdict(indication.place().as_ref()) else { continue };
        writeln!(out, "{verdict:?}")?;
        if let (Some((asked, _)), Some(sheet)) = (&verdict.own, found.sheet()) {
            writeln!(out, "{:?}", criteria::margin(sheet, asked))?;
        }
    }
    writeln!(out, "{:?}", findings::coverage::<SCANS>(facts, None, 2, |_| {}))?;
    writeln!(out, "{:?}", findings::scanned::<SCANS>(facts, 2))?;
    findings::scans(facts, findings::NEAR, 2).try_for_each(|scan| writeln!(out, "{scan:?}"))
}

fn reading(facts: &Facts<'_>, finding: &ReadingFinding<'_>, out: &mut dyn Write) -> Result {
    let ReadingFinding { reading, path, place, level, budget } = finding;
    writeln!(out, "reading {}", reading.number())?;
    writeln!(out, "{path:?} {place:?} {level:?} {budget:?} {:?}", finding.uncertainty())?;
    writeln!(out, "{:?}", findings::geometry_of_reading(facts, finding))
}

fn indication(indication: Indication<'_>, out: &mut dyn Write) -> Result {
    let place = indication.place();
    writeln!(out, "{place:?}")?;
    if let Ok(strongest) = indication.level() {
        writeln!(out, "{} {:?}", strongest.finding.reading.number(), strongest.level)?;
    }
    for observation in indication.heights(place.as_ref()) {
        writeln!(out, "{:?} {:?}", observation.method, observation.height)?;
    }
    writeln!(out, "{:?}", indication.height(place.as_ref()))?;
    writeln!(out, "{:?}", indication.geometry())?;
    writeln!(out, "{:?}", indication.character())
}
