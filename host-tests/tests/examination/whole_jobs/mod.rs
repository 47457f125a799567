//! What must hold of whole examinations, from the entries to the findings.

mod checks;
mod entered;
mod heights;
mod kept;
mod limits;
mod linked;
mod mirrored;
mod order;
mod pooled;
mod stated;
mod transfer;
mod voided;

use halfskip::record::entry::Entry;
use halfskip_host_tests::told::facts_of;

/// A day with one of everything that a line can say of a reading.
const DAY: &str = include_str!("full_day.txt");

/// The day with its lengths written by `length`, from thousandths of an inch.
fn written(length: impl Fn(u32) -> String) -> String {
    let mut lines = String::new();
    for line in DAY.lines().filter(|line| !line.starts_with('#')) {
        let mut parts = line.split(['{', '}']);
        lines += parts.next().unwrap();
        while let (Some(number), Some(rest)) = (parts.next(), parts.next()) {
            lines += &length(number.parse().unwrap());
            lines += rest;
        }
        lines.push('\n');
    }
    lines
}

/// 0.001 in is 0.0254 mm.
fn millimetres(thousandths: u32) -> String {
    let tens_of_micrometres = thousandths * 254;
    format!("{}.{:04}", tens_of_micrometres / 10_000, tens_of_micrometres % 10_000)
}

fn inches(thousandths: u32) -> String {
    format!("{}.{:03}", thousandths / 1000, thousandths % 1000)
}

/// The day's entries.
fn day() -> Vec<Entry> {
    facts_of(&written(millimetres))
}
