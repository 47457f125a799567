//! What is wrong with the arguments, in one line.

use std::error::Error as _;
use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Command, CommandFactory, Error};

use super::Arguments;
use crate::language::nearest::nearest;

/// What the first of these says, word by word where it has several.
fn words(error: &Error, kind: ContextKind) -> Vec<String> {
    match error.get(kind) {
        Some(ContextValue::String(word)) => Vec::from([word.clone()]),
        Some(ContextValue::Strings(words)) => words.clone(),
        _ => Vec::new(),
    }
}

/// "a, b or c".
fn either(words: &[String]) -> String {
    match words {
        [before @ .., last] if !before.is_empty() => format!("{} or {last}", before.join(", ")),
        _ => words.concat(),
    }
}

/// What is wrong, and what would be right.
pub fn told(error: &Error) -> String {
    let first = |kind| words(error, kind).into_iter().next().unwrap_or_default();
    let argument = first(ContextKind::InvalidArg);
    // "--format <FORMAT>" is what a person calls the format.
    let short = argument.split(' ').next().unwrap_or_default();
    let plain = short.trim_matches(['-', '<', '>', '[', ']', '.']).to_lowercase();
    let what = match error.kind() {
        ErrorKind::InvalidSubcommand => {
            let word = first(ContextKind::InvalidSubcommand);
            let program = Arguments::command();
            let known: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
            let near = nearest(&word, known.into_iter()).map(ToString::to_string);
            return near_to(&format!("unknown command '{word}'"), near);
        }
        ErrorKind::UnknownArgument => format!("'{argument}' is not expected here"),
        ErrorKind::InvalidValue => {
            let (value, valid) = (first(ContextKind::InvalidValue), words(error, ContextKind::ValidValue));
            return match (value.as_str(), valid.as_slice()) {
                ("", []) => format!("{short} needs a value; see halfskip --help"),
                ("", valid) => format!("{short} needs a value: {}", either(valid)),
                (value, valid) => format!("unknown {plain} '{value}'; expected {}", either(valid)),
            };
        }
        ErrorKind::ValueValidation => {
            let why = error.source().map(ToString::to_string).unwrap_or_default();
            return format!("{short}: {why}");
        }
        ErrorKind::MissingRequiredArgument => {
            format!("missing: {}", words(error, ContextKind::InvalidArg).join(", "))
        }
        _ => {
            let text = error.to_string();
            let line = text.lines().next().unwrap_or_default();
            line.strip_prefix("error: ").unwrap_or(line).to_string()
        }
    };
    near_to(&what, words(error, ContextKind::SuggestedArg).into_iter().next())
}

/// The same with what was meant, or where to look for it.
fn near_to(what: &str, near: Option<String>) -> String {
    match near {
        Some(near) => format!("{what}; did you mean {near}?"),
        None => format!("{what}; see halfskip --help"),
    }
}
