//! Questions: they change nothing.

use halfskip::entry::Side;

use super::{Fields, Form, INDICATION, Key, Kind, Line, PROBE, Question, Verb, question};
use crate::keys::{Build, Group};
use crate::parse::{Choice, at};

const EXPECT: &[Key] = &[Key::needed("side", Kind::Choice(Side::WORDS), "the side that the probe stands on")];
const VERB: Key = Key::given("VERB", Kind::Verb, "the verb asked about");

pub(super) const VERBS: &[Verb] = &[
    verb("beam", "near field, beam angles and refraction of a probe", &[about(&PROBE, beam, "beam p60")]),
    verb("plan", "the scan plan for joint and probes", &[Form::new(plan, "plan")]),
    verb("coverage", "how much of the weld the probes reach", &[Form::new(coverage, "coverage")]),
    verb(
        "expect",
        "where geometry will echo",
        &[Form { keys: EXPECT, ..about(&PROBE, expect, "expect p60 side=a") }],
    ),
    verb("locate", "the place of every reading", &[Form::new(locate, "locate")]),
    verb("size", "length and height of an indication", &[about(&INDICATION, size, "size 1")]),
    verb("sides", "an indication seen from both sides", &[about(&INDICATION, sides, "sides 1")]),
    verb(
        "nature",
        "character of an indication, with the evidence",
        &[about(&INDICATION, nature, "nature 1")],
    ),
    verb("rate", "an indication held to the sheet", &[about(&INDICATION, rate, "rate 1")]),
    verb(
        "margin",
        "how far an indication is from the nearest limit",
        &[about(&INDICATION, margin, "margin 1")],
    ),
    verb("why", "every step from reading to verdict", &[about(&INDICATION, why, "why 1")]),
    verb("findings", "what the examination says now", &[Form::new(findings, "findings")]),
    verb("list", "the entries with their numbers", &[Form::new(list, "list")]),
    verb("status", "what is set up and what is missing", &[Form::new(status, "status")]),
    verb("help", "the verbs, or the form of one", &[about(&VERB, help, "help reading")]),
];

const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Question, about, forms }
}

const fn about(name: &'static Key, build: Build, example: &'static str) -> Form {
    Form { name: Some(name), ..Form::new(build, example) }
}

fn beam(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Beam(fields.name()?))
}

fn plan(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::Plan)
}

fn coverage(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::Coverage)
}

fn expect(fields: &mut Fields<'_>) -> Option<Line> {
    let side = fields.needed(const { at(EXPECT, "side") })?;
    question(Question::Expect { probe: fields.name()?, side })
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

fn nature(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Nature(fields.name()?))
}

fn rate(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Rate(fields.name()?))
}

fn margin(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Margin(fields.name()?))
}

fn why(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Why(fields.name()?))
}

fn findings(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::Findings)
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
