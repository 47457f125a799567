//! `halfskip report`: the record that another examiner can repeat, as one page or on paper.
//!
//! The sections are filled from the findings that every other output shows, and from the answers of the shell; nothing is
//! computed here. What a report has to hold and nobody recorded is shown as missing.

mod basis;
mod beforehand;
mod closing;
pub mod document;
mod drawn;
mod entries;
mod fields;
mod grounds;
pub mod html;
mod indication;
mod joint;
mod map;
mod overview;
mod probes;
mod summary;

use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::record::entry::Entry;

use super::console::HostShell;
use super::seal::Seals;
use basis::Basis;
use document::Document;

/// The report of an examination, and of the seals of the job that it was read from; none while it is being evaluated.
#[must_use]
pub fn document(shell: &HostShell, seals: Option<&Seals>) -> Option<Document> {
    let basis = Basis::new(shell)?;
    let mut sections = Vec::from([
        summary::section(&basis),
        fields::section(&basis),
        joint::section(&basis),
        probes::section(&basis),
        beforehand::section(&basis),
        overview::section(&basis),
    ]);
    sections.extend(indication::sections(&basis));
    sections.push(closing::not_covered(&basis));
    sections.push(closing::cautions(&basis));
    sections.push(entries::section(&basis, seals));
    sections.push(closing::signatures());
    Some(Document { title: title(&basis), sections })
}

/// The titles in force, or that there is none.
fn title(basis: &Basis<'_>) -> String {
    let titles = basis.in_force().filter_map(|(_, entry)| match entry {
        Entry::Title(text) => Some(text.as_str()),
        _ => None,
    });
    let titles: Vec<&str> = titles.collect();
    if titles.is_empty() { "Examination without a title".to_string() } else { titles.join("; ") }
}
