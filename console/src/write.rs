//! An entry as its canonical line: keys in the order of the verb's table, every number with its unit as it was typed,
//! what is left out left out.

use core::fmt;

use halfskip::decimal::Entered;
use halfskip::entry::{Calibrated, Entry, is_plain};
use halfskip::units::Quantity;

use crate::parse::Choice;
use crate::verbs::{calibration, checks, joint, material, probe, reading, record, report};

/// Writes an entry as one line, without its end. [`parse::line`](crate::parse::line) reads the same entry back,
/// whatever the session's unit.
///
/// # Errors
/// [`fmt::Error`] when `out` refuses, or when a text of the entry holds a control character: an entry made by a
/// program can, a line cannot.
///
/// ```
/// use halfskip::entry::LengthUnit;
/// use halfskip_console::{parse::{self, Line}, write};
/// let Ok(Some(Line::Fact(entry))) = parse::line(b"angle p60 distance=26.30 depth=.5in", LengthUnit::Mm) else {
///     panic!("not a fact");
/// };
/// let mut line = String::new();
/// write::entry(&mut line, &entry).unwrap();
/// assert_eq!(line, "angle p60 depth=0.5in distance=26.30mm");
/// ```
pub fn entry(out: &mut dyn fmt::Write, entry: &Entry) -> fmt::Result {
    let out = &mut Writer { out };
    out.out.write_str(entry.verb())?;
    match entry {
        Entry::Title(text) | Entry::Procedure(text) | Entry::Note(text) => {
            report::write_text(out, text, None)
        }
        Entry::Examiner { name, certificate } => {
            report::write_text(out, name, certificate.as_ref().map(|text| ("certificate", text)))
        }
        Entry::Equipment { name, serial } => {
            report::write_text(out, name, serial.as_ref().map(|text| ("serial", text)))
        }
        Entry::Detail { field, text } => report::write_detail(out, *field, text),
        Entry::Date(date) => report::write_date(out, *date),
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
        Entry::Criteria(file) => record::write_criteria(out, file),
        Entry::Void { number, reason } => record::write_void(out, *number, reason),
        // A variant that this program does not know has no line.
        _ => Err(fmt::Error),
    }
}

/// A line as it is written.
pub(crate) struct Writer<'w> {
    out: &'w mut dyn fmt::Write,
}

impl Writer<'_> {
    pub fn blank(&mut self) -> fmt::Result {
        self.out.write_str(" ")
    }

    /// ` key=`
    pub fn key(&mut self, key: &str) -> fmt::Result {
        write!(self.out, " {key}=")
    }

    /// A blank and a word without a key.
    pub fn plain(&mut self, word: &dyn fmt::Display) -> fmt::Result {
        write!(self.out, " {word}")
    }

    /// ` key=value`
    pub fn value(&mut self, key: &str, value: &dyn fmt::Display) -> fmt::Result {
        write!(self.out, " {key}={value}")
    }

    /// ` key=value`, or nothing.
    pub fn given<Q: Quantity>(&mut self, key: &str, value: Option<Entered<Q>>) -> fmt::Result {
        value.map_or(Ok(()), |value| self.value(key, &value))
    }

    /// ` key=word`, or nothing when no word stands for the value.
    pub fn choice<C: Choice>(&mut self, key: &str, value: C) -> fmt::Result {
        value.word().map_or(Ok(()), |word| self.value(key, &word))
    }

    /// ` key=value,value,...`
    pub fn list(&mut self, key: &str, values: impl Iterator<Item = impl fmt::Display>) -> fmt::Result {
        self.key(key)?;
        for (index, value) in values.enumerate() {
            write!(self.out, "{}{value}", if index == 0 { "" } else { "," })?;
        }
        Ok(())
    }

    /// ` key=path:gain,...`
    pub fn shots(&mut self, key: &str, shots: &[Calibrated]) -> fmt::Result {
        self.key(key)?;
        for (index, (path, gain)) in shots.iter().enumerate() {
            write!(self.out, "{}{path}:{gain}", if index == 0 { "" } else { "," })?;
        }
        Ok(())
    }

    /// A name: bare when it reads the same without quotes.
    pub fn name(&mut self, name: &str) -> fmt::Result {
        let quoted = |char: char| matches!(char, ' ' | '"' | '#' | '=') || char.is_control();
        if name.is_empty() || name.contains(quoted) { self.text(name) } else { self.out.write_str(name) }
    }

    /// A text in quotes.
    pub fn text(&mut self, text: &str) -> fmt::Result {
        if !is_plain(text) {
            return Err(fmt::Error);
        }
        self.out.write_str("\"")?;
        for char in text.chars() {
            if matches!(char, '"' | '\\') {
                self.out.write_str("\\")?;
            }
            self.out.write_char(char)?;
        }
        self.out.write_str("\"")
    }
}
