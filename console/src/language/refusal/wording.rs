//! The one line that a refusal prints.

use core::fmt;

use super::{Refusal, RefusalKind};
use crate::language::keys::Kind;

impl fmt::Display for Refusal<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "column {}: {}", u32::from(self.column), self.kind)
    }
}

impl core::error::Error for Refusal<'_> {}

impl core::error::Error for RefusalKind<'_> {}

impl fmt::Display for RefusalKind<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Text(fault) => fault.fmt(f),
            Self::OpenQuote => f.write_str("the quote opened here is not closed"),
            Self::Quote => {
                f.write_str("misplaced quote; a text in quotes stands alone or right behind key=, a \" in it is written \\\"")
            }
            Self::Comment => f.write_str("# inside a word; expected quotes, or a blank before it"),
            Self::Escape => f.write_str("only \\\" and \\\\ are taken behind a backslash in quotes"),
            Self::NoKey => f.write_str("no key before '='; expected key=value without blanks"),
            Self::UnknownVerb { word, nearest } => {
                write!(f, "{} is no verb", excerpt(word))?;
                if matches!(word, "exit" | "quit") {
                    return f.write_str("; Ctrl-D ends the session");
                }
                suggestion(f, nearest)?;
                if nearest.is_none() { f.write_str("; help lists them") } else { Ok(()) }
            }
            Self::LeftOut(verb) => write!(f, "{verb} is not part of this console"),
            Self::UnknownForm { verb, word, expected, nearest } => {
                if word.is_empty() {
                    write!(f, "{verb} is not complete")?;
                } else {
                    write!(f, "{} is not known behind {verb}", excerpt(word))?;
                }
                for (index, word) in expected.iter().flatten().enumerate() {
                    write!(f, "{}{verb} {word}", if index == 0 { "; expected " } else { " or " })?;
                }
                suggestion(f, nearest)
            }
            Self::UnknownKey { verb, word, nearest } => {
                write!(f, "{} is no key of {verb}", excerpt(word))?;
                suggestion(f, nearest)?;
                if nearest.is_none() { write!(f, "; help {verb} lists them") } else { Ok(()) }
            }
            Self::Repeated(key) => write!(f, "{key}= stands here a second time"),
            Self::MissingName { verb, name } => {
                write!(f, "{verb} is not complete; expected {verb} {}, {}", name.word, name.kind)
            }
            Self::Missing { verb, keys, alone } => {
                write!(f, "{verb} is not complete; expected also {keys}")?;
                alone.map_or(Ok(()), |keys| write!(f, ", or {keys} alone"))
            }
            Self::MissingAny { verb, keys } => {
                write!(f, "{verb} says nothing; expected at least one of {keys}")
            }
            Self::OneOf { verb, keys } => write!(f, "{verb} takes exactly one of {keys}"),
            Self::Together(keys) => write!(f, "{keys} come all together or not at all"),
            Self::Needs { key, other } => write!(f, "{key}= needs {other}= beside it"),
            Self::Alone { verb, keys } if keys.bits.count_ones() == 1 => {
                write!(f, "{keys} stands alone; expected no other key of {verb} beside it")
            }
            Self::Alone { verb, keys } => {
                write!(f, "{keys} take the place of all other keys of {verb}; expected the one or the other")
            }
            Self::Surplus { word, is_key: true } => {
                write!(f, "{word} is a key; expected {word}=value without blanks")
            }
            Self::Surplus { word, is_key: false } => {
                write!(f, "{} is one word too many; expected key=value, quotes around several words, a unit right behind its number", excerpt(word))
            }
            Self::Value { key, text, nearest } => {
                if text.is_empty() {
                    write!(f, "{} is empty", key.word)?;
                } else {
                    write!(f, "{} is {}", key.word, excerpt(text))?;
                }
                write!(f, "; expected {}", key.kind)?;
                suggestion(f, nearest)
            }
            Self::Number { key, text, error } => write!(f, "{}: {} {error}", key.word, excerpt(text)),
            Self::Unit { key, unit, taken, alternative } => {
                write!(f, "{} is not measured in {}; expected {taken}", key.word, excerpt(unit))?;
                alternative.map_or(Ok(()), |unit| write!(f, " or {unit}"))
            }
            Self::UnitBeforeLast(key) => {
                write!(f, "{key}: the last number has no unit; expected one behind the last, or none")
            }
            Self::OutOfRange(error) => error.fmt(f),
            Self::Length { key, least, most } => write!(f, "{key} takes {least} to {most} values"),
            Self::Unequal { first, second } => write!(
                f,
                "{} has {} values and {} has {}; expected as many of each",
                first.0, first.1, second.0, second.1
            ),
            Self::TooLong { key, most } => write!(f, "{key} is longer than {most} bytes"),
            Self::Quoted(key) => write!(f, "{} takes no quotes; expected {}", key.word, key.kind),
            Self::NoSuchDay => {
                write!(f, "no such day from 1900 to 9999; expected {}", Kind::Date)
            }
            Self::NoSuchTime => write!(f, "no such time from 00:00 to 23:59; expected {}", Kind::Clock),
        }
    }
}

fn suggestion(f: &mut fmt::Formatter<'_>, nearest: Option<&str>) -> fmt::Result {
    nearest.map_or(Ok(()), |word| write!(f, "; did you mean {word}?"))
}

/// The beginning of what was typed, in quotes.
fn excerpt(text: &str) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        const LONGEST: usize = 24;
        match text.char_indices().nth(LONGEST) {
            Some((end, _)) => write!(f, "'{}...'", text.get(..end).unwrap_or_default()),
            None => write!(f, "'{}'", text),
        }
    })
}
