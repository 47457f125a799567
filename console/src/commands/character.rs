//! The question of the feature `character`.

use halfskip::units::decimal::Entered;
use halfskip::units::{Decibels, Degrees};

use super::questions::{about, verb};
use super::{Fields, Form, INDICATION, Key, Kind, Line, Question, Verb, question};
use crate::language::keys::measures;
use crate::language::values::at;

/// The thresholds that `nature ID` was given; the others are the core's defaults.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Given {
    /// Stage 1: classified from this level up.
    pub evaluation: Option<Entered<Decibels>>,
    /// Stage 2: planar from this level up.
    pub planar: Option<Entered<Decibels>>,
    /// Stage 3: directions are compared from this level up.
    pub compared: Option<Entered<Decibels>>,
    /// Stage 3: the difference that a plane makes.
    pub difference: Option<Entered<Decibels>>,
    /// Stage 3: the least angle between two directions.
    pub apart: Option<Entered<Degrees>>,
}

/// Thresholds of the classification standard's stages.
const NATURE: &[Key] = &[
    Key::given("evaluation", Kind::Number(measures::STAGE), "stage 1: classified from this level up"),
    Key::given("planar", Kind::Number(measures::STAGE), "stage 2: planar from this level up"),
    Key::given("compared", Kind::Number(measures::STAGE), "stage 3: directions compared from this level up"),
    Key::given(
        "difference",
        Kind::Number(measures::DIFFERENCE),
        "stage 3: the difference that a plane makes",
    ),
    Key::given("apart", Kind::Number(measures::APART), "stage 3: the least angle between two directions"),
];

pub(super) const VERBS: &[Verb] = &[verb(
    "nature",
    "character of an indication, with the evidence",
    &[Form { keys: NATURE, ..about(&INDICATION, nature, "nature 1") }],
)];

fn nature(fields: &mut Fields<'_>) -> Option<Line> {
    let given = Given {
        evaluation: fields.given(const { at(NATURE, "evaluation") }),
        planar: fields.given(const { at(NATURE, "planar") }),
        compared: fields.given(const { at(NATURE, "compared") }),
        difference: fields.given(const { at(NATURE, "difference") }),
        apart: fields.given(const { at(NATURE, "apart") }),
    };
    question(Question::Nature(fields.name()?, given))
}
