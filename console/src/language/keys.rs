//! What a line takes behind its first word: a name, keys and the rules between them. One table drives reading, suggestions
//! and help.

pub(crate) mod measures;

use core::fmt;
use core::ops::Deref;

use halfskip::units::Quantity;
use halfskip::units::decimal::fixed;
use halfskip::units::error::Range;

/// Most keys that one form of a verb can have.
pub const MAX_KEYS: usize = 19;

/// What may stand behind a word that begins a line.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Expected {
    /// The word without a key, such as the probe's name.
    pub name: Option<&'static Key>,
    /// The keys.
    pub keys: &'static [Key],
    /// Rules between the keys.
    pub rules: &'static [Rule],
}

/// One key of a form, or the word without a key.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Key {
    /// The word before the `=`; for a word without a key, what it stands for.
    pub word: &'static str,
    /// Whether the form needs it; [`Rule::Alone`] frees the others.
    pub required: bool,
    /// What its value is.
    pub kind: Kind,
    /// What it means.
    pub about: Meaning,
}

/// A rule between keys; each key is one bit, the first key the lowest.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Rule {
    /// Exactly one of these.
    OneOf(u32),
    /// All of these or none.
    Together(u32),
    /// At least one of these.
    AnyOf(u32),
    /// The first needs the second.
    Needs(u32, u32),
    /// Stand without any other key, but those that go with either form.
    Alone(u32),
    /// Go with those that stand alone, and with all others.
    WithEither(u32),
}

/// A quantity that a value is measured in.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Measure {
    /// Word, unit and limits.
    pub range: Range,
    /// The other unit that is taken.
    pub alternative: Option<&'static str>,
}

/// What a value is.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Kind {
    /// A name of up to 16 bytes.
    Name,
    /// A text of up to 120 bytes; it may be empty.
    Text,
    /// A text that says something.
    Reason,
    /// A short text of up to 40 bytes that says something.
    Short,
    /// A number with a unit.
    Number(&'static Measure),
    /// A number with a unit, or one of some words.
    NumberOr(&'static Measure, &'static [&'static str]),
    /// A number of one fixed unit, which may be left out.
    Plain(&'static Range),
    /// Numbers with commas between, at least so many and at most so many.
    List(&'static Measure, u8, u8),
    /// Pairs `path:gain` with commas between, at most so many.
    Pairs(&'static Measure, &'static Measure, u8),
    /// Two dimensions, `8x9`.
    Size(&'static Measure),
    /// Two dimensions, or one number for what is round.
    SizeOrRound(&'static Measure),
    /// A whole number between two limits.
    Count(u32, u32),
    /// One of some words.
    Choice(&'static [&'static str]),
    /// A day, `2026-03-14`.
    Date,
    /// A time of the day, `14:30`.
    Clock,
    /// A verb of the language.
    Verb,
}

impl Key {
    /// A key that the form needs.
    pub(crate) const fn needed(word: &'static str, kind: Kind, about: &'static str) -> Self {
        Self { word, required: true, kind, about: Meaning::new(about) }
    }

    /// A key that may be left out.
    pub(crate) const fn given(word: &'static str, kind: Kind, about: &'static str) -> Self {
        Self { word, required: false, kind, about: Meaning::new(about) }
    }
}

impl Rule {
    /// At least one key of a table.
    pub(crate) const fn any_of(table: &[Key]) -> Self {
        Self::AnyOf(!(u32::MAX << table.len()))
    }
}

impl Measure {
    /// A quantity held to a range of its own; does not compile when the units differ.
    pub(crate) const fn of<Q: Quantity>(range: Range) -> Self {
        assert!(same(range.unit, Q::RANGE.unit), "the range has another unit than the quantity");
        let alternative = match Q::ALTERNATIVE {
            Some(other) => Some(other.unit),
            None => None,
        };
        Self { range, alternative }
    }
}

impl Expected {
    /// Bits of the keys that are needed.
    pub(crate) const fn required(&self) -> u32 {
        let (mut bits, mut bit, mut keys) = (0, 1, self.keys);
        while let [key, rest @ ..] = keys {
            if key.required {
                bits |= bit;
            }
            (bit, keys) = (bit << 1, rest);
        }
        bits
    }

    /// Some keys, by their bits.
    #[must_use]
    pub const fn set(&self, bits: u32) -> KeySet {
        KeySet { table: self.keys, bits }
    }
}

impl Kind {
    /// The quantity of its numbers; the first of two.
    pub(crate) const fn measure(&self) -> Option<&Measure> {
        match self {
            Self::Number(measure)
            | Self::NumberOr(measure, _)
            | Self::List(measure, ..)
            | Self::Pairs(measure, ..)
            | Self::Size(measure)
            | Self::SizeOrRound(measure) => Some(measure),
            _ => None,
        }
    }

    /// The words that a value can be one of.
    pub(crate) const fn words(&self) -> &'static [&'static str] {
        match self {
            Self::Choice(words) | Self::NumberOr(_, words) => words,
            _ => &[],
        }
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.range.unit)?;
        self.alternative.map_or(Ok(()), |unit| write!(f, " or {unit}"))
    }
}

/// Words with commas between and `or` before the last.
pub(crate) fn choices<'a>(words: &'a [&'a str]) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let Some((last, others)) = words.split_last() else {
            return Ok(());
        };
        for (index, word) in others.iter().enumerate() {
            write!(f, "{}{word}", if index == 0 { "" } else { ", " })?;
        }
        write!(f, "{}{last}", if others.is_empty() { "" } else { " or " })
    })
}

/// The limits of a range, with their unit.
pub(crate) fn limits(range: Range) -> impl fmt::Display {
    fmt::from_fn(move |f| write!(f, "{} to {} {}", fixed(range.min), fixed(range.max), range.unit))
}

impl fmt::Display for Kind {
    /// What is expected, for refusals and help.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Name => f.write_str("a name of up to 16 bytes"),
            Self::Text => f.write_str("a text in quotes, up to 120 bytes"),
            Self::Reason => f.write_str("a text in quotes, up to 120 bytes"),
            Self::Short => f.write_str("a text in quotes, up to 40 bytes"),
            Self::Number(measure) => write!(f, "a number in {measure}"),
            Self::NumberOr(measure, words) => write!(f, "a number in {measure}, or {}", choices(words)),
            Self::Plain(range) => write!(f, "a number in {}", range.unit),
            Self::List(measure, least, most) => {
                write!(f, "{least} to {most} numbers in {measure} with commas between")
            }
            Self::Pairs(first, second, most) => {
                write!(f, "1 to {most} pairs such as 40:41, in {first} and {second}, with commas between")
            }
            Self::Size(measure) => write!(f, "two dimensions such as 25x6, in {measure}"),
            Self::SizeOrRound(measure) => {
                write!(f, "two dimensions such as 8x9, or one number for a round one, in {measure}")
            }
            Self::Count(min, max) => write!(f, "a whole number from {min} to {max}"),
            Self::Choice(words) => choices(words).fmt(f),
            Self::Date => f.write_str("a day such as 2026-03-14"),
            Self::Clock => f.write_str("a time such as 14:30"),
            Self::Verb => f.write_str("a verb"),
        }
    }
}

/// Some keys of a form, by their bits.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct KeySet {
    /// The form's keys.
    pub table: &'static [Key],
    /// The bits of those meant.
    pub bits: u32,
}

impl KeySet {
    /// The keys meant, in the order of the table.
    pub fn iter(&self) -> impl Iterator<Item = &'static Key> + use<> {
        let bits = self.bits;
        self.table.iter().zip(0u32..).filter(move |(_, index)| bits & bit(*index) != 0).map(|(key, _)| key)
    }
}

impl fmt::Display for KeySet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, key) in self.iter().enumerate() {
            write!(f, "{}{}=", if index == 0 { "" } else { ", " }, key.word)?;
        }
        Ok(())
    }
}

/// The bit of a key's place; none beyond [`MAX_KEYS`].
pub(crate) const fn bit(index: u32) -> u32 {
    match 1u32.checked_shl(index) {
        Some(bit) => bit,
        None => 0,
    }
}

/// The bits of some keys of a table; for `const` items, where a word that is no key does not compile.
pub(crate) const fn bits(table: &[Key], words: &[&str]) -> u32 {
    let (mut sum, mut words) = (0, words);
    while let [word, rest @ ..] = words {
        sum |= bit(place(table, word));
        words = rest;
    }
    sum
}

/// The place of a key in its table; for `const` items, where a word that is no key does not compile.
pub(crate) const fn place(table: &[Key], word: &str) -> u32 {
    assert!(table.len() <= MAX_KEYS, "the form has too many keys");
    let (mut index, mut table) = (0, table);
    while let [key, rest @ ..] = table {
        if same(key.word, word) {
            return index;
        }
        (index, table) = (index + 1, rest);
    }
    panic!("the form has no such key");
}

/// Whether two words are one, when the program is compiled.
pub(crate) const fn same(a: &str, b: &str) -> bool {
    let (mut a, mut b) = (a.as_bytes(), b.as_bytes());
    while let ([first, rest_a @ ..], [other, rest_b @ ..]) = (a, b) {
        if *first != *other {
            return false;
        }
        (a, b) = (rest_a, rest_b);
    }
    a.is_empty() && b.is_empty()
}

/// A text of `help`, which a console with the feature `terse` has no room for.
///
/// ```
/// let verb = halfskip_console::commands::find("date").unwrap();
/// let shown = verb.forms[0].example.text();
/// assert_eq!(shown, if cfg!(feature = "terse") { "" } else { "date 2026-03-14" });
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Meaning {
    #[cfg(not(feature = "terse"))]
    text: &'static str,
}

impl Meaning {
    #[cfg(not(feature = "terse"))]
    pub(crate) const fn new(text: &'static str) -> Self {
        Self { text }
    }

    #[cfg(feature = "terse")]
    pub(crate) const fn new(_: &'static str) -> Self {
        Self {}
    }

    /// The text; empty where it was left out.
    #[must_use]
    pub const fn text(&self) -> &'static str {
        #[cfg(not(feature = "terse"))]
        return self.text;
        #[cfg(feature = "terse")]
        ""
    }
}

impl Deref for Meaning {
    type Target = str;

    fn deref(&self) -> &str {
        self.text()
    }
}

impl fmt::Display for Meaning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}
