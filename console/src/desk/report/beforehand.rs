//! Before the probe touches steel: scan plan, coverage, echoes to expect from geometry.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::findings;
use halfskip::units::decimal::Fixed;

use super::document::{Block, Cell, Section, Table};
use super::drawn;
use super::entries::named;
use super::known::{Known, UNKNOWN, figure};
use crate::desk::json::{LEGS, SCANS};

/// The section of plan and coverage.
pub fn section(known: &Known<'_>) -> Section {
    let mut section = Section::new("plan", "Scan plan and coverage");
    coverage(&mut section, known);
    let mut without = Vec::new();
    let mut part = |heading: String, question: &str| match known.asked(question) {
        Some(answer) => {
            section.heading(heading);
            section.blocks.push(Block::Worked(answer));
        }
        None => without.push(heading),
    };
    part("Scan plan".to_string(), "plan");
    part("Coverage".to_string(), "coverage");
    for state in known.facts.probes().iter().filter(|state| state.probe().is_some()) {
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

/// The share of the volume that the beams can cross, and the map of it.
fn coverage(section: &mut Section, known: &Known<'_>) {
    let Some((_, joint)) = known.facts.common().joint.as_ref() else {
        section.paragraph("Without a joint there is no volume to cover.");
        return;
    };
    let mut table = Table::new(
        "Weld and heat-affected zone that a beam's axis can be put through, as far as cap and joint let the probes stand",
        &[("By", 1.0), ("Share", 2.0)],
    );
    let share = |key: &str, value| figure(key, value, |value| format!("{} %", Fixed(100.0 * value, 1)));
    let why = |probe| {
        let refused = findings::coverage::<SCANS>(&known.facts, probe, LEGS, |_| {})?.err()?;
        let name = known.facts.probe(refused.probe).map_or("", |state| state.name().as_str());
        Some(format!("not known: {name}: {}", refused.error))
    };
    let or_why = |cell: Cell, probe| match cell {
        Cell::Missing(_) => Cell::Missing(why(probe).unwrap_or_else(|| UNKNOWN.to_string())),
        cell => cell,
    };
    let whole = share("coverage.fraction", known.findings.coverage.fraction);
    table.row(["all probes together".into(), or_why(whole, None)]);
    for (place, found) in known.findings.coverage.by_probe.iter().enumerate() {
        let probe = known.facts.probes().iter().position(|state| state.name() == found.probe);
        let cell = share(&format!("coverage.by_probe.{place}.fraction"), found.fraction);
        table.row([found.probe.into(), or_why(cell, probe.and_then(|probe| u8::try_from(probe).ok()))]);
    }
    section.table(table);
    if let Some((holes, _)) = drawn::coverage::holes(known, joint)
        && let Some(map) = drawn::coverage::drawing(known, joint, &holes)
    {
        section.blocks.push(Block::Figure(map));
    }
}
