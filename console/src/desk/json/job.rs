//! Which job findings are of, and by which sheets.

use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::acceptance::criteria::Sheet;
use halfskip::acceptance::technique::{Ground, Technique};
use halfskip::record::entry::{Entry, ReportField, Text};
use serde::Serialize;

use crate::desk::console::HostShell;

/// Which job findings are of.
#[derive(Serialize)]
pub struct Job {
    name: String,
    title: Option<String>,
    date: Option<String>,
    examiner: Option<String>,
    procedure: Option<String>,
    weld: Option<String>,
    preparation: Option<&'static str>,
    thickness_mm: Option<f32>,
    sheet: Option<String>,
    sheet_checked: Option<bool>,
    /// Of the file as it was read.
    sheet_sha256: Option<String>,
    /// Title of the technique sheet; none where only the built-in minimum holds.
    technique: Option<String>,
    technique_checked: Option<bool>,
    technique_sha256: Option<String>,
    /// What the technique sheet does not ask for and the built-in minimum does.
    technique_leaves_out: Vec<&'static str>,
}

impl Job {
    /// Of a shell that has taken a job of this name.
    #[must_use]
    pub fn of(name: String, shell: &HostShell) -> Self {
        let examination = shell.examination();
        let facts = examination.facts();
        let entries = || facts.entries_but_readings();
        let in_force = || entries().filter(|(_, voided, _)| !voided).map(|(.., entry)| entry);
        let all = |wanted: fn(Entry) -> Option<String>| {
            let found: Vec<String> = in_force().filter_map(wanted).collect();
            (!found.is_empty()).then(|| found.join("; "))
        };
        let facts = examination.facts();
        let technique = Some(facts.technique()).filter(|technique| !technique.is_minimum());
        // The file that the last line in force of a kind names is the one in force.
        let read = |name: fn(Entry) -> Option<Text>| {
            let name = in_force().filter_map(name).last()?;
            shell.sheets().sha256(&name).map(ToString::to_string)
        };
        let sheet_read = read(|entry| match entry {
            Entry::Criteria(name) => Some(name),
            _ => None,
        });
        let technique_read = read(|entry| match entry {
            Entry::Technique(name) => Some(name),
            _ => None,
        });
        let joint = facts.common().joint.as_ref().map(|(_, joint)| joint);
        Self {
            name,
            title: all(|entry| match entry {
                Entry::Title(text) => Some(text.to_string()),
                _ => None,
            }),
            date: in_force().filter_map(date).last(),
            examiner: all(|entry| match entry {
                Entry::Examiner { name, .. } => Some(name.to_string()),
                _ => None,
            }),
            procedure: all(|entry| match entry {
                Entry::Procedure(text) => Some(text.to_string()),
                _ => None,
            }),
            weld: all(|entry| match entry {
                Entry::Detail { field: ReportField::Weld, text } => Some(text.to_string()),
                _ => None,
            }),
            preparation: joint.map(|joint| joint.preparation().word()),
            thickness_mm: joint.map(|joint| joint.thickness().get()),
            sheet: shell.sheet().map(|sheet| sheet.head().title.to_string()),
            sheet_checked: shell.sheet().map(Sheet::is_checked),
            sheet_sha256: shell.sheet().and(sheet_read),
            technique: technique.map(|technique| technique.title().to_string()),
            technique_checked: technique.map(Technique::is_checked),
            technique_sha256: technique.and(technique_read),
            technique_leaves_out: facts.technique().left_out().iter().map(Ground::name).collect(),
        }
    }
}

impl Job {
    /// In one line for a person.
    #[must_use]
    pub fn told(&self) -> String {
        let parts = [Some(&self.name), self.title.as_ref(), self.date.as_ref(), self.examiner.as_ref()];
        let parts: Vec<&str> = parts.into_iter().flatten().map(String::as_str).collect();
        parts.join(", ")
    }
}

fn date(entry: Entry) -> Option<String> {
    match entry {
        Entry::Date { date, .. } => {
            let (year, month, day) = date.parts();
            Some(std::format!("{year:04}-{month:02}-{day:02}"))
        }
        _ => None,
    }
}
