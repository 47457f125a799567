//! All indications together: along the weld and across it.

use super::document::{Block, Section};
use super::drawn;
use super::known::Known;

/// The section of the plan view and the cross-section.
pub fn section(known: &Known<'_>) -> Section {
    let mut section = Section::new("overview", "Where the indications lie");
    let placed = known.findings.indications.iter().any(|found| found.x_mm.is_some());
    if !placed {
        section.paragraph("No indication has a place.");
        return section;
    }
    let joint = known.facts.common().joint.as_ref().map(|(_, joint)| joint);
    section.blocks.push(Block::Figure(drawn::along::drawing(known, joint)));
    match joint {
        Some(joint) => section.blocks.push(Block::Figure(drawn::section::indications(known, joint))),
        None => section.paragraph("Without a joint there is no cross-section to draw."),
    }
    section
}
