//! Every verb: what it takes, how its words become a fact or a question, and how a fact is written again.

pub(crate) mod calibration;
#[cfg(feature = "character")]
pub(crate) mod character;
pub(crate) mod checks;
pub mod help;
pub(crate) mod joint;
pub(crate) mod material;
pub mod parse;
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
pub mod write;

use halfskip::record::entry::Entry;

use crate::language::keys::{Expected, Key, Kind, Meaning, Rule};
use crate::language::nearest::nearest;
use crate::language::refusal::RefusalKind;
use crate::language::values::{Fields, Reader, Reads};
use crate::language::words::Value;
use parse::{Line, Question};

/// A verb of the line language.
#[derive(Clone, Copy, Debug)]
pub struct Verb {
    /// The word.
    pub word: &'static str,
    /// Where `help` lists it.
    pub group: Group,
    /// What it is for, in one line.
    pub about: &'static str,
    /// Its forms; more than one only where a fixed second word tells them apart.
    pub forms: &'static [Form],
}

impl PartialEq for Verb {
    fn eq(&self, other: &Self) -> bool {
        self.word == other.word
    }
}

/// The groups that `help` lists the verbs in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Group {
    /// The report's head.
    Report,
    /// Material, joint and probes.
    Setup,
    /// Calibration and its checks.
    Calibration,
    /// Readings and what was seen.
    Examination,
    /// Questions; they change nothing.
    Question,
}

/// One form of a verb.
#[derive(Clone, Copy, Debug)]
pub struct Form {
    /// The second word that chooses this form.
    pub fixed: Option<&'static str>,
    /// The word without a key, such as the probe's name.
    pub name: Option<&'static Key>,
    /// The keys.
    pub keys: &'static [Key],
    /// Rules between the keys.
    pub rules: &'static [Rule],
    /// A line that shows the form.
    pub example: Meaning,
    pub(crate) build: Build,
}

/// Makes the line's meaning out of its words.
pub(crate) type Build = for<'f, 'a> fn(&'f mut Fields<'a>) -> Option<Line>;

impl Form {
    /// A form without a name and without keys, to fill in.
    pub(crate) const fn new(build: Build, example: &'static str) -> Self {
        Self { fixed: None, name: None, keys: &[], rules: &[], example: Meaning::new(example), build }
    }

    /// What may stand behind its fixed words.
    #[must_use]
    pub const fn expected(&self) -> Expected {
        Expected { name: self.name, keys: self.keys, rules: self.rules }
    }
}

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
