//! The published values in `vectors/*.toml`: reading them, and holding an answer against the print.
//!
//! A case gives inputs with their units in the keys, and either the expected value as printed or the kind of refusal.
//! The tolerance comes out of the printed text: half a unit of the last digit, unless the case says how many units and
//! why. A negative case carries a printed value that is wrong and must not be reproduced.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use serde::Deserialize;

use crate::printed::Printed;

mod file;

pub use file::{Unusable, Vectors, read, read_all};

/// One input of a case.
#[derive(Clone, PartialEq, Debug, Deserialize)]
#[serde(untagged)]
pub enum Input {
    /// A number in the unit that its key names.
    Number(f64),
    /// A word.
    Word(String),
    /// Several numbers.
    Numbers(Vec<f64>),
    /// Several words.
    Words(Vec<String>),
}

/// Where a file's values come from.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Provenance {
    /// The core module that the file checks.
    pub module: String,
    /// How the values got into the file.
    pub transcribed: String,
    /// What a reader must know before trusting them.
    pub note: String,
}

/// One check.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Case {
    /// Unique in its file.
    pub id: String,
    /// What is computed.
    pub quantity: String,
    inputs: BTreeMap<String, Input>,
    expected: Option<String>,
    error: Option<String>,
    /// Set where the printed value is wrong and must not be reproduced.
    #[serde(default)]
    pub negative: bool,
    /// Unit of the expected value.
    pub unit: String,
    /// The published source, and the place in it.
    pub source: String,
    /// Of the source: A standard or handbook, B institute or textbook, C examination or slides, D unsigned, - none.
    pub grade: String,
    /// How the expected value is known.
    pub status: Status,
    /// Which branch or trap the case exercises.
    pub why: String,
    last_digit_units: Option<f64>,
    because: Option<String>,
    #[serde(skip)]
    read: RefCell<BTreeSet<String>>,
}

/// How an expected value is known.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Deserialize)]
pub enum Status {
    /// The number was read in the source.
    #[serde(rename = "SEEN")]
    Seen,
    /// Question and inputs were read in the source, the answer was not.
    #[serde(rename = "SEEN-Q")]
    QuestionSeen,
    /// Recalled, not read.
    #[serde(rename = "MEMORY")]
    Memory,
    /// Worked out here: a consistency test.
    #[serde(rename = "DERIVED")]
    Derived,
}

/// What the library answered.
#[derive(Clone, PartialEq, Debug)]
pub enum Answer {
    /// A number in the case's unit.
    Number(f64),
    /// A word, such as a verdict.
    Word(String),
    /// A refusal, by the kind that the vector files use.
    Refused(&'static str),
}

/// An answer that does not agree with its case.
#[derive(Clone, PartialEq, Debug)]
pub struct Mismatch {
    id: String,
    expected: String,
    got: String,
    why: String,
    source: String,
}

impl fmt::Display for Mismatch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { id, expected, got, why, source } = self;
        write!(f, "{id}: expected {expected}, got {got}\n    {why}\n    {source}")
    }
}

impl Case {
    fn input(&self, key: &str) -> Option<&Input> {
        self.read.borrow_mut().insert(key.to_owned());
        self.inputs.get(key)
    }

    /// A numeric input, where the case has it.
    #[must_use]
    pub fn find(&self, key: &str) -> Option<f64> {
        match self.input(key) {
            Some(Input::Number(number)) => Some(*number),
            _ => None,
        }
    }

    /// A numeric input that the quantity cannot do without.
    ///
    /// # Panics
    /// When the case does not have it: the file is wrong.
    #[must_use]
    pub fn number(&self, key: &str) -> f64 {
        self.find(key).unwrap_or_else(|| panic!("{}: number '{key}' is missing", self.id))
    }

    /// A word, where the case has it.
    #[must_use]
    pub fn word(&self, key: &str) -> Option<&str> {
        match self.input(key) {
            Some(Input::Word(word)) => Some(word),
            _ => None,
        }
    }

    /// A list of numbers; empty where the case has none.
    #[must_use]
    pub fn numbers(&self, key: &str) -> &[f64] {
        match self.input(key) {
            Some(Input::Numbers(numbers)) => numbers,
            _ => &[],
        }
    }

    /// A list of words; empty where the case has none.
    #[must_use]
    pub fn words(&self, key: &str) -> &[String] {
        match self.input(key) {
            Some(Input::Words(words)) => words,
            _ => &[],
        }
    }

    /// The expected value, where it is a printed number.
    #[must_use]
    pub fn printed(&self) -> Option<Printed> {
        Printed::read(self.expected.as_deref()?)
    }

    /// The inputs that no one has asked for: a misspelt key, or a binding that forgets one.
    #[must_use]
    pub fn unread(&self) -> Vec<&str> {
        let read = self.read.borrow();
        let unread = self.inputs.keys().filter(|key| !read.contains(*key));
        unread.map(String::as_str).collect()
    }

    /// What an answer may differ by: the print's own half digit (or what the case grants), and `budget` for the arithmetic.
    #[must_use]
    pub fn tolerance(&self, printed: &Printed, budget: f64) -> f64 {
        self.last_digit_units.unwrap_or(0.5) * printed.last_digit() + budget
    }

    /// Holds an answer against the case; `budget` is the arithmetic's own share of the tolerance, relative to the value.
    ///
    /// # Errors
    /// [`Mismatch`] with what was expected and what was got.
    pub fn judge(&self, answer: &Answer, budget: f64) -> Result<(), Mismatch> {
        let (agrees, expected) = match (&self.expected, &self.error) {
            (Some(text), _) => match Printed::read(text) {
                Some(printed) => {
                    let tolerance = self.tolerance(&printed, budget * printed.value().abs());
                    let near = |got: f64| (got - printed.value()).abs() <= tolerance;
                    let agrees = matches!(answer, Answer::Number(got) if got.is_finite() && near(*got) != self.negative);
                    let not = if self.negative { "anything but " } else { "" };
                    (agrees, format!("{not}{printed} +- {tolerance:.3e} {}", self.unit))
                }
                None => (*answer == Answer::Word(text.clone()), text.clone()),
            },
            (None, Some(kind)) => {
                (matches!(answer, Answer::Refused(got) if got == kind), format!("refusal '{kind}'"))
            }
            (None, None) => (false, "nothing".to_owned()),
        };
        if agrees {
            return Ok(());
        }
        Err(Mismatch {
            id: self.id.clone(),
            expected,
            got: match answer {
                Answer::Number(got) => format!("{got}"),
                Answer::Word(got) => got.clone(),
                Answer::Refused(kind) => format!("refusal '{kind}'"),
            },
            why: self.why.clone(),
            source: self.source.clone(),
        })
    }

    /// What is wrong with the case as written, if anything.
    fn fault(&self) -> Option<&'static str> {
        let numeric = self.expected.as_deref().is_some_and(|text| Printed::read(text).is_some());
        let word = self.unit == "word";
        match () {
            () if self.expected.is_some() == self.error.is_some() => Some("needs either expected or error"),
            () if self.expected.is_some() && numeric == word => {
                Some("expected is no plain number, or a word has no unit 'word'")
            }
            () if self.last_digit_units.is_some() != self.because.is_some() => {
                Some("last-digit-units needs because")
            }
            () if self.last_digit_units.is_some_and(|units| !(0.0..=2.0).contains(&units)) => {
                Some("too many units")
            }
            () if self.negative && !numeric => Some("a negative case needs a number"),
            () if self.why.is_empty() || self.source.is_empty() => Some("needs why and source"),
            () if !["A", "B", "C", "D", "-"].contains(&self.grade.as_str()) => Some("unknown grade"),
            () if self.status == Status::Seen && self.grade == "-" => {
                Some("a seen value has a graded source")
            }
            () => None,
        }
    }
}
