//! A line as it is written: every number with its unit as it was typed, what is left out left out.

use core::fmt;

use halfskip::record::entry::{Calibrated, is_plain};
use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::{Millimetres, Quantity};

/// A line as it is written; after a failure nothing more is.
pub(crate) struct Writer<'w> {
    out: &'w mut dyn fmt::Write,
    /// What came of it so far.
    pub result: fmt::Result,
}

impl<'w> Writer<'w> {
    pub fn new(out: &'w mut dyn fmt::Write) -> Self {
        Self { out, result: Ok(()) }
    }

    fn put(&mut self, what: fmt::Arguments<'_>) {
        if self.result.is_ok() {
            self.result = self.out.write_fmt(what);
        }
    }

    /// A text as it is.
    pub fn raw(&mut self, text: &str) {
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
    pub fn name(&mut self, name: &str) {
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
