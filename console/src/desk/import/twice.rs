//! Readings of a table that a job holds already: the same table taken twice would double each of them.

use std::collections::HashMap;
use std::string::String;

use halfskip::record::entry::{Entry, LengthUnit};

use super::Reading;
use crate::commands::parse::{self, Line};
use crate::commands::write;
use crate::desk::console::Desk;

/// A reading as the program writes it; none for another entry.
fn written(entry: &Entry) -> Option<String> {
    let mut text = String::new();
    matches!(entry, Entry::Reading(_)).then(|| write::entry(&mut text, entry).ok()).flatten()?;
    Some(text)
}

/// Which readings of a table are in force in a job already, each by its place and with the entry that says the same.
pub fn held(desk: &Desk, readings: &[Reading]) -> std::vec::Vec<(usize, u32)> {
    let entries = desk.shell().examination().entries().filter(|(_, voided, _)| !voided);
    let held: HashMap<String, u32> =
        entries.filter_map(|(number, _, entry)| Some((written(&entry)?, number))).collect();
    let same = |reading: &Reading| {
        // A row carries its units.
        let Ok(Some(Line::Fact(entry))) = parse::line(reading.line.as_bytes(), LengthUnit::Mm) else {
            return None;
        };
        held.get(&written(&entry)?).copied()
    };
    readings.iter().enumerate().filter_map(|(place, reading)| Some((place, same(reading)?))).collect()
}
