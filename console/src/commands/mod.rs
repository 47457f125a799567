//! Every verb: what it takes, how its words become a fact or a question, and how a fact is written again.

pub(crate) mod calibration;
#[cfg(feature = "character")]
pub(crate) mod character;
pub(crate) mod checks;
pub mod help;
pub(crate) mod joint;
pub(crate) mod material;
#[cfg(feature = "planning")]
pub(crate) mod planning;
#[cfg(feature = "plots")]
pub(crate) mod plots;
pub(crate) mod probe;
mod questions;
pub(crate) mod reading;
#[cfg(feature = "reasons")]
pub(crate) mod reasons;
pub(crate) mod record;
pub(crate) mod report;

use halfskip::record::entry::Entry;

use crate::language::keys::{Form, Key, Kind, Verb};
use crate::language::parse::{Fields, Line, Question};

/// All verbs, in the order that `help` lists them.
static VERBS: &[&[Verb]] = &[
    report::VERBS,
    material::VERBS,
    joint::VERBS,
    probe::VERBS,
    calibration::VERBS,
    checks::VERBS,
    reading::VERBS,
    record::VERBS,
    questions::OF_PROBES,
    #[cfg(feature = "planning")]
    planning::VERBS,
    #[cfg(feature = "plots")]
    plots::VERBS,
    questions::OF_INDICATIONS,
    #[cfg(feature = "character")]
    character::VERBS,
    questions::OF_VERDICTS,
    #[cfg(feature = "reasons")]
    reasons::VERBS,
    questions::OF_THE_WHOLE,
];

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

const fn question(question: Question) -> Option<Line> {
    Some(Line::Question(question))
}
