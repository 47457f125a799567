//! Every verb: what it takes, how its words become a fact or a question, and how a fact is written again.

mod calibration;
mod checks;
pub mod help;
mod meaning;
pub mod parse;
mod questions;
mod reading;
mod report;
mod setup;
mod table;
pub mod write;

use halfskip::record::entry::Entry;

use crate::language::keys::{Key, Kind};
use crate::language::nearest::nearest;
use crate::language::refusal::RefusalKind;
use crate::language::values::{Reader, Reads};
use crate::language::words::Value;
use meaning::Line;
pub use table::{Form, Group, Verb};

/// All verbs, in the order that `help` lists them.
static VERBS: &[&[Verb]] =
    &[report::VERBS, setup::VERBS, calibration::VERBS, checks::VERBS, reading::VERBS, questions::VERBS];

/// Questions of the features that this console was built without.
const LEFT_OUT: &[&[&str]] = &[
    #[cfg(not(feature = "planning"))]
    &["plan", "coverage", "expect", "section"],
    #[cfg(not(feature = "plots"))]
    &["curve", "along", "dynamic"],
    #[cfg(not(feature = "character"))]
    &["nature"],
    #[cfg(not(feature = "reasons"))]
    &["margin", "why"],
];

/// All verbs, in the order that `help` lists them.
pub fn all() -> impl Iterator<Item = &'static Verb> + Clone {
    VERBS.iter().flat_map(|verbs| verbs.iter())
}

/// The verb of a word.
///
/// ```
/// assert_eq!(halfskip_console::commands::find("dac").unwrap().word, "dac");
/// assert!(halfskip_console::commands::find("frobnicate").is_none());
/// ```
#[must_use]
pub fn find(word: &str) -> Option<&'static Verb> {
    // A job is readings almost throughout, and they are looked up before the others.
    reading::VERBS.iter().chain(all()).find(|verb| verb.word == word)
}

/// The verb of a word that a console with all features would know.
pub(crate) fn left_out(word: &str) -> Option<&'static str> {
    LEFT_OUT.iter().flat_map(|words| words.iter()).find(|known| **known == word).copied()
}

const PROBE: Key = Key::needed("NAME", Kind::Name, "the probe");
const INDICATION: Key = Key::needed("ID", Kind::Name, "the indication");

const fn fact(entry: Entry) -> Option<Line> {
    Some(Line::Fact(entry))
}

/// The word of a verb.
impl Reads for &'static str {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let word = reader.plain(key, value)?;
        let Some(verb) = find(word) else {
            let nearest = nearest(word, all().map(|verb| verb.word));
            return reader.refuse(value.at, RefusalKind::UnknownVerb { word, nearest });
        };
        Some(verb.word)
    }
}
