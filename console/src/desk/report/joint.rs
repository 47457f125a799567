//! The joint: what is known of it, and its sketch.

use std::format;
use std::string::{String, ToString};

use halfskip::part::joint::{Curvature, Reach, ScannedFrom};
use halfskip::part::side::Face;
use halfskip::record::entry::Entry;
use halfskip::units::Millimetres;

use super::basis::{Basis, UNKNOWN};
use super::document::{Block, Cell, Section, Table};
use super::drawn;

/// The section of the joint.
pub fn section(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("joint", "The joint");
    let Some((number, joint)) = basis.facts.common().joint.as_ref() else {
        section.notice("No joint is recorded: nothing can be placed that gives no thickness of its own.");
        section.table(material(basis));
        return section;
    };
    section.blocks.push(Block::Figure(drawn::section::joint(basis, joint)));
    let spec = joint.spec();
    let mut table =
        Table::new(&format!("Joint as recorded in entry {number}"), &[("What", 1.0), ("Value", 1.6)]);
    let length =
        |mm: Option<Millimetres>| Cell::given(mm.map(|mm| basis.lengths.of(mm.get()).to_string()), UNKNOWN);
    table.row(["Preparation".into(), joint.preparation().to_string().into()]);
    table.row(["Thickness".into(), length(Some(spec.thickness))]);
    let one_sided = !joint.preparation().is_symmetric();
    let sides = if one_sided { "one side" } else { "each side" };
    let bevel = spec.bevel.map(|bevel| format!("{} deg from the vertical, {sides}", bevel.get()));
    table.row(["Bevel".into(), Cell::given(bevel, UNKNOWN)]);
    if one_sided {
        let side = spec.bevelled.map(|side| format!("side {}", side.letter().to_uppercase()));
        let side = side.unwrap_or_else(|| "not recorded: taken as side B".to_string());
        table.row(["Prepared side".into(), side.into()]);
    }
    table.row(["Gap".into(), length(spec.gap)]);
    table.row(["Land".into(), length(spec.land)]);
    if let Some(radius) = joint.radius() {
        let assumed = if joint.radius_is_assumed() { ", assumed" } else { "" };
        table.row(["Root radius".into(), format!("{}{assumed}", basis.lengths.of(radius.get())).into()]);
    }
    table.row(["Width of the cap".into(), length(spec.cap)]);
    let middle = joint.section().middle(Face::Near);
    if spec.cap.is_some() && (spec.centre.is_some() || middle != 0.0) {
        let from = if spec.centre.is_some() { "" } else { ", the middle of the groove" };
        table.row(["Middle of the cap".into(), format!("y {}{from}", basis.lengths.of(middle)).into()]);
    }
    let crown = match spec.crown {
        Some(crown) if crown.get() > 0.0 => basis.lengths.of(crown.get()).to_string(),
        Some(_) => "none: dressed flush".to_string(),
        None => "not recorded: taken as dressed flush".to_string(),
    };
    table.row(["Height of the cap".into(), crown.into()]);
    table.row(["Width of the root bead".into(), length(spec.bead)]);
    table.row(["Height of the root bead".into(), length(spec.excess)]);
    table.row(["Heat-affected zone, each side".into(), length(spec.haz)]);
    let backing = spec.backing.map(|bar| {
        format!("{} wide, {} high", basis.lengths.of(bar.width.get()), basis.lengths.of(bar.height.get()))
    });
    table.row(["Backing bar".into(), backing.unwrap_or_else(|| "none recorded".to_string()).into()]);
    let bore = spec.counterbore.map(|bore| {
        let (distance, height) = (bore.distance.get(), bore.height.get());
        format!(
            "step {} high at {} from the centreline",
            basis.lengths.of(height),
            basis.lengths.of(distance)
        )
    });
    table.row(["Counterbore".into(), bore.unwrap_or_else(|| "none recorded".to_string()).into()]);
    table.row(["Curvature".into(), curvature(basis, spec.curvature).into()]);
    let reach = match spec.reach {
        Some(Reach::A) => "side A only",
        Some(Reach::B) => "side B only",
        None | Some(Reach::Both) => "both sides",
    };
    table.row(["Sides that the probe can use".into(), reach.into()]);
    section.table(table);
    section.table(material(basis));
    section
}

fn curvature(basis: &Basis<'_>, curvature: Option<Curvature>) -> String {
    let face = |from: ScannedFrom| if from == ScannedFrom::Inside { "the bore" } else { "the outside" };
    match curvature {
        None => "none".to_string(),
        Some(Curvature::AroundPipe { od, from }) => format!(
            "outside diameter {}, beam around the circumference, scanned from {}",
            basis.lengths.of(od.get()),
            face(from)
        ),
        Some(Curvature::AlongPipe { od, from }) => format!(
            "outside diameter {}, beam along the axis, scanned from {}",
            basis.lengths.of(od.get()),
            face(from)
        ),
    }
}

fn material(basis: &Basis<'_>) -> Table {
    let mut table = Table::new("Material", &[("What", 1.0), ("Value", 1.6)]);
    let name = basis.in_force().find_map(|(_, entry)| match entry {
        Entry::Material(entry) => Some(entry.name.to_string()),
        _ => None,
    });
    table.row(["Material".into(), Cell::given(name, "not recorded")]);
    if let Some((_, material)) = basis.facts.common().material.as_ref() {
        let velocity = |value: f32| format!("{value} mm/\u{b5}s");
        table.row(["Shear velocity".into(), velocity(material.shear().get()).into()]);
        let longitudinal = material.longitudinal().map(|value| velocity(value.get()));
        table.row(["Longitudinal velocity".into(), Cell::given(longitudinal, UNKNOWN)]);
        let attenuation = material.attenuation().map(|value| format!("{} dB/mm", value.get()));
        table.row(["Attenuation along the path".into(), Cell::given(attenuation, UNKNOWN)]);
    }
    table
}
