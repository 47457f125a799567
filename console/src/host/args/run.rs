//! The arguments of what evaluates a job, and of what explains the program.

use std::format;
use std::string::{String, ToString};

use lexopt::prelude::{Long, Value};

use super::usage::VERBS;
use super::{Command, Format, Run, alone, source, unknown, wrong};
use crate::host::manual::completions::Completed;
use crate::verbs;

pub(super) fn run(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let (mut job, mut format, mut strict, mut stream) = (None, None, false, false);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Long("format") => {
                let word = parser.value().map_err(wrong)?;
                format = Some(match word.to_str() {
                    Some("text") => Format::Text,
                    Some("json") => Format::Json,
                    Some("csv") => Format::Csv,
                    _ => {
                        let word = word.display();
                        return Err(format!("unknown format '{word}'; expected text, json or csv"));
                    }
                });
            }
            Long("strict") => strict = true,
            Long("stream") => stream = true,
            Value(path) if job.is_none() => job = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    let Some(job) = job else {
        return Err("run needs a job file, or - for standard input".to_string());
    };
    if stream && matches!(format, Some(Format::Text | Format::Csv)) {
        return Err("--stream writes JSON lines only".to_string());
    }
    if stream && strict {
        return Err("--strict judges a whole job; --stream keeps none of it".to_string());
    }
    Ok(Command::Run(Run {
        job,
        format: format.unwrap_or(if stream { Format::Json } else { Format::Text }),
        strict,
        stream,
    }))
}

pub(super) fn plan(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let mut job = None;
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Value(path) if job.is_none() => job = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    job.map(Command::Plan).ok_or("plan needs a job file, or - for standard input".to_string())
}

pub(super) fn completions(parser: &mut lexopt::Parser) -> Result<Command, String> {
    match parser.next().map_err(wrong)? {
        Some(Long("help")) => alone(parser, Command::Help(None)),
        Some(Value(word)) => match word.to_str().and_then(Completed::find) {
            Some(shell) => end(parser, Command::Completions(shell)),
            None => Err(format!("unknown shell '{}'; expected bash, zsh or fish", word.display())),
        },
        Some(other) => Err(wrong(other.unexpected())),
        None => Err("completions needs a shell: bash, zsh or fish".to_string()),
    }
}

pub(super) fn tour(parser: &mut lexopt::Parser) -> Result<Command, String> {
    end(parser, Command::Tour)
}

pub(super) fn manual(parser: &mut lexopt::Parser) -> Result<Command, String> {
    end(parser, Command::Manual)
}

pub(super) fn help(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let word = match parser.next().map_err(wrong)? {
        None => return Ok(Command::Help(None)),
        Some(Long("help")) => return alone(parser, Command::Help(Some("help"))),
        Some(Value(word)) => word,
        Some(other) => return Err(wrong(other.unexpected())),
    };
    let words = || VERBS.iter().map(|verb| verb.word).chain(verbs::all().map(|verb| verb.word));
    let known = word.to_str().and_then(|word| words().find(|known| *known == word));
    match known {
        Some(word) => end(parser, Command::Help(Some(word))),
        None => Err(unknown("verb", &word, words())),
    }
}

/// A command that nothing more may stand behind.
fn end(parser: &mut lexopt::Parser, command: Command) -> Result<Command, String> {
    match parser.next().map_err(wrong)? {
        None => Ok(command),
        Some(Long("help")) => alone(parser, Command::Help(None)),
        Some(other) => Err(wrong(other.unexpected())),
    }
}
