//! Before the probe touches steel: scan plan, coverage, echoes to expect from geometry.

use std::format;

use halfskip::findings::NotPlanned;
use halfskip::part::side::Side;
use halfskip::units::decimal::Fixed;

use super::basis::{Basis, figure};
use super::document::{Block, Cell, Section, Table};
use super::drawn;
use crate::answers::Crossed;
use crate::commands::parse::Question;
use crate::desk::findings::{Coverage, LEGS};

/// The section of plan and coverage.
pub fn section(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("plan", "Scan plan and coverage");
    coverage(&mut section, basis);
    section.heading("Scan plan");
    section.blocks.push(basis.answer(&Question::Plan {
        legs: LEGS,
        faces: None,
        pulse_rate: None,
        pulses: None,
    }));
    section.heading("Coverage");
    section.blocks.push(basis.answer(&Question::Coverage { legs: LEGS, faces: None }));
    for state in basis.facts.probes().iter().filter(|state| state.probe().is_some()) {
        for side in [Side::A, Side::B] {
            section.heading(format!(
                "Echoes that geometry gives, {} from side {}",
                state.name(),
                side.letter().to_uppercase()
            ));
            let probe = state.name().clone();
            section.blocks.push(basis.answer(&Question::Expect { probe, side, legs: LEGS }));
        }
    }
    section
}

/// The share of the volume that the beams can cross, and the map of it.
fn coverage(section: &mut Section, basis: &Basis<'_>) {
    let Some((_, joint)) = basis.facts.common().joint.as_ref() else {
        section.paragraph("Without a joint there is no volume to cover.");
        return;
    };
    let mut table = Table::new(
        "Weld and heat-affected zone that a beam's axis can be put through, as far as cap and joint let the probes stand",
        &[("By", 1.0), ("Share", 2.0)],
    );
    let share = |key: &str, crossed: Option<Result<Option<f32>, &NotPlanned>>| match crossed {
        Some(Err(refused)) => {
            let name = basis.facts.probe(refused.probe).map_or("", |state| state.name().as_str());
            Cell::Missing(format!("not known: {name}: {}", refused.error))
        }
        crossed => figure(key, crossed.and_then(Result::ok).flatten(), |value| {
            format!("{} %", Fixed(100.0 * value, 1))
        }),
    };
    let Coverage { all, by_probe, .. } = &basis.findings.coverage;
    table.row(["all probes together".into(), share("coverage.fraction", all.as_ref().map(Crossed::share))]);
    for (place, (state, crossed)) in by_probe.iter().enumerate() {
        let key = format!("coverage.by_probe.{place}.fraction");
        table.row([state.name().as_str().into(), share(&key, crossed.as_ref().map(Crossed::share))]);
    }
    section.table(table);
    if let Some(crossed) = all
        && let Some(map) = drawn::coverage::drawing(basis, joint, crossed)
    {
        section.blocks.push(Block::Figure(map));
    }
}
