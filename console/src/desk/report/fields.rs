//! Identification, equipment and technique: every field that a report has to hold, filled or shown as missing.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::record::entry::{Entry, ReportField};

use super::basis::Basis;
use super::document::{Cell, Section, Table};

/// What is said of a field that nobody filled.
const MISSING: &str = "not recorded";

/// Where a field comes from.
enum From {
    Detail(ReportField),
    Procedure,
    Date,
    Equipment,
    Examiner,
    /// Shown in a section of its own when there is anything to show.
    Section(&'static str, fn(&Basis<'_>) -> bool),
}

type Group = (&'static str, &'static [(&'static str, From)]);

const GROUPS: &[Group] = &[
    (
        "Job",
        &[
            ("Client", From::Detail(ReportField::Client)),
            ("Contract or project", From::Detail(ReportField::Project)),
            ("Report number", From::Detail(ReportField::ReportNumber)),
            ("Date", From::Date),
            ("Place", From::Detail(ReportField::Place)),
            ("Procedure and revision", From::Procedure),
            ("Standard, edition, class or level", From::Detail(ReportField::Standard)),
            ("Examiner and certificate", From::Examiner),
            ("Reviewer", From::Detail(ReportField::Reviewer)),
            ("Witness", From::Detail(ReportField::Witness)),
        ],
    ),
    (
        "Object",
        &[
            ("Item", From::Detail(ReportField::Item)),
            ("Drawing", From::Detail(ReportField::Drawing)),
            ("Weld and its location", From::Detail(ReportField::Weld)),
            ("Material", From::Section("The joint", material)),
            ("Product form", From::Detail(ReportField::ProductForm)),
            ("Thickness, joint type, preparation", From::Section("The joint", joint)),
            ("Welding process", From::Detail(ReportField::Process)),
            ("Heat treatment, stage of manufacture", From::Detail(ReportField::HeatTreatment)),
            ("Surface condition", From::Detail(ReportField::Surface)),
            ("Temperature", From::Detail(ReportField::Temperature)),
        ],
    ),
    (
        "Equipment",
        &[
            ("Instrument, probes and serial numbers", From::Equipment),
            ("Instrument calibrated", From::Detail(ReportField::InstrumentCalibrated)),
            ("Probe frequency, element, angles, index", From::Section("Probes and calibration", probes)),
            ("Cable", From::Detail(ReportField::Cable)),
            ("Couplant", From::Detail(ReportField::Couplant)),
            ("Calibration and reference blocks", From::Detail(ReportField::Blocks)),
        ],
    ),
    (
        "Setup",
        &[
            ("Range of the time base", From::Detail(ReportField::Range)),
            (
                "Sensitivity, reference gain, points of the curve",
                From::Section("Probes and calibration", curve),
            ),
            ("Transfer correction", From::Section("Probes and calibration", transfer)),
            ("Scanning gain", From::Section("Probes and calibration", scanning)),
            ("Suppression, damping", From::Detail(ReportField::Damping)),
            ("Linearity of the equipment", From::Section("Probes and calibration", linearity)),
            ("Checks in service", From::Section("Probes and calibration", checks)),
        ],
    ),
    (
        "Technique",
        &[
            ("Testing level", From::Detail(ReportField::TestingLevel)),
            ("Directions of scanning", From::Detail(ReportField::Directions)),
            ("Length examined", From::Detail(ReportField::LengthExamined)),
            ("Not covered, and why", From::Detail(ReportField::NotCovered)),
            ("Parent metal scanned for laminations", From::Detail(ReportField::Lamination)),
            ("Supplementary techniques", From::Detail(ReportField::Supplementary)),
            ("Repairs and re-examination", From::Detail(ReportField::Repair)),
        ],
    ),
];

/// The section of the fields.
pub fn section(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("fields", "Identification, equipment, technique");
    let mut missing = 0u32;
    for (group, fields) in GROUPS {
        let mut table = Table::new(group, &[("Field", 1.0), ("Recorded", 2.0)]);
        for (field, from) in *fields {
            let cell = Cell::given(recorded(basis, from), MISSING);
            missing += u32::from(matches!(cell, Cell::Missing(_)));
            table.row([(*field).into(), cell]);
        }
        section.table(table);
    }
    if missing > 0 {
        let fields = if missing == 1 { "field is" } else { "fields are" };
        section.paragraph(format!(
            "{missing} {fields} not recorded. Which of them a report needs is for the governing standard to say."
        ));
    }
    section
}

fn recorded(basis: &Basis<'_>, from: &From) -> Option<String> {
    let of = |wanted: &dyn Fn(&Entry) -> Option<String>| {
        let found: Vec<String> = basis.in_force().filter_map(|(_, entry)| wanted(entry)).collect();
        (!found.is_empty()).then(|| found.join("; "))
    };
    match from {
        From::Detail(wanted) => of(&|entry| match entry {
            Entry::Detail { field, text } if field == wanted => Some(text.to_string()),
            _ => None,
        }),
        From::Procedure => of(&|entry| match entry {
            Entry::Procedure(text) => Some(text.to_string()),
            _ => None,
        }),
        From::Date => of(&|entry| match entry {
            Entry::Date { date, time } => {
                let (year, month, day) = date.parts();
                let time = time.map(|time| format!(", {time}")).unwrap_or_default();
                Some(format!("{year:04}-{month:02}-{day:02}{time}"))
            }
            _ => None,
        }),
        From::Equipment => of(&|entry| match entry {
            Entry::Equipment { name, serial } => Some(named(name, "serial", serial.as_deref())),
            _ => None,
        }),
        From::Examiner => of(&|entry| match entry {
            Entry::Examiner { name, certificate } => Some(named(name, "certificate", certificate.as_deref())),
            _ => None,
        }),
        From::Section(heading, holds) => holds(basis).then(|| format!("see \u{201c}{heading}\u{201d}")),
    }
}

fn named(name: &str, word: &str, more: Option<&str>) -> String {
    match more {
        Some(more) => format!("{name}, {word} {more}"),
        None => format!("{name}, {word} {MISSING}"),
    }
}

fn material(basis: &Basis<'_>) -> bool {
    basis.facts.common().material.is_some()
}

fn joint(basis: &Basis<'_>) -> bool {
    basis.facts.common().joint.is_some()
}

fn probes(basis: &Basis<'_>) -> bool {
    basis.facts.probes().iter().any(|state| state.probe().is_some())
}

fn curve(basis: &Basis<'_>) -> bool {
    basis.facts.probes().iter().any(|state| state.dac().points().len() > 0)
}

fn transfer(basis: &Basis<'_>) -> bool {
    basis.facts.probes().iter().any(|state| state.transfer().is_some())
}

fn scanning(basis: &Basis<'_>) -> bool {
    basis.facts.probes().iter().any(|state| state.margin().is_some())
}

fn linearity(basis: &Basis<'_>) -> bool {
    basis.in_force().any(|(_, entry)| matches!(entry, Entry::ScreenLinearity(_) | Entry::GainLinearity(_)))
}

fn checks(basis: &Basis<'_>) -> bool {
    basis.facts.common().is_checked()
}
