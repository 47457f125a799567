//! What was not covered, what the reader must be told, and where to sign.

use std::format;
use std::string::String;
use std::vec::Vec;

use halfskip::entry::{Entry, ReportField};

use super::document::{Block, Section};
use super::ground::Ground;

/// The section of what was not covered.
pub fn not_covered(ground: &Ground<'_>) -> Section {
    let mut section = Section::new("not-covered", "What was not covered");
    let said: Vec<String> = ground
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
    section.paragraph(
        "A clean result covers only the volume that the beam crossed; what was not covered is not known to be sound.",
    );
    section
}

/// The section of the cautions.
pub fn cautions(ground: &Ground<'_>) -> Section {
    let mut section = Section::new("cautions", "Cautions");
    section.blocks.push(Block::Items(ground.findings.cautions.clone()));
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
