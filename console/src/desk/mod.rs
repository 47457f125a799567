//! The program around the shell: arguments, terminal, job files and exit status.

pub mod args;
pub mod check;
pub mod compare;
pub mod console;
pub mod csv;
pub mod drawing;
pub mod exit;
pub mod export;
pub mod feed;
mod findings;
pub mod import;
pub mod job;
pub mod json;
pub mod lines;
pub mod link;
pub mod manual;
pub mod names;
pub mod paper;
pub mod patience;
pub mod plan;
pub mod program;
pub mod progress;
pub mod report;
pub mod report_file;
pub mod run;
pub mod seal;
pub mod session;
pub mod stream;
pub mod terminal;
pub mod tour;

use core::fmt;

/// The longest line that is read, in bytes; more is refused without being held in memory.
pub const LINE: usize = 4096;

/// What a line did.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Outcome {
    /// It was a fact, and is now part of the examination.
    Recorded,
    /// It was a question.
    Answered,
    /// It was neither, and changed nothing; the answer says why, without the place.
    Refused {
        /// The character it is about, counted from 1; none when it is about the line as a whole.
        column: Option<usize>,
    },
    /// It was blank or a comment.
    Quiet,
}

/// An examination that takes lines.
pub trait Lines {
    /// Takes one line without its end and writes the answer.
    fn line(&mut self, line: &[u8], answer: &mut dyn fmt::Write) -> Outcome;

    /// Takes one line of a job. A question changes nothing there and need not be answered.
    fn fact(&mut self, line: &[u8], answer: &mut dyn fmt::Write) -> Outcome {
        self.line(line, answer)
    }

    /// Forgets every line: an examination without a fact.
    fn clear(&mut self);
}
