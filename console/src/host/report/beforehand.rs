//! Before the probe touches steel: scan plan, coverage, echoes to expect from geometry.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use super::document::{Block, Section};
use super::entries::named;
use super::ground::Ground;

/// The section of plan and coverage.
pub fn section(ground: &Ground<'_>) -> Section {
    let mut section = Section::new("plan", "Scan plan and coverage");
    let mut without = Vec::new();
    let mut part = |heading: String, question: &str| match ground.asked(question) {
        Some(answer) => {
            section.heading(heading);
            section.blocks.push(Block::Worked(answer));
        }
        None => without.push(heading),
    };
    part("Scan plan".to_string(), "plan");
    part("Coverage".to_string(), "coverage");
    for state in ground.facts.probes().iter().filter(|state| state.probe().is_some()) {
        for side in ["a", "b"] {
            let heading =
                format!("Echoes that geometry gives, {} from side {}", state.name(), side.to_uppercase());
            part(heading, &format!("expect {} side={side}", named(state.name())));
        }
    }
    if !without.is_empty() {
        section.paragraph("Not computed by this version:");
        section.blocks.push(Block::Items(without));
    }
    section
}
