//! An entry as its canonical line: keys in the order of the verb's table, every number with its unit as it was typed,
//! what is left out left out.

use core::fmt;

use halfskip::record::entry::Entry;

use super::table::Keyed;
use crate::language::values::Choice;
use crate::language::writer::{Writer, Writes};

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
        Entry::Examiner { name, certificate } => {
            out.quoted(name);
            certificate.write("certificate", out);
        }
        Entry::Equipment { name, serial } => {
            out.quoted(name);
            serial.write("serial", out);
        }
        Entry::Detail { field, text } => {
            out.plain(field.word().unwrap_or_default());
            text.write("is", out);
        }
        Entry::Date { date, time } => {
            let (year, month, day) = date.parts();
            out.display(&format_args!("{year:04}-{month:02}-{day:02}"));
            time.write("time", out);
        }
        Entry::Units(unit) => out.plain(unit.word().unwrap_or_default()),
        Entry::Material(entry) => Keyed::write(entry, out),
        Entry::Joint(entry) => {
            out.plain("butt");
            Keyed::write(entry, out);
        }
        Entry::Probe(entry) => Keyed::write(entry, out),
        Entry::Timebase(entry) => Keyed::write(entry, out),
        Entry::Angle(entry) => Keyed::write(entry, out),
        Entry::Dac(entry) => Keyed::write(entry, out),
        Entry::DacBeyond { probe, beyond } => {
            out.named(probe);
            beyond.write("beyond", out);
        }
        Entry::Screen(entry) => Keyed::write(entry, out),
        Entry::Transfer(entry) => Keyed::write(entry, out),
        Entry::Scanning { probe, margin } => {
            out.named(probe);
            margin.write("margin", out);
        }
        Entry::Check(entry) => Keyed::write(entry, out),
        Entry::ScreenLinearity(entry) => {
            out.plain("screen");
            Keyed::write(entry, out);
        }
        Entry::GainLinearity(entry) => {
            out.plain("gain");
            Keyed::write(entry, out);
        }
        Entry::Tolerance(entry) => Keyed::write(entry, out),
        Entry::Reading(entry) => Keyed::write(entry, out),
        Entry::Observe(entry) => Keyed::write(entry, out),
        Entry::Criteria(file) | Entry::Technique(file) => out.named(file),
        Entry::Void { number, reason } => {
            out.display(number);
            reason.write("reason", out);
        }
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
