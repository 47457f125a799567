//! One indication: its figures, the readings behind them, the curves, and every step of the working.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::findings::VerdictFinding;
use halfskip::record::entry::PointPeaked;
use halfskip::units::decimal::Fixed;

use super::document::{Block, Cell, Section, Table};
use super::drawn;
use super::entries::named;
use super::grounds;
use super::known::{Known, UNKNOWN, figure, stand};
use super::summary::length;
use crate::answers::page::Plus;
use crate::desk::json::{Indication, Reading};
use crate::desk::progress::Progress;

/// A section for every indication.
pub fn sections(known: &Known<'_>) -> Vec<Section> {
    let indications = &known.findings.indications;
    let mut progress = Progress::alone("indications", Some(indications.len() as u64));
    let section = |found| {
        progress.step(1);
        section(known, found)
    };
    indications.iter().map(section).collect()
}

fn section(known: &Known<'_>, found: &Indication<'_>) -> Section {
    let place = known.facts.indication(found.id).unwrap_or(u8::MAX);
    let id = format!("indication-{}", u32::from(place).saturating_add(1));
    let class = found.class.as_ref().map_or_else(String::new, |class| format!(", class {class}"));
    let mut section = Section::new(&id, &format!("Indication {}: {}{class}", found.id, found.verdict));
    section.table(figures(known, found));
    section.table(rated(known, found));
    section.table(grounds::table(found));
    section.table(readings(known, found));
    if let Some((_, joint)) = known.facts.common().joint.as_ref() {
        section.blocks.push(Block::Figure(drawn::section::beams(known, joint, found)));
    }
    let curves = drawn::dynamic::drawings(known, place, found);
    if curves.is_empty() {
        section.paragraph("No echo-dynamic series is recorded.");
    }
    section.blocks.extend(curves.into_iter().map(Block::Figure));
    let name = named(found.id);
    section.heading("Character, with its evidence");
    section.table(character(found));
    if found.nature.evidence.is_empty() {
        section.paragraph("No evidence of its character is recorded.");
    } else {
        section.blocks.push(Block::Items(found.nature.evidence.clone()));
    }
    section.heading("The working");
    for question in ["nature", "why"] {
        if let Some(answer) = known.asked(&format!("{question} {name}")) {
            section.blocks.push(Block::Worked(answer));
        }
    }
    section
}

fn figures(known: &Known<'_>, found: &Indication<'_>) -> Table {
    let key = |name: &str| format!("indications.{}.{name}", found.id);
    let unit = known.unit();
    let name = |what: &str| -> Cell { format!("{what}, {unit}").into() };
    let mut table = Table::new("Figures", &[("What", 1.3), ("Value", 1.0), ("Remark", 2.0)]);
    table.row([
        "Level, dB over the reference".into(),
        Known::level(&key("level_db"), found.level_db, found.level_bound),
        Cell::text("of the strongest view"),
    ]);
    let views = match (found.views, found.consistent) {
        (0, _) => "no reading of it has a place".to_string(),
        (1, _) => "from 1 view".to_string(),
        (views, Some(true)) => format!("from {views} views, which agree"),
        (views, Some(false)) => format!("from {views} views, which DISAGREE by more than their uncertainty"),
        (views, None) => format!("from {views} views"),
    };
    table.row([name("x, along the weld"), known.length(&key("x_mm"), found.x_mm), views.into()]);
    let across = known.within(&key("y_mm"), found.y_mm, found.u_y_mm);
    table.row([name("y, across it"), across, Cell::text("k = 2")]);
    let depth = known.within(&key("z_mm"), found.z_mm, found.u_z_mm);
    table.row([name("z, below the scanned face"), depth, Cell::text("k = 2")]);
    if found.body_mm.is_some() {
        let body = known.within(&key("body_mm"), found.body_mm, found.u_body_mm);
        table.row([name("Size of the body"), body, Cell::text("by all views, as if round; k = 2")]);
    }
    table.row([
        name("Start along the weld"),
        known.length(&key("x_start_mm"), found.x_start_mm),
        open(found.open_ends.0),
    ]);
    table.row([
        name("End along the weld"),
        known.length(&key("x_end_mm"), found.x_end_mm),
        open(found.open_ends.1),
    ]);
    table.row([name("Length along the weld"), length(known, found), Cell::text("")]);
    let height = known.within(&key("height_mm"), found.height_mm, found.u_height_mm);
    let tips = match found.height_mm {
        Some(_) => "from tip echoes, k = 2",
        None if found.heights_disagree => {
            "not known: its observations DISAGREE by more than their uncertainty"
        }
        None => "no tip tells it",
    };
    table.row([name("Height through the wall"), height, Cell::text(tips)]);
    if found.rating_db.is_some() {
        let rating = figure(&key("rating_db"), found.rating_db, |db| Plus(db, 1).to_string());
        table.row(["Weighted rating d, dB".into(), rating, Cell::text("a \u{2212} b \u{2212} c")]);
    }
    table.row(["Verdict".into(), found.verdict.into(), found.because.as_str().into()]);
    table
}

/// What the evidence tells of its character, and what of the joint explains it: advice.
fn character(found: &Indication<'_>) -> Table {
    let mut table =
        Table::new("Advice, never a statement of what the reflector is", &[("What", 1.0), ("Told", 2.0)]);
    let undetermined = |word: Option<&str>| Cell::given(word.map(ToString::to_string), "undetermined");
    table.row(["Shape".into(), undetermined(found.nature.shape)]);
    table.row(["Breaks".into(), undetermined(found.nature.breaks)]);
    let explained = found.geometry.r#match.as_ref();
    let explained = explained
        .map(|found| format!("{}, {} expanded uncertainties away", found.feature, Fixed(found.distance, 1)));
    table.row(["Feature of the joint that explains it".into(), Cell::given(explained, "none found")]);
    table
}

fn open(open: bool) -> Cell {
    Cell::text(if open { "open: the echo may go on" } else { "" })
}

/// The row of the sheet that decided, and what the sheet was asked.
fn rated(known: &Known<'_>, found: &Indication<'_>) -> Table {
    let mut table = Table::new("Held against the sheet", &[("What", 1.0), ("Value", 3.3)]);
    let Some(sheet) = known.sheet else { return table };
    let Some(VerdictFinding { own, group, rating, blocked, .. }) = &found.judged else { return table };
    let row = |number: Option<usize>| {
        let number = number?;
        let row = sheet.rows().get(number.checked_sub(1)?)?;
        Some(format!("{number}: {row}"))
    };
    if let Some((_, rating)) = rating {
        let (a, b, c, d) = (rating.a.get(), rating.b.get(), rating.c.get(), rating.d.get());
        let parts =
            format!("a {} dB, b {} dB, c {} dB, d {} dB", Plus(a, 1), Plus(b, 1), Plus(c, 1), Plus(d, 1));
        table.row(["Rating".into(), parts.into()]);
    }
    if let Some((_, decision)) = own {
        table.row(["Row that decides".into(), Cell::given(row(decision.row), "none")]);
        table.row(["Because".into(), decision.because.to_string().into()]);
    }
    if let Some(group) = group {
        let length = known.lengths.of(group.group.length());
        let members = group
            .group
            .members
            .iter()
            .filter_map(|member| known.facts.indications().get(usize::from(*member)));
        let members: Vec<&str> = members.map(|name| name.as_str()).collect();
        table
            .row(["Counted as one with".into(), format!("{}, {length} together", members.join(", ")).into()]);
        table.row(["Row for the group".into(), Cell::given(row(group.decision.row), "none")]);
    }
    if let Some(blocked) = blocked {
        table.row(["In the way".into(), blocked.told(&known.facts).to_string().into()]);
    }
    table
}

/// The readings that stand for themselves; members of a series are in the curves.
fn readings(known: &Known<'_>, found: &Indication<'_>) -> Table {
    let unit = known.unit();
    let column = |name: &str| format!("#{name} {unit}");
    let mut table = Table::new(
        "Readings that were peaked by themselves; members of a series are in the curves below",
        &[
            ("Entry", 1.0),
            ("Probe", 1.2),
            ("Side", 1.3),
            ("Peaked", 1.6),
            ("#Leg", 0.9),
            (&column("Path"), 1.4),
            (&column("y"), 2.0),
            (&column("z"), 2.0),
            ("#Level dB", 1.5),
        ],
    );
    let Some(place) = known.facts.indication(found.id) else { return table };
    for pooled in known.facts.readings_of(place).filter(|reading| reading.sweep().is_none()) {
        let readings = &known.findings.readings;
        let Ok(at) = readings.binary_search_by_key(&pooled.number(), |reading| reading.n) else { continue };
        let Some(reading) = readings.get(at) else { continue };
        table.row(row(known, reading, stand(pooled.side(), pooled.face()), pooled.point()));
    }
    table
}

fn row(known: &Known<'_>, reading: &Reading<'_>, stood: String, point: PointPeaked) -> [Cell; 9] {
    let key = |name: &str| format!("readings.{}.{name}", reading.n);
    let peaked = match point {
        PointPeaked::Echo => "echo",
        PointPeaked::Corner => "corner",
        PointPeaked::UpperTip => "upper tip",
        PointPeaked::LowerTip => "lower tip",
    };
    [
        reading.n.to_string().into(),
        reading.probe.into(),
        stood.into(),
        peaked.into(),
        Cell::given(reading.leg.map(|leg| leg.to_string()), UNKNOWN),
        known.length(&key("path_mm"), reading.path_mm),
        known.within(&key("y_mm"), reading.y_mm, reading.u_y_mm),
        known.within(&key("z_mm"), reading.z_mm, reading.u_z_mm),
        Known::level(&key("level_db"), reading.level_db, reading.level_bound),
    ]
}
