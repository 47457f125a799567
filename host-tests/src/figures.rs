//! Every figure of every finding, written so that two differ when one bit of them does.
//!
//! The debug text of an `f32` is the shortest decimal that only this number rounds to, and tells -0 from 0. The firmware
//! compiles this same file, and its text is compared with the host's.

use core::fmt::{Result, Write};

use halfskip::acceptance::criteria::{self, Sheet};
use halfskip::character::nature;
use halfskip::findings::{self, Extent, LengthRule, ReadingFinding};
use halfskip::record::examination::Facts;

/// Samples of one sweep, as the device's console has them.
const SERIES: usize = 128;
/// Two scans for each of four probes.
const SCANS: usize = 8;

/// Writes all that an examination says now, in figures.
///
/// # Errors
/// That `out` cannot be written.
pub fn write<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: Option<&Sheet<ROWS>>,
    out: &mut dyn Write,
) -> Result {
    for reading in facts.readings() {
        self::reading(facts, &findings::evaluate(facts, reading), out)?;
    }
    let mut extents: heapless::Vec<Extent, 32> = heapless::Vec::new();
    for (indication, name) in (0..).zip(facts.indications()) {
        writeln!(out, "indication {name}")?;
        self::indication(facts, indication, out)?;
        let rule = LengthRule::of_sheet(sheet);
        writeln!(out, "{rule:?} {:?}", findings::extent::<SERIES>(facts, indication, rule))?;
        // As many as an examination has indications.
        let _ = extents.push(Extent::measured::<SERIES>(facts, indication, rule));
    }
    if let Some(sheet) = sheet {
        for (indication, _) in (0..).zip(facts.indications()) {
            let planar = nature(facts, indication).planar();
            let verdict = findings::verdict(facts, sheet, indication, &extents, planar);
            writeln!(out, "{verdict:?}")?;
            if let Some((asked, _)) = &verdict.own {
                writeln!(out, "{:?}", criteria::margin(sheet, asked))?;
            }
        }
    }
    writeln!(out, "{:?}", findings::coverage::<SCANS>(facts, None, 2, |_| {}))?;
    writeln!(out, "{:?}", findings::scanned::<SCANS>(facts, 2))?;
    findings::scans(facts, 2).try_for_each(|scan| writeln!(out, "{scan:?}"))
}

fn reading(facts: &Facts<'_>, finding: &ReadingFinding<'_>, out: &mut dyn Write) -> Result {
    let ReadingFinding { reading, path, place, level, budget } = finding;
    writeln!(out, "reading {}", reading.number())?;
    writeln!(out, "{path:?} {place:?} {level:?} {budget:?} {:?}", finding.uncertainty())?;
    writeln!(out, "{:?}", findings::geometry_of_reading(facts, finding))
}

fn indication(facts: &Facts<'_>, indication: u8, out: &mut dyn Write) -> Result {
    let point = findings::point(facts, indication);
    writeln!(out, "{point:?}")?;
    if let Ok(strongest) = findings::strongest(facts, indication) {
        writeln!(out, "{} {:?}", strongest.finding.reading.number(), strongest.level)?;
    }
    for observation in findings::height_observations(facts, indication, point.as_ref()) {
        writeln!(out, "{:?} {:?}", observation.method, observation.height)?;
    }
    writeln!(out, "{:?}", findings::height(facts, indication))?;
    writeln!(out, "{:?}", findings::geometry(facts, indication))?;
    writeln!(out, "{:?}", nature(facts, indication))
}
