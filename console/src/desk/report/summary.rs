//! What was found, in one table, and by which rules.

use std::format;
use std::string::{String, ToString};

use halfskip::acceptance::criteria::LengthBy;
use halfskip::findings::suspicion;

use super::basis::Basis;
use super::document::{Cell, Section, Table};
use super::grounds;
use crate::answers::page::plus;

/// The first section.
pub fn section(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("found", "What was found");
    if let Some(between) = &basis.findings.summary {
        section.notice(format!("{between}."));
    }
    if basis.sheet.is_none_or(|sheet| !sheet.is_checked()) {
        section.notice(match basis.sheet {
            None => "No acceptance sheet is in force: nothing was held against a criterion.",
            Some(_) => "The acceptance sheet has not been held against its source.",
        });
    }
    let readings = basis.facts.readings();
    match readings.filter(|reading| suspicion(&basis.facts, *reading).is_some()).count() {
        0 => {}
        1 => section.notice("1 reading is suspect, and with it what rests on it: see the cautions."),
        count => section.notice(format!(
            "{count} readings are suspect, and with them what rests on them: see the cautions."
        )),
    }
    section.table(table(basis));
    grounds::summary(basis, &mut section);
    if basis.findings.indications.is_empty() {
        section.paragraph("No indication is recorded. What was not covered is not known to be sound.");
    }
    section.paragraph(
        "x runs along the weld from its datum, y across it from the centreline, positive toward side B, z down from the \
         scanned face. \u{b1} is the expanded uncertainty, k = 2. Levels are in dB over the reference. Not rejected does \
         not mean accepted; what is undetermined is neither.",
    );
    section.table(sheet(basis));
    section
}

fn table(basis: &Basis<'_>) -> Table {
    let unit = basis.unit();
    let column = |name: &str| format!("#{name} {unit}");
    let mut table = Table::new(
        "Indications",
        &[
            ("No.", 1.0),
            ("Verdict", 2.4),
            ("Class", 1.1),
            ("#Level dB", 1.6),
            (&column("x"), 1.5),
            (&column("y"), 2.0),
            (&column("z"), 2.0),
            (&column("Length"), 1.9),
            (&column("Height"), 1.9),
        ],
    );
    for found in &basis.findings.indications {
        let key = |name: &str| format!("indications.{}.{name}", found.id);
        table.row([
            Cell::text(found.id),
            Cell::text(found.verdict()),
            Cell::text(found.class().unwrap_or("\u{2013}")),
            Basis::level(&key("level_db"), found.level),
            basis.length(&key("x_mm"), found.point.map(|point| point.x)),
            basis.of_point(&key("y_mm"), found, |point| (point.y, point.u_y)),
            basis.of_point(&key("z_mm"), found, |point| (point.z, point.u_z)),
            basis.along(found),
            basis.high(found),
        ]);
    }
    table
}

/// The sheet in force, its source, and the rule that lengths follow.
fn sheet(basis: &Basis<'_>) -> Table {
    let mut table = Table::new("Rules applied", &[("Rule", 1.0), ("In force", 2.0)]);
    let Some(sheet) = basis.sheet else {
        table.row(["Acceptance sheet".into(), Cell::Missing("none is in force".into())]);
        table.row(["Length along the weld".into(), "half amplitude (6 dB drop)".into()]);
        grounds::technique(basis, &mut table);
        return table;
    };
    let head = sheet.head();
    let checked = if sheet.is_checked() {
        Cell::text(head.checked_by.as_str())
    } else {
        Cell::Missing("nobody: not checked against its source".into())
    };
    table.row(["Acceptance sheet".into(), head.title.as_str().into()]);
    table.row(["Its source".into(), head.source.as_str().into()]);
    table.row(["Checked against the source by".into(), checked]);
    table.row(["Length along the weld".into(), rule(head.length_by).into()]);
    grounds::technique(basis, &mut table);
    table
}

fn rule(by: LengthBy) -> String {
    match by {
        LengthBy::Drop(drop) if drop.get() == 6.0 => "half amplitude (6 dB drop)".to_string(),
        LengthBy::Drop(drop) => format!("{} dB drop", drop.get()),
        LengthBy::Level(level) => format!("where the level crosses {} dB", plus(level.get(), 1)),
    }
}
