//! What an accept rests on: who asks for it, what each indication lacks, and every ground of one.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::findings::{Blocked, GroundState};

use super::basis::Basis;
use super::document::{Cell, Section, Table};
use crate::desk::findings::Indication;

/// The technique in force and what it leaves out, as rows of the rules applied.
pub fn technique(basis: &Basis<'_>, table: &mut Table) {
    let technique = basis.facts.technique();
    table.row(["Technique: what an accept asks for".into(), technique.title().into()]);
    table.row(["Source of the technique".into(), technique.source().into()]);
    if technique.is_minimum() {
        return;
    }
    let checked = if technique.is_checked() {
        Cell::text(technique.checked_by())
    } else {
        Cell::Missing("nobody: not checked against its source".into())
    };
    table.row(["Technique checked against its source by".into(), checked]);
    let left_out = technique.left_out();
    let left_out = if left_out.is_empty() { "nothing".to_string() } else { left_out.to_string() };
    table.row(["Left out of the built-in minimum".into(), left_out.into()]);
}

/// That the technique leaves something out, and the indications that are held back.
pub fn summary(basis: &Basis<'_>, section: &mut Section) {
    let left_out = basis.facts.technique().left_out();
    if !left_out.is_empty() {
        section.notice(format!(
            "The technique sheet leaves out what the built-in minimum asks for before an accept: {left_out}."
        ));
    }
    let mut table = Table::new(
        "Not passed on for want of a ground",
        &[("No.", 1.0), ("The sheet says", 1.6), ("Grounds that are not met", 4.0)],
    );
    for found in &basis.findings.indications {
        let Some(blocked) = found.judged.as_ref().and_then(|judged| judged.blocked) else { continue };
        let Blocked::NotMet { verdict, indication, neighbour, ground } = blocked else { continue };
        let not_met = if neighbour {
            format!("{} of indication {}", ground.ground, basis.facts.name(indication))
        } else {
            unmet(found).join(", ")
        };
        table.row([found.id.into(), verdict.word().into(), not_met.into()]);
    }
    section.table(table);
}

fn unmet(found: &Indication<'_>) -> Vec<&'static str> {
    let not_met = found.grounds.iter().filter(|ground| ground.state == GroundState::NotMet);
    not_met.map(|ground| ground.ground.name()).collect()
}

/// Every ground of an indication.
pub fn table(basis: &Basis<'_>, found: &Indication<'_>) -> Table {
    let mut table = Table::new(
        "Grounds of an accept",
        &[("Ground", 1.6), ("State", 1.0), ("Entries", 1.4), ("What it says", 4.4)],
    );
    for ground in &found.grounds {
        let entries: Vec<String> = ground.entries.iter().map(|entry| entry.to_string()).collect();
        let state = match ground.state {
            GroundState::NotMet => Cell::Missing("not met".into()),
            GroundState::NotAsked => "not asked".into(),
            state => state.word().into(),
        };
        let says = ground.says(&basis.facts).to_string();
        table.row([ground.ground.name().into(), state, entries.join(", ").into(), says.into()]);
    }
    table
}
