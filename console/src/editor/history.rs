//! The lines entered before.

use heapless::{Deque, String};

/// The last lines, oldest first, and how far back the examiner has gone.
#[derive(Clone, Debug)]
pub(super) struct History<const LINE: usize, const LINES: usize> {
    lines: Deque<String<LINE>, LINES>,
    /// 0 is the line being typed.
    back: usize,
    draft: String<LINE>,
}

impl<const LINE: usize, const LINES: usize> History<LINE, LINES> {
    pub(super) const fn new() -> Self {
        Self { lines: Deque::new(), back: 0, draft: String::new() }
    }

    /// Keeps a line, in place of the oldest when there is no room; not an empty one or the same again.
    pub(super) fn keep(&mut self, line: &str) {
        self.back = 0;
        let again = self.lines.back().is_some_and(|last| last.as_str() == line);
        if line.is_empty() || again {
            return;
        }
        if self.lines.is_full() {
            self.lines.pop_front();
        }
        if let Ok(line) = String::try_from(line) {
            // There is room: a full history has just lost its oldest line.
            let _ = self.lines.push_back(line);
        }
    }

    /// The line before the one shown; the first step back keeps what was being typed.
    pub(super) fn older(&mut self, shown: &str) -> Option<&str> {
        let line = self.lines.iter().rev().nth(self.back)?;
        if self.back == 0 {
            self.draft.clear();
            let _ = self.draft.push_str(shown);
        }
        self.back = self.back.saturating_add(1);
        Some(line)
    }

    /// The line after the one shown, at last what was being typed.
    pub(super) fn newer(&mut self) -> Option<&str> {
        self.back = self.back.checked_sub(1)?;
        match self.back.checked_sub(1) {
            Some(back) => self.lines.iter().rev().nth(back).map(String::as_str),
            None => Some(&self.draft),
        }
    }

    /// Leaves the older lines.
    pub(super) fn leave(&mut self) {
        self.back = 0;
    }
}
