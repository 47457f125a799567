//! Every verb: what it takes, how its words become a fact or a question, and how a fact is written again.

pub(crate) mod calibration;
pub(crate) mod checks;
pub(crate) mod joint;
pub(crate) mod material;
pub(crate) mod probe;
mod questions;
pub(crate) mod reading;
pub(crate) mod record;
pub(crate) mod report;

use halfskip::entry::Entry;

use crate::keys::{Form, Key, Kind, Verb};
use crate::parse::{Fields, Line, Question};

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
    questions::VERBS,
];

/// All verbs, in the order that `help` lists them.
pub fn all() -> impl Iterator<Item = &'static Verb> + Clone {
    VERBS.iter().flat_map(|verbs| verbs.iter())
}

/// The verb of a word.
///
/// ```
/// assert_eq!(halfskip_console::verbs::find("dac").unwrap().word, "dac");
/// assert!(halfskip_console::verbs::find("frobnicate").is_none());
/// ```
#[must_use]
pub fn find(word: &str) -> Option<&'static Verb> {
    // A job is readings almost throughout, and they are looked up before the others.
    reading::VERBS.iter().chain(all()).find(|verb| verb.word == word)
}

const PROBE: Key = Key::needed("NAME", Kind::Name, "the probe");
const INDICATION: Key = Key::needed("ID", Kind::Name, "the indication");

const fn fact(entry: Entry) -> Option<Line> {
    Some(Line::Fact(entry))
}

const fn question(question: Question) -> Option<Line> {
    Some(Line::Question(question))
}
