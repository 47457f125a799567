//! A line as it is written: every number with its unit as it was typed, what is left out left out.

use core::fmt;

use halfskip::record::entry::{
    Backing, BlockName, Calibrated, Clock, Counterbore, Element, EnteredHeight, LinearityWindow, Name, Text,
    is_plain,
};
use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::{Millimetres, Quantity};
use heapless::Vec;

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

    fn key(&mut self, key: &str) {
        self.put(format_args!(" {key}="));
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

/// What is written behind a key; what is left out has none.
pub(crate) trait Writes {
    /// ` key=value`
    fn write(&self, key: &str, out: &mut Writer<'_>);
}

impl<T: Writes> Writes for Option<T> {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        if let Some(value) = self {
            value.write(key, out);
        }
    }
}

impl<Q: Quantity> Writes for Entered<Q> {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        out.put(format_args!(" {key}={}{}", self.decimal(), self.unit()));
    }
}

impl<Q: Quantity, const N: usize> Writes for Vec<Entered<Q>, N> {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        out.key(key);
        for (index, value) in self.iter().enumerate() {
            out.item(index, value.decimal(), value.unit());
        }
    }
}

impl<const N: usize> Writes for Vec<Calibrated, N> {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        out.key(key);
        for (index, (path, gain)) in self.iter().enumerate() {
            out.item(index, path.decimal(), path.unit());
            out.put(format_args!(":{gain}"));
        }
    }
}

impl Writes for (Entered<Millimetres>, Entered<Millimetres>) {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        self.0.write(key, out);
        out.put(format_args!("x{}", self.1));
    }
}

impl Writes for Element<Entered<Millimetres>> {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        match self {
            Self::Round { diameter } => diameter.write(key, out),
            Self::Rectangular { in_plane, across } => (*in_plane, *across).write(key, out),
        }
    }
}

impl Writes for Backing<Entered<Millimetres>> {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        (self.width, self.height).write(key, out);
    }
}

impl Writes for Counterbore<Entered<Millimetres>> {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        (self.distance, self.height).write(key, out);
    }
}

impl Writes for EnteredHeight {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        match self {
            Self::Shown(height) => height.write(key, out),
            Self::Over => "over".write(key, out),
            Self::Under => "under".write(key, out),
        }
    }
}

impl Writes for LinearityWindow {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        match self {
            Self::T9074 => "t9074".write(key, out),
            Self::Within(half_width) => half_width.write(key, out),
        }
    }
}

/// A word of the language.
impl Writes for &str {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        out.key(key);
        out.raw(self);
    }
}

impl Writes for Name {
    fn write(&self, key: &str, out: &mut Writer<'_>) {
        out.key(key);
        out.name(self);
    }
}

macro_rules! writes {
    ($($text:ty)+; $($shown:ty)+) => {
        $(impl Writes for $text {
            fn write(&self, key: &str, out: &mut Writer<'_>) {
                out.key(key);
                out.text(self);
            }
        })+
        $(impl Writes for $shown {
            fn write(&self, key: &str, out: &mut Writer<'_>) {
                out.put(format_args!(" {key}={self}"));
            }
        })+
    };
}

writes!(Text BlockName; Decimal Clock u8);
