//! What was found, in one table, and by which rules.

use std::format;
use std::string::{String, ToString};

use halfskip::acceptance::criteria::LengthBy;
use halfskip::findings::suspicion;

use super::document::{Cell, Section, Table};
use super::grounds;
use super::known::Known;
use crate::answers::page::Plus;
use crate::desk::json::Indication;

/// The first section.
pub fn section(known: &Known<'_>) -> Section {
    let mut section = Section::new("found", "What was found");
    if let Some(between) = &known.findings.summary {
        section.notice(format!("{between}."));
    }
    if known.sheet.is_none_or(|sheet| !sheet.is_checked()) {
        section.notice(match known.sheet {
            None => "No acceptance sheet is in force: nothing was held against a criterion.",
            Some(_) => "The acceptance sheet has not been held against its source.",
        });
    }
    let readings = known.facts.readings();
    match readings.filter(|reading| suspicion(&known.facts, *reading).is_some()).count() {
        0 => {}
        1 => section.notice("1 reading is suspect, and with it what rests on it: see the cautions."),
        count => section.notice(format!(
            "{count} readings are suspect, and with them what rests on them: see the cautions."
        )),
    }
    section.table(table(known));
    grounds::summary(known, &mut section);
    if known.findings.indications.is_empty() {
        section.paragraph("No indication is recorded. What was not covered is not known to be sound.");
    }
    section.paragraph(
        "x runs along the weld from its datum, y across it from the centreline, positive toward side B, z down from the \
         scanned face. \u{b1} is the expanded uncertainty, k = 2. Levels are in dB over the reference. Not rejected does \
         not mean accepted; what is undetermined is neither.",
    );
    section.table(sheet(known));
    section
}

fn table(known: &Known<'_>) -> Table {
    let unit = known.unit();
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
    for found in &known.findings.indications {
        let key = |name: &str| format!("indications.{}.{name}", found.id);
        table.row([
            Cell::text(found.id),
            Cell::text(found.verdict),
            found.class.clone().map_or_else(|| Cell::text("\u{2013}"), Cell::Text),
            Known::level(&key("level_db"), found.level_db, found.level_bound),
            known.length(&key("x_mm"), found.x_mm),
            known.within(&key("y_mm"), found.y_mm, found.u_y_mm),
            known.within(&key("z_mm"), found.z_mm, found.u_z_mm),
            length(known, found),
            known.within(&key("height_mm"), found.height_mm, found.u_height_mm),
        ]);
    }
    table
}

/// The length along the weld, "at least" where an end is open.
pub fn length(known: &Known<'_>, found: &Indication<'_>) -> Cell {
    let open = if found.length_open == Some(true) { "\u{2265} " } else { "" };
    let key = format!("indications.{}.length_mm", found.id);
    super::known::figure(&key, found.length_mm, |mm| format!("{open}{}", known.lengths.bare(mm)))
}

/// The sheet in force, its source, and the rule that lengths follow.
fn sheet(known: &Known<'_>) -> Table {
    let mut table = Table::new("Rules applied", &[("Rule", 1.0), ("In force", 2.0)]);
    let Some(sheet) = known.sheet else {
        table.row(["Acceptance sheet".into(), Cell::Missing("none is in force".into())]);
        table.row(["Length along the weld".into(), "half amplitude (6 dB drop)".into()]);
        grounds::technique(known, &mut table);
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
    grounds::technique(known, &mut table);
    table
}

fn rule(by: LengthBy) -> String {
    match by {
        LengthBy::Drop(drop) if drop.get() == 6.0 => "half amplitude (6 dB drop)".to_string(),
        LengthBy::Drop(drop) => format!("{} dB drop", drop.get()),
        LengthBy::Level(level) => format!("where the level crosses {} dB", Plus(level.get(), 1)),
    }
}
