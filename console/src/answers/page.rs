//! The page that answers are written on: aligned columns, lines of at most [`WIDTH`] characters, lengths in the
//! session's unit.

mod figure;
mod wrap;

pub(crate) use figure::{Lengths, freedom, joined, level, percent, plus};

use core::fmt::{self, Write};

use halfskip::record::entry::LengthUnit;
use wrap::Wrap;

/// Characters in a line.
pub const WIDTH: usize = 78;
/// Column that the text behind a label starts in.
const LABEL: usize = 20;
/// Column that a step starts in.
const SYMBOL: usize = 9;

/// A page, written from the top.
pub(crate) struct Page<'w> {
    out: &'w mut dyn Write,
    /// How lengths are written.
    pub lengths: Lengths,
}

impl<'w> Page<'w> {
    pub fn new(out: &'w mut dyn Write, unit: LengthUnit) -> Self {
        Self { out, lengths: Lengths(unit) }
    }

    /// A line of its own, from the first column.
    pub fn heading(&mut self, text: fmt::Arguments<'_>) -> fmt::Result {
        self.wrapped("", 0, text)
    }

    /// A line from the first column, whose further lines are indented.
    pub fn hanging(&mut self, indent: usize, text: fmt::Arguments<'_>) -> fmt::Result {
        self.wrapped("", indent, text)
    }

    /// A label and what there is to say under it.
    pub fn item(&mut self, label: &str, text: fmt::Arguments<'_>) -> fmt::Result {
        self.labelled(label, LABEL, text)
    }

    /// A step of a derivation behind its symbol.
    pub fn step(&mut self, symbol: &str, text: fmt::Arguments<'_>) -> fmt::Result {
        self.labelled(symbol, SYMBOL, text)
    }

    fn labelled(&mut self, label: &str, column: usize, text: fmt::Arguments<'_>) -> fmt::Result {
        write!(self.out, "  {} ", Left(column.saturating_sub(3), &label))?;
        self.wrapped_from(column, column, text)
    }

    /// A sentence behind a mark, such as "- ".
    pub fn marked(&mut self, mark: &str, text: fmt::Arguments<'_>) -> fmt::Result {
        self.wrapped(mark, mark.len(), text)
    }

    /// A remark under what stands above it.
    pub fn remark(&mut self, text: fmt::Arguments<'_>) -> fmt::Result {
        self.wrapped("      ", 6, text)
    }

    fn wrapped(&mut self, first: &str, indent: usize, text: fmt::Arguments<'_>) -> fmt::Result {
        self.out.write_str(first)?;
        self.wrapped_from(first.len(), indent, text)
    }

    fn wrapped_from(&mut self, column: usize, indent: usize, text: fmt::Arguments<'_>) -> fmt::Result {
        let mut wrap = Wrap::new(self.out, column, indent);
        wrap.write_fmt(text)?;
        wrap.end()
    }
}

impl Write for Page<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.out.write_str(text)
    }
}

/// Tells each thing that `each` gives, until one cannot be written.
pub(crate) fn tell_each<T>(
    each: impl FnOnce(&mut dyn FnMut(T)),
    mut tell: impl FnMut(T) -> fmt::Result,
) -> fmt::Result {
    let mut result = Ok(());
    each(&mut |item| {
        if result.is_ok() {
            result = tell(item);
        }
    });
    result
}

/// Counts characters instead of writing them.
struct Count(usize);

impl Write for Count {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0 = self.0.saturating_add(text.chars().count());
        Ok(())
    }
}

fn pad(f: &mut fmt::Formatter<'_>, width: usize, shown: &dyn fmt::Display) -> fmt::Result {
    let mut count = Count(0);
    write!(count, "{shown}")?;
    (count.0..width).try_for_each(|_| f.write_str(" "))
}

/// Something at the right end of a column. What is too long pushes the rest aside; nothing is cut.
pub(crate) struct Right<'a>(pub usize, pub &'a dyn fmt::Display);

/// Something at the left end of a column.
pub(crate) struct Left<'a>(pub usize, pub &'a dyn fmt::Display);

impl fmt::Display for Right<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        pad(f, self.0, self.1)?;
        self.1.fmt(f)
    }
}

impl fmt::Display for Left<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.1.fmt(f)?;
        pad(f, self.0, self.1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::format;
    use std::string::String;

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(format!("{}|{}|", Right(4, &"ö"), Left(3, &"ß")), "   ö|ß  |");
        assert_eq!(format!("{}|", Right(2, &"long")), "long|");
    }

    #[test]
    fn a_long_text_hangs_under_its_label() {
        let mut out = String::new();
        let words = "word ".repeat(30);
        Page::new(&mut out, LengthUnit::Mm).item("label", format_args!("{}", words.trim())).unwrap();
        let lines: std::vec::Vec<_> = out.lines().collect();
        assert_eq!(lines.len(), 3);
        assert!(lines[0].starts_with("  label             word"));
        assert!(lines[1].starts_with(&format!("{}word", " ".repeat(LABEL))));
        assert!(lines.iter().all(|line| line.len() <= WIDTH));
    }
}
