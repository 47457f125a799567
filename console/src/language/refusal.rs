//! Why a line is refused: where, what was wrong, what is expected, and the nearest known word.

mod wording;

use halfskip::units::decimal::DecimalError;
use halfskip::units::error::RangeError;

use crate::language::keys::{Key, KeySet};
use crate::language::text;

/// Most forms that a verb can have.
pub(crate) const MAX_FORMS: usize = 2;

/// A refused line; nothing has changed.
///
/// ```
/// use halfskip::record::entry::LengthUnit;
/// use halfskip_console::commands::parse;
/// let refusal = parse::line(b"reading 1 pth=36.9", LengthUnit::Mm).unwrap_err();
/// assert_eq!(refusal.column, 11);
/// assert_eq!(refusal.to_string(), "column 11: 'pth' is no key of reading; did you mean path?");
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Refusal<'a> {
    /// The character of the line that it is about, counted from 1.
    pub column: u16,
    /// What was wrong; its text is the message without the column.
    pub kind: RefusalKind<'a>,
}

/// What was wrong with a line.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum RefusalKind<'a> {
    /// Bytes that are no line at all.
    Text(text::Fault),
    /// A quote is opened and not closed.
    OpenQuote,
    /// A quote in the middle of a word, or something right behind a closing one.
    Quote,
    /// A `#` right behind a word: part of it, or a comment?
    Comment,
    /// A backslash in a text before anything but a quote or a backslash.
    Escape,
    /// A `=` with no key before it.
    NoKey,
    /// The first word is no verb.
    UnknownVerb {
        /// The word.
        word: &'a str,
        /// The nearest verb.
        nearest: Option<&'static str>,
    },
    /// The verb is a question of a feature that this console was built without.
    LeftOut(&'static str),
    /// The word behind the verb chooses no form of it.
    UnknownForm {
        /// The verb.
        verb: &'static str,
        /// The word; empty when the line ends.
        word: &'a str,
        /// The words that do.
        expected: [Option<&'static str>; MAX_FORMS],
        /// The nearest that does.
        nearest: Option<&'static str>,
    },
    /// The key is none of the form's.
    UnknownKey {
        /// The verb.
        verb: &'static str,
        /// The key.
        word: &'a str,
        /// The nearest key.
        nearest: Option<&'static str>,
    },
    /// The key stands there twice.
    Repeated(&'static str),
    /// The word behind the verb is missing.
    MissingName {
        /// The verb.
        verb: &'static str,
        /// What is missing.
        name: &'static Key,
    },
    /// Keys are missing.
    Missing {
        /// The verb.
        verb: &'static str,
        /// All that are missing.
        keys: KeySet,
        /// The keys that would stand for all of them.
        alone: Option<KeySet>,
    },
    /// At least one of some keys is wanted.
    MissingAny {
        /// The verb.
        verb: &'static str,
        /// The keys.
        keys: KeySet,
    },
    /// Exactly one of some keys is wanted.
    OneOf {
        /// The verb.
        verb: &'static str,
        /// The keys.
        keys: KeySet,
    },
    /// Some keys come all together or not at all.
    Together(KeySet),
    /// One key needs another.
    Needs {
        /// The key that is there.
        key: &'static str,
        /// The key that is not.
        other: &'static str,
    },
    /// Keys that stand without others have company.
    Alone {
        /// The verb.
        verb: &'static str,
        /// The keys.
        keys: KeySet,
    },
    /// A word too many.
    Surplus {
        /// The word.
        word: &'a str,
        /// It is a key of the verb, without its value.
        is_key: bool,
    },
    /// A value that is not what is expected.
    Value {
        /// The key.
        key: &'static Key,
        /// What was given; empty when nothing was.
        text: &'a str,
        /// The nearest word that would be taken.
        nearest: Option<&'static str>,
    },
    /// A number that is none, or cannot be kept exactly.
    Number {
        /// The key.
        key: &'static Key,
        /// What was given.
        text: &'a str,
        /// Why not.
        error: DecimalError,
    },
    /// A unit that the key does not take.
    Unit {
        /// The key.
        key: &'static Key,
        /// What was given.
        unit: &'a str,
        /// The unit taken.
        taken: &'static str,
        /// The other unit taken.
        alternative: Option<&'static str>,
    },
    /// A unit at one number and none at the last: which one the last is in would be a guess.
    UnitBeforeLast(&'static str),
    /// A number out of its range; the quantity is the key.
    OutOfRange(RangeError),
    /// A list with too few or too many values.
    Length {
        /// The key.
        key: &'static str,
        /// Fewest taken.
        least: u8,
        /// Most taken.
        most: u8,
    },
    /// Lists of one line that should be equally long are not.
    Unequal {
        /// One key and the count of its values.
        first: (&'static str, u8),
        /// The other.
        second: (&'static str, u8),
    },
    /// A name or a text that is too long.
    TooLong {
        /// What it is.
        key: &'static str,
        /// Most bytes taken.
        most: u8,
    },
    /// A value in quotes where none are taken.
    Quoted(&'static Key),
    /// A day that is not in the calendar.
    NoSuchDay,
    /// There is no such time of the day.
    NoSuchTime,
}

/// A refusal whose place is still a byte offset.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Fault<'a> {
    pub at: usize,
    pub kind: RefusalKind<'a>,
}

impl<'a> Fault<'a> {
    /// Counts the characters before the place.
    pub fn located(self, line: &[u8]) -> Refusal<'a> {
        // Every byte but the second and later ones of a character, 10xxxxxx, begins a character.
        let begins = |byte: &&u8| **byte & 0xc0 != 0x80;
        let column = match self.kind {
            RefusalKind::Text(fault) => fault.column().unwrap_or(1),
            _ => line.iter().take(self.at).filter(begins).count().saturating_add(1),
        };
        Refusal { column: u16::try_from(column).unwrap_or(u16::MAX), kind: self.kind }
    }
}
