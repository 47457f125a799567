//! One line of the language: to a fact, to a question, or to a refusal.

use halfskip::record::entry::LengthUnit;

#[cfg(feature = "planning")]
pub use super::meaning::Faces;
pub use super::meaning::{Line, Question, Stages};
use super::table::{Form, Verb};
use super::{all, find, left_out};
use crate::language::nearest::nearest;
use crate::language::refusal::{Fault, MAX_FORMS, Refusal, RefusalKind};
use crate::language::values::Fields;
use crate::language::words::{Value, Word, Words};

/// Reads one line, with or without its end; a blank line or a comment alone is nothing.
///
/// `default` is the unit of a length without one.
///
/// # Errors
/// [`Refusal`] with the column, what was wrong and what is expected.
///
/// ```
/// use halfskip::record::entry::{AngleKnown, Entry, LengthUnit};
/// use halfskip_console::commands::parse::{Line, line};
/// let Ok(Some(Line::Fact(Entry::Angle(angle)))) = line(b"angle p60 depth=0.5 distance=0.9", LengthUnit::In) else {
///     panic!("not the fact expected");
/// };
/// let AngleKnown::Hole { depth, .. } = angle.how else { panic!("stated") };
/// assert_eq!(depth.quantity().get(), 12.7);
/// assert_eq!(line(b"  # nothing", LengthUnit::Mm), Ok(None));
/// assert!(line(b"angle p60 depth=15deg distance=26", LengthUnit::Mm).is_err());
/// ```
pub fn line(bytes: &[u8], default: LengthUnit) -> Result<Option<Line>, Refusal<'_>> {
    line_among(bytes, default, |_| true)
}

/// Reads a line as [`line()`] does for a console that has only some of the verbs, and refuses the others by name.
#[inline(never)]
pub(crate) fn line_among(
    bytes: &[u8],
    default: LengthUnit,
    has: fn(&Verb) -> bool,
) -> Result<Option<Line>, Refusal<'_>> {
    // Some editors begin a file with a byte order mark, which says nothing in UTF-8.
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
    read(bytes, default, has).map_err(|fault| fault.located(bytes))
}

fn read(bytes: &[u8], default: LengthUnit, has: fn(&Verb) -> bool) -> Result<Option<Line>, Fault<'_>> {
    let mut words = Words::new(bytes)?;
    let Some(first) = words.next()? else {
        return Ok(None);
    };
    let (at, verb) = verb(first, has)?;
    if !has(verb) {
        return Err(Fault { at, kind: RefusalKind::LeftOut(verb.word) });
    }
    let form = form(verb, &mut words)?;
    let mut fields = Fields::new(verb.word, form.expected, default);
    let mut next_key = 0;
    while let Some(word) = words.next()? {
        match word {
            Word::Plain(value) if fields.put_name(value) => {}
            Word::Plain(Value { at, text, .. }) => {
                let is_key = form.expected.keys.iter().any(|key| key.word == text);
                return Err(Fault { at, kind: RefusalKind::Surplus { word: text, is_key } });
            }
            Word::Keyed { at, key, value } => {
                let index = place(form, key, next_key).ok_or_else(|| unknown_key(verb, form, at, key))?;
                fields.put(index, at, value)?;
                next_key = index.saturating_add(1);
            }
        }
    }
    fields.end = words.at();
    fields.checked()?;
    fields.built(form.build)
}

fn verb(first: Word<'_>, has: fn(&Verb) -> bool) -> Result<(usize, &'static Verb), Fault<'_>> {
    let (at, word) = match first {
        Word::Plain(Value { at, text, quoted: false }) => (at, text),
        Word::Plain(Value { at, text, .. }) => (at.saturating_sub(1), text),
        Word::Keyed { at, key, .. } => (at, key),
    };
    let plain = matches!(first, Word::Plain(Value { quoted: false, .. }));
    find(word).filter(|_| plain).map(|verb| (at, verb)).ok_or_else(|| {
        if let Some(word) = left_out(word) {
            return Fault { at, kind: RefusalKind::LeftOut(word) };
        }
        let nearest = nearest(word, all().filter(|verb| has(verb)).map(|verb| verb.word));
        Fault { at, kind: RefusalKind::UnknownVerb { word, nearest } }
    })
}

/// The verb's only form, or the one that the next word chooses.
fn form<'a>(verb: &'static Verb, words: &mut Words<'a>) -> Result<&'static Form, Fault<'a>> {
    if let [form @ Form { fixed: None, .. }] = verb.forms {
        return Ok(form);
    }
    let (at, word) = match words.next()? {
        Some(Word::Plain(Value { at, text, .. })) => (at, text),
        Some(Word::Keyed { at, .. }) => (at, ""),
        None => (words.at(), ""),
    };
    verb.forms.iter().find(|form| form.fixed == Some(word)).ok_or_else(|| {
        let words = || verb.forms.iter().filter_map(|form| form.fixed);
        let mut expected = [None; MAX_FORMS];
        expected.iter_mut().zip(words()).for_each(|(place, word)| *place = Some(word));
        let kind =
            RefusalKind::UnknownForm { verb: verb.word, word, expected, nearest: nearest(word, words()) };
        Fault { at, kind }
    })
}

/// The place of a key; in a line whose keys stand in the table's order each is found at the first look.
fn place(form: &Form, key: &str, next: usize) -> Option<usize> {
    if form.expected.keys.get(next).is_some_and(|candidate| candidate.word == key) {
        return Some(next);
    }
    form.expected.keys.iter().position(|candidate| candidate.word == key)
}

fn unknown_key<'a>(verb: &'static Verb, form: &'static Form, at: usize, word: &'a str) -> Fault<'a> {
    let nearest = nearest(word, form.expected.keys.iter().map(|key| key.word));
    Fault { at, kind: RefusalKind::UnknownKey { verb: verb.word, word, nearest } }
}
