//! What was not covered, what the reader must be told, and where to sign.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::planning::coverage::Hole;
use halfskip::record::entry::{Entry, ReportField};
use halfskip::units::decimal::Fixed;

use super::basis::Basis;
use super::document::{Block, Section, Table};

/// The section of what was not covered.
pub fn not_covered(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("not-covered", "What was not covered");
    let said: Vec<String> = basis
        .in_force()
        .filter_map(|(number, entry)| match entry {
            Entry::Detail { field: ReportField::NotCovered, text } => {
                Some(format!("{text} (entry {number})"))
            }
            _ => None,
        })
        .collect();
    if said.is_empty() {
        section.paragraph("The examiner recorded nothing that could not be covered, and no reason.");
    } else {
        section.blocks.push(Block::Items(said));
    }
    match basis.findings.coverage.all.as_ref().filter(|crossed| crossed.shares.is_ok()) {
        Some(crossed) => {
            let holes: Vec<Hole> = crossed.holes.iter().copied().collect();
            if holes.is_empty() {
                section.paragraph(
                    "By calculation a beam's axis can be put through all of weld and heat-affected zone.",
                );
            }
            section.table(holes_of(basis, &holes));
            if crossed.holes.unlisted() > 0.0 {
                section.paragraph("There are more such places than the table lists.");
            }
        }
        None => section.paragraph("What the probes can cross is not known, and so is what they cannot."),
    }
    let scanned = basis.findings.coverage.scanned.as_ref().and_then(|found| found.coverage.fraction());
    section.paragraph(match scanned {
        Some(part) => format!(
            "By what was recorded, the movements of the probes crossed {} % of it between their first and last place along \
             the weld.",
            Fixed(100.0 * part, 1)
        ),
        None => "No reading belongs to a recorded movement: what was crossed is not known from this record.".to_string(),
    });
    section.paragraph(
        "A clean result covers only the volume that the beam crossed; what was not covered is not known to be sound.",
    );
    section
}

/// The places that no beam's axis can be put through, as numbered in the coverage map.
fn holes_of(basis: &Basis<'_>, holes: &[Hole]) -> Table {
    let unit = basis.unit();
    let names = [format!("y {unit}"), format!("z {unit}"), format!("#Area {unit}\u{b2}")];
    let [across, down, area] = names.each_ref().map(String::as_str);
    let mut table = Table::new(
        "Places that no beam's axis can be put through, as numbered in the coverage map",
        &[("No.", 0.6), (across, 1.6), (down, 1.6), (area, 1.0), ("What is in the way", 2.4)],
    );
    let squared = if unit == "in" { 25.4f32 * 25.4 } else { 1.0 };
    let range = |from: f32, to: f32| format!("{} to {}", basis.lengths.bare(from), basis.lengths.bare(to));
    for (number, hole) in (1u32..).zip(holes) {
        table.row([
            format!("{number}").into(),
            range(hole.from.y, hole.to.y).into(),
            range(hole.from.z, hole.to.z).into(),
            format!("{}", Fixed(hole.area / squared, if unit == "in" { 3 } else { 1 })).into(),
            format!("{}", hole.reasons).into(),
        ]);
    }
    table
}

/// The section of the cautions.
pub fn cautions(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("cautions", "Cautions");
    section.blocks.push(Block::Items(basis.findings.cautions.clone()));
    section
}

/// The section to sign.
pub fn signatures() -> Section {
    let mut section = Section::new("signatures", "Signatures");
    let fields =
        ["Examiner: name, level, certificate", "Date", "Reviewer: name, level", "Date", "Witness", "Date"];
    section.blocks.push(Block::Signatures(fields.map(String::from).into()));
    section
}
