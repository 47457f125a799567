//! What the help of the program says beyond its arguments: status, examples, and the keys of a line.

use std::format;
use std::string::String;

use clap::{Command, CommandFactory};

use super::{Arguments, CAUTION};
use crate::commands::{self, help};

/// What the exit status says.
pub const STATUS: &str = "Exit status: 0 done, 1 as --strict and check say, 2 bad input.";

const EXAMPLES: &str = "\
Examples:
  halfskip --job weld.job                     begin a job, or take one up again
  halfskip run weld.job                       the findings, for a person
  halfskip report weld.job --html weld.html   the record of a job, drawn
  halfskip help reading                       the keys of a line";

/// The end of the help.
#[must_use]
pub fn behind() -> String {
    format!("{STATUS} Bad input is named as file:line:column: why.\n\n{EXAMPLES}\n\n{}", CAUTION.trim_end())
}

/// The arguments; the help of a verb that a line has too says both.
#[must_use]
pub fn command() -> Command {
    Arguments::command().mut_subcommands(|verb| match of_line(verb.get_name()) {
        Some(line) => {
            let before = verb.get_after_help().map(|text| format!("{text}\n\n")).unwrap_or_default();
            verb.after_long_help(format!("{before}In a line: {}", line.trim_end()))
        }
        None => verb,
    })
}

/// The keys of a verb of a line.
pub fn of_line(word: &str) -> Option<String> {
    commands::find(word)?;
    let mut text = String::new();
    // A text takes whatever is written to it.
    let _ = help::answer(&mut text, Some(word));
    Some(text)
}
