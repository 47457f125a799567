//! How far long work has come, on a terminal only: a pipe and a log stay quiet.

use std::io::{self, IsTerminal, Write};
use std::time::{Duration, Instant};

/// Before the first word, and between one and the next.
const PATIENCE: Duration = Duration::from_millis(400);

/// A line that is written over itself on standard error.
#[derive(Debug)]
pub struct Progress {
    what: &'static str,
    of: Option<u64>,
    done: u64,
    due: Option<Instant>,
    shown: bool,
}

impl Progress {
    /// Of so many things, when that is known, beside answers: nothing is shown unless standard error is a terminal and
    /// standard output is none.
    #[must_use]
    pub fn new(what: &'static str, of: Option<u64>) -> Self {
        Self::shown(what, of, io::stderr().is_terminal() && !io::stdout().is_terminal())
    }

    /// While nothing is answered: shown wherever standard error is a terminal.
    #[must_use]
    pub fn alone(what: &'static str, of: Option<u64>) -> Self {
        Self::shown(what, of, io::stderr().is_terminal())
    }

    fn shown(what: &'static str, of: Option<u64>, seen: bool) -> Self {
        let due = seen.then(|| Instant::now() + PATIENCE);
        Self { what, of, done: 0, due, shown: false }
    }

    /// So many more are done.
    pub fn step(&mut self, more: u64) {
        self.done = self.done.saturating_add(more);
        let Some(due) = self.due else { return };
        // The clock is asked now and then only: a reading takes less time than a look at it.
        if !self.done.is_multiple_of(256) && self.of.is_none_or(|of| of > 100_000) {
            return;
        }
        let now = Instant::now();
        if now < due {
            return;
        }
        self.due = Some(now + PATIENCE);
        self.shown = true;
        let mut terminal = io::stderr();
        // A terminal that has gone is no reason to stop.
        let _ = match self.of {
            Some(of) => write!(terminal, "\r{} of {of} {}", self.done, self.what),
            None => write!(terminal, "\r{} {}", self.done, self.what),
        };
        let _ = terminal.flush();
    }

    /// Takes the line away.
    pub fn end(&mut self) {
        if self.shown {
            let _ = write!(io::stderr(), "\r{:50}\r", "");
            self.shown = false;
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.end();
    }
}
