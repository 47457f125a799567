//! The part of a line that a terminal shows.

use super::buffer::Buffer;

/// A window on the line, narrower than the terminal: a line that wraps could not be edited, since a terminal's
/// backspace does not climb to the row above.
#[derive(Clone, Copy, Debug)]
pub(super) struct View {
    prompt: &'static str,
    columns: usize,
    /// Characters left of the window.
    skipped: usize,
}

impl View {
    pub(super) const fn new(prompt: &'static str, columns: usize) -> Self {
        Self { prompt, columns, skipped: 0 }
    }

    pub(super) fn set_columns(&mut self, columns: usize) {
        self.columns = columns;
    }

    /// The prompt of a new line.
    pub(super) fn prompt(&mut self, echo: &mut impl FnMut(&[u8])) {
        self.skipped = 0;
        echo(self.prompt.as_bytes());
    }

    /// Shows the character just typed.
    pub(super) fn typed<const LINE: usize>(
        &mut self,
        line: &Buffer<LINE>,
        character: char,
        echo: &mut impl FnMut(&[u8]),
    ) {
        if line.at_end() && line.cursor().saturating_sub(self.skipped) <= self.room() {
            echo(character.encode_utf8(&mut [0; 4]).as_bytes());
        } else {
            self.draw(line, echo);
        }
    }

    /// Shows that the last character is gone.
    pub(super) fn erased<const LINE: usize>(&mut self, line: &Buffer<LINE>, echo: &mut impl FnMut(&[u8])) {
        if line.at_end() && self.skipped == 0 {
            echo(b"\x08 \x08");
        } else {
            self.draw(line, echo);
        }
    }

    /// Shows the line anew.
    pub(super) fn draw<const LINE: usize>(&mut self, line: &Buffer<LINE>, echo: &mut impl FnMut(&[u8])) {
        let (cursor, room) = (line.cursor(), self.room());
        if cursor < self.skipped {
            self.skipped = cursor;
        }
        if cursor.saturating_sub(self.skipped) > room {
            self.skipped = cursor.saturating_sub(room);
        }
        echo(b"\r");
        echo(self.prompt.as_bytes());
        let mut shown = 0usize;
        for character in line.characters().skip(self.skipped).take(room) {
            echo(character.encode_utf8(&mut [0; 4]).as_bytes());
            shown = shown.saturating_add(1);
        }
        // Erase what is left of the row (ECMA-48, EL), then go back to the cursor.
        echo(b"\x1b[K");
        for _ in cursor.saturating_sub(self.skipped)..shown {
            echo(b"\x08");
        }
    }

    /// Characters that fit behind the prompt, with one column kept for the cursor.
    fn room(&self) -> usize {
        let room = self.columns.saturating_sub(self.prompt.len()).saturating_sub(1);
        if room < 8 { 8 } else { room }
    }
}
