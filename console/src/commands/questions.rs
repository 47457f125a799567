//! Questions that every console answers, in the parts that the others stand between; they change nothing.

use super::{Build, Group};
use super::{Fields, Form, INDICATION, Key, Kind, Line, PROBE, Question, Verb, question};

const OF_ONE: Key = Key::given("ID", Kind::Name, "the indication; all without it");
const VERB: Key = Key::given("VERB", Kind::Verb, "the verb asked about");

pub(super) const OF_PROBES: &[Verb] =
    &[verb("beam", "near field, beam angles and refraction of a probe", &[about(&PROBE, beam, "beam p60")])];

pub(super) const OF_INDICATIONS: &[Verb] = &[
    verb("locate", "the place of every reading", &[Form::new(locate, "locate")]),
    verb("size", "length and height of an indication", &[about(&INDICATION, size, "size 1")]),
    verb("sides", "an indication seen from both sides", &[about(&INDICATION, sides, "sides 1")]),
];

pub(super) const OF_VERDICTS: &[Verb] =
    &[verb("rate", "an indication held to the sheet", &[about(&INDICATION, rate, "rate 1")])];

pub(super) const OF_THE_WHOLE: &[Verb] = &[
    verb("findings", "what the examination says now", &[Form::new(findings, "findings")]),
    verb(
        "grounds",
        "what an accept rests on: met, stated, not met, not asked",
        &[about(&OF_ONE, grounds, "grounds 1")],
    ),
    verb("list", "the entries with their numbers", &[Form::new(list, "list")]),
    verb("status", "what is set up and what is missing", &[Form::new(status, "status")]),
    verb("help", "the verbs, or the form of one", &[about(&VERB, help, "help reading")]),
];

pub(super) const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Question, about, forms }
}

pub(super) const fn about(name: &'static Key, build: Build, example: &'static str) -> Form {
    Form { name: Some(name), ..Form::new(build, example) }
}

fn beam(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Beam(fields.name()?))
}

fn locate(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::Locate)
}

fn size(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Size(fields.name()?))
}

fn sides(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Sides(fields.name()?))
}

fn rate(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Rate(fields.name()?))
}

fn findings(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::Findings)
}

fn grounds(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Grounds(fields.name()))
}

fn list(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::List)
}

fn status(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::Status)
}

fn help(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Help(fields.name()))
}
