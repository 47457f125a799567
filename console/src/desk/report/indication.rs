//! One indication: its figures, the readings behind them, the curves, and every step of the working.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::findings::{ReadingFinding, VerdictFinding};
use halfskip::record::entry::PointPeaked;
use halfskip::units::decimal::Fixed;

use super::basis::{Basis, UNKNOWN, figure, stand};
use super::document::{Block, Cell, Section, Table};
use super::drawn;
use super::grounds;
use crate::answers::page::plus;
use crate::commands::parse::{Question, Stages};
use crate::desk::findings::Indication;
use crate::desk::json::character::{breaks, evidence, shape};
use crate::desk::progress::Progress;

/// A section for every indication.
pub fn sections(basis: &Basis<'_>) -> Vec<Section> {
    let indications = &basis.findings.indications;
    let mut progress = Progress::alone("indications", Some(indications.len() as u64));
    let section = |found| {
        progress.step(1);
        section(basis, found)
    };
    indications.iter().map(section).collect()
}

fn section(basis: &Basis<'_>, found: &Indication<'_>) -> Section {
    let place = found.number;
    let id = format!("indication-{}", u32::from(place).saturating_add(1));
    let class = found.class().map_or_else(String::new, |class| format!(", class {class}"));
    let mut section = Section::new(&id, &format!("Indication {}: {}{class}", found.id, found.verdict()));
    section.table(figures(basis, found));
    section.table(rated(basis, found));
    section.table(grounds::table(basis, found));
    section.table(readings(basis, place));
    if let Some((_, joint)) = basis.facts.common().joint.as_ref() {
        section.blocks.push(Block::Figure(drawn::section::beams(basis, joint, found)));
    }
    let curves = drawn::dynamic::drawings(basis, found);
    if curves.is_empty() {
        section.paragraph("No echo-dynamic series is recorded.");
    }
    section.blocks.extend(curves.into_iter().map(Block::Figure));
    section.heading("Character, with its evidence");
    section.table(character(found));
    let evidence = evidence(&found.nature);
    if evidence.is_empty() {
        section.paragraph("No evidence of its character is recorded.");
    } else {
        section.blocks.push(Block::Items(evidence));
    }
    section.heading("The working");
    if let Some(name) = basis.facts.indications().get(usize::from(place)) {
        section.blocks.push(basis.answer(&Question::Nature(name.clone(), Stages::default())));
        section.blocks.push(basis.answer(&Question::Why(name.clone())));
    }
    section
}

fn figures(basis: &Basis<'_>, found: &Indication<'_>) -> Table {
    let key = |name: &str| format!("indications.{}.{name}", found.id);
    let unit = basis.unit();
    let name = |what: &str| -> Cell { format!("{what}, {unit}").into() };
    let (point, length) = (found.point.as_ref(), found.length);
    let mut table = Table::new("Figures", &[("What", 1.3), ("Value", 1.0), ("Remark", 2.0)]);
    table.row([
        "Level, dB over the reference".into(),
        Basis::level(&key("level_db"), found.level),
        "of the strongest view".into(),
    ]);
    let views = match point.map(|point| (point.views, point.consistent)) {
        None | Some((0, _)) => "no reading of it has a place".to_string(),
        Some((1, _)) => "from 1 view".to_string(),
        Some((views, Some(true))) => format!("from {views} views, which agree"),
        Some((views, Some(false))) => {
            format!("from {views} views, which DISAGREE by more than their uncertainty")
        }
        Some((views, None)) => format!("from {views} views"),
    };
    let x = basis.length(&key("x_mm"), point.map(|point| point.x));
    table.row([name("x, along the weld"), x, views.into()]);
    let across = basis.of_point(&key("y_mm"), found, |point| (point.y, point.u_y));
    table.row([name("y, across it"), across, "k = 2".into()]);
    let depth = basis.of_point(&key("z_mm"), found, |point| (point.z, point.u_z));
    table.row([name("z, below the scanned face"), depth, "k = 2".into()]);
    if let Some((across, expanded)) = found.body() {
        let body = basis.within(&key("body_mm"), Some(across), Some(expanded));
        table.row([name("Size of the body"), body, "by all views, as if round; k = 2".into()]);
    }
    let start = basis.length(&key("x_start_mm"), length.map(|length| length.start.get()));
    table.row([name("Start along the weld"), start, open(length.is_some_and(|length| length.open_start))]);
    let end = basis.length(&key("x_end_mm"), length.map(|length| length.end.get()));
    table.row([name("End along the weld"), end, open(length.is_some_and(|length| length.open_end))]);
    table.row([name("Length along the weld"), basis.along(found), "".into()]);
    let tips = match (found.height(), found.observed_height) {
        (Some(_), _) => "from tip echoes, k = 2",
        (None, Some(_)) => "not known: its observations DISAGREE by more than their uncertainty",
        (None, None) => "no tip tells it",
    };
    table.row([name("Height through the wall"), basis.high(found), tips.into()]);
    if let Some((_, rating)) = found.judged.as_ref().and_then(|judged| judged.rating) {
        let rating = figure(&key("rating_db"), Some(rating.d.get()), |db| plus(db, 1).to_string());
        table.row(["Weighted rating d, dB".into(), rating, "a \u{2212} b \u{2212} c".into()]);
    }
    table.row(["Verdict".into(), found.verdict().into(), found.because(&basis.facts).into()]);
    table
}

/// What the evidence tells of its character, and what of the joint explains it: advice.
fn character(found: &Indication<'_>) -> Table {
    let mut table =
        Table::new("Advice, never a statement of what the reflector is", &[("What", 1.0), ("Told", 2.0)]);
    let undetermined = |word: Option<&str>| Cell::given(word.map(ToString::to_string), "undetermined");
    table.row(["Shape".into(), undetermined(found.nature.shape.map(shape))]);
    table.row(["Breaks".into(), undetermined(found.nature.breaks.map(breaks))]);
    let explained = found.geometry.map(|found| {
        format!("{}, {} expanded uncertainties away", found.feature.word(), Fixed(found.distance, 1))
    });
    table.row(["Feature of the joint that explains it".into(), Cell::given(explained, "none found")]);
    table
}

fn open(open: bool) -> Cell {
    Cell::text(if open { "open: the echo may go on" } else { "" })
}

/// The row of the sheet that decided, and what the sheet was asked.
fn rated(basis: &Basis<'_>, found: &Indication<'_>) -> Table {
    let mut table = Table::new("Held against the sheet", &[("What", 1.0), ("Value", 3.3)]);
    let Some(sheet) = basis.sheet else { return table };
    let Some(VerdictFinding { own, group, rating, blocked, .. }) = &found.judged else { return table };
    let row = |number: Option<usize>| {
        let number = number?;
        let row = sheet.rows().get(number.checked_sub(1)?)?;
        Some(format!("{number}: {row}"))
    };
    if let Some((_, rating)) = rating {
        let (a, b, c, d) = (rating.a.get(), rating.b.get(), rating.c.get(), rating.d.get());
        let parts =
            format!("a {} dB, b {} dB, c {} dB, d {} dB", plus(a, 1), plus(b, 1), plus(c, 1), plus(d, 1));
        table.row(["Rating".into(), parts.into()]);
    }
    if let Some((_, decision)) = own {
        table.row(["Row that decides".into(), Cell::given(row(decision.row), "none")]);
        table.row(["Because".into(), decision.because.to_string().into()]);
    }
    if let Some(group) = group {
        let length = basis.lengths.of(group.group.length());
        let members = group
            .group
            .members
            .iter()
            .filter_map(|member| basis.facts.indications().get(usize::from(*member)));
        let members: Vec<&str> = members.map(|name| name.as_str()).collect();
        table
            .row(["Counted as one with".into(), format!("{}, {length} together", members.join(", ")).into()]);
        table.row(["Row for the group".into(), Cell::given(row(group.decision.row), "none")]);
    }
    if let Some(blocked) = blocked {
        table.row(["In the way".into(), blocked.told(&basis.facts).to_string().into()]);
    }
    table
}

/// The readings that stand for themselves; members of a series are in the curves.
fn readings(basis: &Basis<'_>, place: u8) -> Table {
    let unit = basis.unit();
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
    let of_it = basis.findings.readings.iter().filter(|found| found.reading.indication() == place);
    for found in of_it.filter(|found| found.reading.sweep().is_none()) {
        table.row(row(basis, found));
    }
    table
}

fn row(basis: &Basis<'_>, found: &ReadingFinding<'_>) -> [Cell; 9] {
    let reading = found.reading;
    let key = |name: &str| format!("readings.{}.{name}", reading.number());
    let peaked = match reading.point() {
        PointPeaked::Echo => "echo",
        PointPeaked::Corner => "corner",
        PointPeaked::UpperTip => "upper tip",
        PointPeaked::LowerTip => "lower tip",
    };
    // An echo that was looked for and not seen lies nowhere.
    let (place, lies) = (found.place.ok(), found.place.ok().filter(|_| !found.unseen()));
    let (u_y, u_z) = lies.and_then(|_| found.uncertainty()).unzip();
    [
        reading.number().to_string().into(),
        basis.facts.probe(reading.probe()).map_or("", |state| state.name()).into(),
        stand(reading.side(), reading.face()).into(),
        peaked.into(),
        Cell::given(place.map(|place| place.leg.to_string()), UNKNOWN),
        basis.length(&key("path_mm"), found.path.ok().map(|path| path.get())),
        basis.within(&key("y_mm"), lies.map(|place| place.y.get()), u_y),
        basis.within(&key("z_mm"), lies.map(|place| place.z.get()), u_z),
        Basis::level(&key("level_db"), found.level.ok().map(|found| found.level)),
    ]
}
