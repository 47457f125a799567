//! The record itself: every entry, and what was taken out of it and why.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::record::entry::Entry;

use super::basis::Basis;
use super::document::{Cell, Row, Section, Table};
use crate::commands::write;
use crate::desk::seal::Seals;

/// The section of the entries.
pub fn section(basis: &Basis<'_>, seals: Option<&Seals>) -> Section {
    let mut section = Section::new("record", "The record, entry by entry");
    section.paragraph(
        "Everything above is computed from these entries; whoever types them again gets the same figures. An entry that \
         was taken out stays to be read.",
    );
    let any_void = basis.entries.iter().any(|(_, voided, _)| *voided);
    let columns: &[(&str, f64)] = if any_void {
        &[("No.", 0.7), ("Entry", 7.0), ("State", 2.4)]
    } else {
        &[("No.", 0.7), ("Entry", 9.4)]
    };
    let mut table = Table::new("Entries", columns);
    for (number, voided, entry) in &basis.entries {
        let mut cells = Vec::from([number.to_string().into(), line(entry).into()]);
        if any_void {
            cells.push(if *voided { void_by(basis, *number) } else { String::new() }.into());
        }
        table.rows.push(Row { cells, struck: *voided });
    }
    if table.rows.is_empty() {
        section.paragraph("Nothing is recorded.");
    }
    section.table(table);
    section.table(sealed(seals));
    section.paragraph("A digest shows a change when it is held against one kept elsewhere, such as on a signed copy of this report.");
    section
}

/// What the seals of the job say.
fn sealed(seals: Option<&Seals>) -> Table {
    let mut table = Table::new("Seals of the job", &[("Seal", 1.0), ("Found", 3.0)]);
    let missing = || Cell::Missing("this report was not made from a job file".into());
    let said = |seals: &Seals| match (seals.sealed, seals.misfit) {
        (0, _) | (_, Some(_)) => Cell::Missing(format!("{seals}")),
        _ => Cell::Text(format!("{seals}")),
    };
    table.row(["Lines of the job".into(), seals.map_or_else(missing, said)]);
    let digest = seals.map_or_else(missing, |seals| Cell::Text(seals.digest.to_string()));
    table.row(["Running digest (SHA-256) behind the last line".into(), digest]);
    table
}

/// The line that the entry is written as.
pub fn line(entry: &Entry) -> String {
    let mut line = String::new();
    match write::entry(&mut line, entry) {
        Ok(()) => line,
        Err(_) => format!("{} (cannot be written as a line)", entry.verb()),
    }
}

/// The same without its verb.
pub fn keys(entry: &Entry) -> String {
    let line = line(entry);
    line.split_once(' ').map_or(line.clone(), |(_, keys)| keys.to_string())
}

fn void_by(basis: &Basis<'_>, number: u32) -> String {
    let found = basis.entries.iter().find_map(|(by, _, entry)| match entry {
        Entry::Void { number: taken_out, reason } if *taken_out == number => Some((by, reason)),
        _ => None,
    });
    match found {
        Some((by, reason)) => format!("void by entry {by}: {reason}"),
        None => "void".to_string(),
    }
}
