//! An entry as its canonical line: keys in the order of the verb's table, every number with its unit as it was typed,
//! what is left out left out.

use core::fmt;

use halfskip::record::entry::{Calibrated, Entry, is_plain};
use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::{Millimetres, Quantity};

use crate::commands::{calibration, checks, joint, material, probe, reading, record, report};

/// Writes an entry as one line, without its end. [`parse::line`](crate::language::parse::line) reads the same entry back,
/// whatever the session's unit.
///
/// # Errors
/// [`fmt::Error`] when `out` refuses, or when a text of the entry holds a control character: an entry made by a
/// program can, a line cannot.
///
/// ```
/// use halfskip::record::entry::LengthUnit;
/// use halfskip_console::{parse::{self, Line}, write};
/// let Ok(Some(Line::Fact(entry))) = parse::line(b"angle p60 distance=26.30 depth=.5in", LengthUnit::Mm) else {
///     panic!("not a fact");
/// };
/// let mut line = String::new();
/// write::entry(&mut line, &entry).unwrap();
/// assert_eq!(line, "angle p60 depth=0.5in distance=26.30mm");
/// ```
pub fn entry(out: &mut dyn fmt::Write, entry: &Entry) -> fmt::Result {
    let mut writer = Writer { out, result: Ok(()) };
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

/// A line as it is written; after a failure nothing more is.
pub(crate) struct Writer<'w> {
    out: &'w mut dyn fmt::Write,
    result: fmt::Result,
}

impl Writer<'_> {
    fn put(&mut self, what: fmt::Arguments<'_>) {
        if self.result.is_ok() {
            self.result = self.out.write_fmt(what);
        }
    }

    fn raw(&mut self, text: &str) {
        if self.result.is_ok() {
            self.result = self.out.write_str(text);
        }
    }

    /// A blank and a word without a key.
    pub fn plain(&mut self, word: &str) {
        self.raw(" ");
        self.raw(word);
    }

    /// A blank and what prints without one.
    pub fn display(&mut self, what: &dyn fmt::Display) {
        self.put(format_args!(" {what}"));
    }

    /// A blank and a name.
    pub fn named(&mut self, name: &str) {
        self.raw(" ");
        self.name(name);
    }

    /// A blank and a text.
    pub fn quoted(&mut self, text: &str) {
        self.raw(" ");
        self.text(text);
    }

    /// ` key=value`
    pub fn value(&mut self, key: &str, value: &dyn fmt::Display) {
        self.put(format_args!(" {key}={value}"));
    }

    /// ` key=number` with its unit.
    pub fn number<Q: Quantity>(&mut self, key: &str, number: Entered<Q>) {
        self.decimal(key, number.decimal(), number.unit());
    }

    /// ` key=number` with its unit, or nothing.
    pub fn given<Q: Quantity>(&mut self, key: &str, number: Option<Entered<Q>>) {
        if let Some(number) = number {
            self.number(key, number);
        }
    }

    /// ` key=word`, or nothing when there is none.
    pub fn word(&mut self, key: &str, word: Option<&str>) {
        if let Some(word) = word {
            self.key(key);
            self.raw(word);
        }
    }

    /// ` key=name`
    pub fn name_of(&mut self, key: &str, name: &str) {
        self.key(key);
        self.name(name);
    }

    /// ` key="text"`, or nothing.
    pub fn text_of(&mut self, key: &str, text: Option<&str>) {
        if let Some(text) = text {
            self.key(key);
            self.text(text);
        }
    }

    /// ` key=AxB`
    pub fn size(&mut self, key: &str, first: Entered<Millimetres>, second: Entered<Millimetres>) {
        self.number(key, first);
        self.put(format_args!("x{second}"));
    }

    /// ` key=value,value,...`
    pub fn list<Q: Quantity>(&mut self, key: &str, values: &[Entered<Q>]) {
        self.key(key);
        for (index, value) in values.iter().enumerate() {
            self.item(index, value.decimal(), value.unit());
        }
    }

    /// ` key=path:gain,...`
    pub fn shots(&mut self, key: &str, shots: &[Calibrated]) {
        self.key(key);
        for (index, (path, gain)) in shots.iter().enumerate() {
            self.item(index, path.decimal(), path.unit());
            self.put(format_args!(":{gain}"));
        }
    }

    fn key(&mut self, key: &str) {
        self.put(format_args!(" {key}="));
    }

    fn decimal(&mut self, key: &str, decimal: Decimal, unit: &str) {
        self.put(format_args!(" {key}={decimal}{unit}"));
    }

    fn item(&mut self, index: usize, decimal: Decimal, unit: &str) {
        self.put(format_args!("{}{decimal}{unit}", if index == 0 { "" } else { "," }));
    }

    /// A name: bare when it reads the same without quotes.
    fn name(&mut self, name: &str) {
        let quoted = |char: char| matches!(char, ' ' | '"' | '#' | '=') || char.is_control();
        if name.is_empty() || name.chars().any(quoted) { self.text(name) } else { self.raw(name) }
    }

    /// A text in quotes.
    fn text(&mut self, text: &str) {
        if !is_plain(text) {
            self.result = Err(fmt::Error);
        }
        self.raw("\"");
        let mut rest = text;
        while let Some(at) = rest.bytes().position(|byte| matches!(byte, b'"' | b'\\')) {
            let (before, behind) = rest.split_at_checked(at).unwrap_or((rest, ""));
            let (special, behind) = behind.split_at_checked(1).unwrap_or((behind, ""));
            self.put(format_args!("{before}\\{special}"));
            rest = behind;
        }
        self.raw(rest);
        self.raw("\"");
    }
}

/// A name as it stands in a line: bare when it reads the same without quotes.
///
/// # Errors
/// [`fmt::Error`], as [`entry`] gives it.
#[cfg(feature = "host")]
pub(crate) fn name(out: &mut dyn fmt::Write, name: &str) -> fmt::Result {
    let mut writer = Writer { out, result: Ok(()) };
    writer.name(name);
    writer.result
}
