//! All indications together: along the weld and across it.

use super::basis::Basis;
use super::document::{Block, Section};
use super::drawn;

/// The section of the plan view and the cross-section.
pub fn section(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("overview", "Where the indications lie");
    let placed = basis.findings.indications.iter().any(|found| found.point.is_some());
    if !placed {
        section.paragraph("No indication has a place.");
        return section;
    }
    let joint = basis.facts.common().joint.as_ref().map(|(_, joint)| joint);
    section.blocks.push(Block::Figure(drawn::along::drawing(basis, joint)));
    match joint {
        Some(joint) => section.blocks.push(Block::Figure(drawn::section::indications(basis, joint))),
        None => section.paragraph("Without a joint there is no cross-section to draw."),
    }
    section
}
