//! The line under the cursor.

use heapless::String;

/// A line as two halves with the cursor between them, so that no edit has to move what it does not touch.
#[derive(Clone, Debug)]
pub(super) struct Buffer<const LINE: usize> {
    before: String<LINE>,
    /// Behind the cursor, last character first.
    after: String<LINE>,
}

impl<const LINE: usize> Buffer<LINE> {
    pub(super) const fn new() -> Self {
        Self { before: String::new(), after: String::new() }
    }

    /// Puts a character at the cursor; false when the line is full.
    pub(super) fn insert(&mut self, character: char) -> bool {
        let used = self.before.len().saturating_add(self.after.len());
        character.len_utf8() <= LINE.saturating_sub(used) && self.before.push(character).is_ok()
    }

    /// Takes the character before the cursor out; false when there is none.
    pub(super) fn backspace(&mut self) -> bool {
        self.before.pop().is_some()
    }

    /// Takes the character behind the cursor out; false when there is none.
    pub(super) fn delete(&mut self) -> bool {
        self.after.pop().is_some()
    }

    /// Moves one character back; false at the start.
    pub(super) fn left(&mut self) -> bool {
        moved(&mut self.before, &mut self.after)
    }

    /// Moves one character on; false at the end.
    pub(super) fn right(&mut self) -> bool {
        moved(&mut self.after, &mut self.before)
    }

    pub(super) fn home(&mut self) {
        while self.left() {}
    }

    pub(super) fn end(&mut self) {
        while self.right() {}
    }

    pub(super) fn clear(&mut self) {
        self.before.clear();
        self.after.clear();
    }

    /// Replaces the line, with the cursor at its end.
    pub(super) fn replace(&mut self, text: &str) {
        self.clear();
        for character in text.chars() {
            self.insert(character);
        }
    }

    /// The whole line; the cursor goes to its end.
    pub(super) fn text(&mut self) -> &str {
        self.end();
        &self.before
    }

    pub(super) fn is_empty(&self) -> bool {
        self.before.is_empty() && self.after.is_empty()
    }

    pub(super) fn at_end(&self) -> bool {
        self.after.is_empty()
    }

    /// Characters before the cursor.
    pub(super) fn cursor(&self) -> usize {
        self.before.chars().count()
    }

    pub(super) fn characters(&self) -> impl Iterator<Item = char> {
        self.before.chars().chain(self.after.chars().rev())
    }
}

fn moved<const LINE: usize>(from: &mut String<LINE>, to: &mut String<LINE>) -> bool {
    // Both halves together never outgrow one line, so the push finds room.
    from.pop().is_some_and(|character| to.push(character).is_ok())
}
