//! Text broken between words at the width of the page.

use core::fmt::{self, Write};

use super::WIDTH;

/// The longest word that is kept together; a longer one is written as it comes.
const WORD: usize = 80;

/// Writes words, and a line break with an indent before one that would not fit.
pub(super) struct Wrap<'w> {
    out: &'w mut dyn Write,
    column: usize,
    indent: usize,
    word: heapless::String<WORD>,
    /// A blank is due before the next word.
    blank: bool,
    /// Nothing but the label stands in this line yet.
    fresh: bool,
}

impl<'w> Wrap<'w> {
    pub fn new(out: &'w mut dyn Write, column: usize, indent: usize) -> Self {
        Self { out, column, indent, word: heapless::String::new(), blank: false, fresh: true }
    }

    fn flush(&mut self) -> fmt::Result {
        if self.word.is_empty() {
            return Ok(());
        }
        let length = self.word.chars().count();
        let ahead = usize::from(self.blank);
        if self.column.saturating_add(ahead).saturating_add(length) > WIDTH && !self.fresh {
            self.out.write_str("\n")?;
            (0..self.indent).try_for_each(|_| self.out.write_str(" "))?;
            self.column = self.indent;
        } else if self.blank {
            self.out.write_str(" ")?;
            self.column = self.column.saturating_add(1);
        }
        self.out.write_str(&self.word)?;
        self.column = self.column.saturating_add(length);
        (self.blank, self.fresh) = (false, false);
        self.word.clear();
        Ok(())
    }

    /// The last word and the end of the line.
    pub fn end(mut self) -> fmt::Result {
        self.flush()?;
        self.out.write_str("\n")
    }
}

impl Write for Wrap<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for character in text.chars() {
            if character == ' ' {
                self.flush()?;
                self.blank = !self.fresh;
            } else if self.word.push(character).is_err() {
                self.flush()?;
                let _ = self.word.push(character);
            }
        }
        Ok(())
    }
}
