//! Questions: they change nothing.

use halfskip::entry::Side;

use super::{Fields, Form, INDICATION, Key, Kind, Line, PROBE, Question, Verb, question};
use crate::keys::{Build, Group};
use crate::parse::{Choice, at};
use crate::refusal::Fault;

const EXPECT: &[Key] = &[Key::needed("side", Kind::Choice(Side::WORDS), "the side that the probe stands on")];
const VERB: Key = Key::given("VERB", Kind::Verb, "the verb asked about");

pub(super) const VERBS: &[Verb] = &[
    verb("beam", "near field, beam angles and refraction of a probe", &[about(PROBE, beam, "beam p60")]),
    verb("plan", "the scan plan for joint and probes", &[Form::new(plan, "plan")]),
    verb("coverage", "how much of the weld the probes reach", &[Form::new(coverage, "coverage")]),
    verb(
        "expect",
        "where geometry will echo",
        &[Form { keys: EXPECT, ..about(PROBE, expect, "expect p60 side=a") }],
    ),
    verb("locate", "the place of every reading", &[Form::new(locate, "locate")]),
    verb("size", "length and height of an indication", &[about(INDICATION, size, "size 1")]),
    verb("sides", "an indication seen from both sides", &[about(INDICATION, sides, "sides 1")]),
    verb("nature", "character of an indication, with the evidence", &[about(INDICATION, nature, "nature 1")]),
    verb("rate", "an indication held to the sheet", &[about(INDICATION, rate, "rate 1")]),
    verb(
        "margin",
        "how far an indication is from the nearest limit",
        &[about(INDICATION, margin, "margin 1")],
    ),
    verb("why", "every step from reading to verdict", &[about(INDICATION, why, "why 1")]),
    verb("findings", "what the examination says now", &[Form::new(findings, "findings")]),
    verb("list", "the entries with their numbers", &[Form::new(list, "list")]),
    verb("status", "what is set up and what is missing", &[Form::new(status, "status")]),
    verb("help", "the verbs, or the form of one", &[about(VERB, help, "help reading")]),
];

const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Question, about, forms }
}

const fn about(name: Key, build: Build, example: &'static str) -> Form {
    Form { name: Some(name), ..Form::new(build, example) }
}

fn beam<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Beam(fields.name()?))
}

fn plan<'a>(_: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Plan)
}

fn coverage<'a>(_: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Coverage)
}

fn expect<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let side = fields.needed(const { at(EXPECT, "side") })?;
    question(Question::Expect { probe: fields.name()?, side })
}

fn locate<'a>(_: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Locate)
}

fn size<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Size(fields.name()?))
}

fn sides<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Sides(fields.name()?))
}

fn nature<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Nature(fields.name()?))
}

fn rate<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Rate(fields.name()?))
}

fn margin<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Margin(fields.name()?))
}

fn why<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Why(fields.name()?))
}

fn findings<'a>(_: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Findings)
}

fn list<'a>(_: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::List)
}

fn status<'a>(_: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Status)
}

fn help<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    question(Question::Help(fields.optional_name()?))
}
