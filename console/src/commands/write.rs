//! An entry as its canonical line: keys in the order of the verb's table, every number with its unit as it was typed,
//! what is left out left out.

use core::fmt;

use halfskip::record::entry::Entry;

use super::{calibration, checks, joint, material, probe, reading, record, report};
use crate::language::writer::Writer;

/// Writes an entry as one line, without its end. [`parse::line`](crate::commands::parse::line) reads the same entry back,
/// whatever the session's unit.
///
/// # Errors
/// [`fmt::Error`] when `out` refuses, or when a text of the entry holds a control character: an entry made by a
/// program can, a line cannot.
///
/// ```
/// use halfskip::record::entry::LengthUnit;
/// use halfskip_console::commands::{parse::{self, Line}, write};
/// let Ok(Some(Line::Fact(entry))) = parse::line(b"angle p60 distance=26.30 depth=.5in", LengthUnit::Mm) else {
///     panic!("not a fact");
/// };
/// let mut line = String::new();
/// write::entry(&mut line, &entry).unwrap();
/// assert_eq!(line, "angle p60 depth=0.5in distance=26.30mm");
/// ```
pub fn entry(out: &mut dyn fmt::Write, entry: &Entry) -> fmt::Result {
    let mut writer = Writer::new(out);
    let out = &mut writer;
    out.raw(entry.verb());
    match entry {
        Entry::Title(text) | Entry::Procedure(text) | Entry::Note(text) => out.quoted(text),
        Entry::Examiner { name, certificate } => report::write_examiner(out, name, certificate.as_ref()),
        Entry::Equipment { name, serial } => report::write_equipment(out, name, serial.as_ref()),
        Entry::Detail { field, text } => report::write_detail(out, *field, text),
        Entry::Date { date, time } => report::write_date(out, *date, *time),
        Entry::Units(unit) => report::write_units(out, *unit),
        Entry::Material(entry) => material::write(out, entry),
        Entry::Joint(entry) => joint::write(out, entry),
        Entry::Probe(entry) => probe::write(out, entry),
        Entry::Timebase(entry) => calibration::write_timebase(out, entry),
        Entry::Angle(entry) => calibration::write_angle(out, entry),
        Entry::Dac(entry) => calibration::write_dac(out, entry),
        Entry::DacBeyond { probe, beyond } => calibration::write_beyond(out, probe, *beyond),
        Entry::Screen(entry) => calibration::write_screen(out, entry),
        Entry::Transfer(entry) => calibration::write_transfer(out, entry),
        Entry::Scanning { probe, margin } => checks::write_scanning(out, probe, *margin),
        Entry::Check(entry) => checks::write_check(out, entry),
        Entry::ScreenLinearity(entry) => checks::write_screen(out, entry),
        Entry::GainLinearity(entry) => checks::write_gain(out, entry),
        Entry::Tolerance(entry) => checks::write_tolerance(out, entry),
        Entry::Reading(entry) => reading::write_reading(out, entry),
        Entry::Observe(entry) => reading::write_observe(out, entry),
        Entry::Criteria(file) | Entry::Technique(file) => record::write_sheet(out, file),
        Entry::Void { number, reason } => record::write_void(out, *number, reason),
        // A variant that this program does not know has no line.
        _ => out.result = Err(fmt::Error),
    }
    writer.result
}

/// A name as it stands in a line: bare when it reads the same without quotes.
///
/// # Errors
/// [`fmt::Error`], as [`entry`] gives it.
#[cfg(feature = "host")]
pub(crate) fn name(out: &mut dyn fmt::Write, name: &str) -> fmt::Result {
    let mut writer = Writer::new(out);
    writer.name(name);
    writer.result
}
