//! Questions: they change nothing.

use halfskip::entry::Side;
use halfskip::plan::MAX_LEGS;

use super::{Fields, Form, INDICATION, Key, Kind, Line, PROBE, Question, Verb, question};
use crate::keys::{Build, Group, Rule, bits, measures};
use crate::parse::{Choice, Given, at};

const LEGS: Key = Key::given("legs", Kind::Count(1, MAX_LEGS), "the last leg that may be used; absent = 2");
const PLAN: &[Key] = &[
    LEGS,
    Key::given("pulse-rate", Kind::Count(1, 100_000), "pulses a second, for the highest scanning speed"),
    Key::given("pulses", Kind::Count(1, 1_000), "wanted on each step; absent = 1"),
];
const COVERAGE: &[Key] = &[LEGS];
const EXPECT: &[Key] =
    &[Key::needed("side", Kind::Choice(Side::WORDS), "the side that the probe stands on"), LEGS];
const SECTION: &[Key] = &[
    Key::given("probe", Kind::Name, "the probe whose beam is drawn"),
    Key::given("side", Kind::Choice(Side::WORDS), "the side that it stands on"),
    Key::given("standoff", Kind::Number(measures::STANDOFF), "where it stands; absent = leg 1 at the root"),
    LEGS,
];
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
/// The legs of a question that does not say.
const UNTOLD: u32 = 2;
const VERB: Key = Key::given("VERB", Kind::Verb, "the verb asked about");

pub(super) const VERBS: &[Verb] = &[
    verb("beam", "near field, beam angles and refraction of a probe", &[about(&PROBE, beam, "beam p60")]),
    verb(
        "plan",
        "the scan plan for joint and probes",
        &[Form {
            keys: PLAN,
            rules: &[Rule::Needs(bits(PLAN, &["pulses"]), bits(PLAN, &["pulse-rate"]))],
            ..Form::new(plan, "plan")
        }],
    ),
    verb(
        "coverage",
        "how much of the weld the probes reach",
        &[Form { keys: COVERAGE, ..Form::new(coverage, "coverage") }],
    ),
    verb(
        "expect",
        "where geometry will echo",
        &[Form { keys: EXPECT, ..about(&PROBE, expect, "expect p60 side=a") }],
    ),
    verb(
        "section",
        "the cross-section drawn, with one beam and the indications",
        &[Form {
            keys: SECTION,
            rules: &[
                Rule::Together(bits(SECTION, &["probe", "side"])),
                Rule::Needs(bits(SECTION, &["standoff"]), bits(SECTION, &["probe"])),
            ],
            ..Form::new(section, "section probe=p60 side=a standoff=31")
        }],
    ),
    verb(
        "curve",
        "the reference curve of a probe drawn, with every reading on it",
        &[about(&PROBE, curve, "curve p60")],
    ),
    verb("along", "the indications along the weld, drawn from above", &[Form::new(along, "along")]),
    verb(
        "dynamic",
        "the echo-dynamic curves of an indication, drawn",
        &[about(&INDICATION, dynamic, "dynamic 1")],
    ),
    verb("locate", "the place of every reading", &[Form::new(locate, "locate")]),
    verb("size", "length and height of an indication", &[about(&INDICATION, size, "size 1")]),
    verb("sides", "an indication seen from both sides", &[about(&INDICATION, sides, "sides 1")]),
    verb(
        "nature",
        "character of an indication, with the evidence",
        &[Form { keys: NATURE, ..about(&INDICATION, nature, "nature 1") }],
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

fn plan(fields: &mut Fields<'_>) -> Option<Line> {
    let legs = fields.given(const { at(PLAN, "legs") }).unwrap_or(UNTOLD);
    let pulse_rate = fields.given(const { at(PLAN, "pulse-rate") });
    let pulses = fields.given(const { at(PLAN, "pulses") });
    question(Question::Plan { legs, pulse_rate, pulses })
}

fn coverage(fields: &mut Fields<'_>) -> Option<Line> {
    let legs = fields.given(const { at(COVERAGE, "legs") }).unwrap_or(UNTOLD);
    question(Question::Coverage { legs })
}

fn expect(fields: &mut Fields<'_>) -> Option<Line> {
    let side = fields.needed(const { at(EXPECT, "side") })?;
    let legs = fields.given(const { at(EXPECT, "legs") }).unwrap_or(UNTOLD);
    question(Question::Expect { probe: fields.name()?, side, legs })
}

fn section(fields: &mut Fields<'_>) -> Option<Line> {
    let probe = fields.given(const { at(SECTION, "probe") });
    let side = fields.given(const { at(SECTION, "side") });
    let standoff = fields.given(const { at(SECTION, "standoff") });
    let legs = fields.given(const { at(SECTION, "legs") }).unwrap_or(UNTOLD);
    question(Question::Section { beam: probe.zip(side), standoff, legs })
}

fn along(_: &mut Fields<'_>) -> Option<Line> {
    question(Question::Along)
}

fn curve(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Curve(fields.name()?))
}

fn dynamic(fields: &mut Fields<'_>) -> Option<Line> {
    question(Question::Dynamic(fields.name()?))
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
    let given = Given {
        evaluation: fields.given(const { at(NATURE, "evaluation") }),
        planar: fields.given(const { at(NATURE, "planar") }),
        compared: fields.given(const { at(NATURE, "compared") }),
        difference: fields.given(const { at(NATURE, "difference") }),
        apart: fields.given(const { at(NATURE, "apart") }),
    };
    question(Question::Nature(fields.name()?, given))
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
