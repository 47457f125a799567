//! What the program says of itself: help, completions for shells, a manual page; all from the one table of its arguments.

pub mod completions;
pub mod page;

use core::fmt::Write;
use std::format;
use std::string::String;

use super::args::CAUTION;
use super::args::usage::{Choice, PROGRAM, VERBS, Value, Verb};
use crate::{help, verbs};

/// The column that explanations start in.
const WIDE: usize = 33;
/// The same beside an example.
const WIDER: usize = 60;

/// What the exit status says.
pub const STATUS: &str = "Exit status: 0 done, 1 as --strict and check say, 2 bad input.";

/// Every verb in a few lines.
#[must_use]
pub fn overview() -> String {
    let mut out = String::new();
    for verb in [&PROGRAM].into_iter().chain(VERBS) {
        row(&mut out, &usage(verb), verb.about);
        options(&mut out, verb);
    }
    out += "halfskip --help\nhalfskip --version\n\n";
    out += STATUS;
    out + "\n"
}

/// What `--help` says: the overview, examples, and what every user is told.
#[must_use]
pub fn all() -> String {
    let mut out = overview();
    out += "\nExamples\n";
    for example in [&PROGRAM].into_iter().chain(VERBS).filter_map(|verb| verb.examples.first()) {
        said(&mut out, example);
    }
    out + "\n" + CAUTION
}

/// More of one verb, of the program or of a line; none for a word that is neither.
#[must_use]
pub fn of(word: &str) -> Option<String> {
    let mut out = String::new();
    if let Some(verb) = super::args::usage::find(word) {
        row(&mut out, &usage(verb), verb.about);
        options(&mut out, verb);
        for note in verb.notes {
            out += note;
            out.push('\n');
        }
        out += if verb.examples.is_empty() { "" } else { "Examples\n" };
        verb.examples.iter().for_each(|example| said(&mut out, example));
    }
    if verbs::find(word).is_some() {
        if !out.is_empty() {
            out += "\nIn a line: ";
        }
        // A text takes whatever is written to it.
        let _ = help::answer(&mut out, Some(word));
    }
    (!out.is_empty()).then_some(out)
}

/// The words that a verb is called by.
fn usage(verb: &Verb) -> String {
    if verb.word.is_empty() {
        return "halfskip [--job FILE [--sealed]]".into();
    }
    let mut usage = format!("halfskip {}", verb.word);
    for part in [if verb.options.is_empty() { "" } else { "[options]" }, verb.operands] {
        if !part.is_empty() {
            usage += " ";
            usage += part;
        }
    }
    usage
}

/// An option with the name of its value.
fn form(option: &Choice) -> String {
    match option.value {
        Value::None => format!("--{}", option.long),
        Value::File => format!("--{} FILE", option.long),
        Value::Word(words) => format!("--{} {}", option.long, words.join("|")),
        Value::Other(name) => format!("--{} {name}", option.long),
    }
}

fn options(out: &mut String, verb: &Verb) {
    for option in verb.options {
        row(out, &format!("  {}", form(option)), option.about);
    }
}

/// An explanation beside its words, or below them when they are long.
fn row(out: &mut String, words: &str, about: &str) {
    // A text takes whatever is written to it.
    let _ = if words.len() < WIDE {
        writeln!(out, "{words:WIDE$}{about}")
    } else {
        writeln!(out, "{words}\n{:WIDE$}{about}", "")
    };
}

fn said(out: &mut String, (typed, what): &(&str, &str)) {
    let _ = writeln!(out, "  {typed:WIDER$}{what}");
}
