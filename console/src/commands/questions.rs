//! Questions; they change nothing. A device may leave those of some features out.

use halfskip::planning::plan::MAX_LEGS;
use halfskip::record::entry::Side;

#[cfg(feature = "planning")]
use super::meaning::Faces;
use super::meaning::{Line, Question, Stages};
use super::table::{Form, Group, Keyed, Verb, keyed, verb};
use super::{INDICATION, PROBE};
use crate::language::keys::{Key, Kind, measures};
#[cfg(feature = "planning")]
use crate::language::keys::{Rule, bits};
use crate::language::values::{At, Choice, Fields, at};
use crate::language::writer::{Writer, Writes};

keyed!(Stages {
    given evaluation "evaluation" Kind::Number(measures::STAGE), "stage 1: classified from this level up";
    given planar "planar" Kind::Number(measures::STAGE), "stage 2: planar from this level up";
    given compared "compared" Kind::Number(measures::STAGE), "stage 3: directions compared from this level up";
    given difference "difference" Kind::Number(measures::DIFFERENCE), "stage 3: the difference that a plane makes";
    given apart "apart" Kind::Number(measures::APART), "stage 3: the least angle between two directions";
});

const OF_ONE: Key = Key::given("ID", Kind::Name, "the indication; all without it");
const VERB: Key = Key::given("VERB", Kind::Verb, "the verb asked about");
const LEGS: Key = Key::given("legs", Kind::Count(1, MAX_LEGS), "the last leg that may be used; absent = 2");
#[cfg(feature = "planning")]
const FACE: Key = Key::given(
    "face",
    Kind::Choice(Faces::WORDS),
    "the faces scanned; absent = near, and far where readings were taken there",
);
const PLAN: &[Key] = &[
    LEGS,
    #[cfg(feature = "planning")]
    FACE,
    Key::given("pulse-rate", Kind::Count(1, 100_000), "pulses a second, for the highest scanning speed"),
    Key::given("pulses", Kind::Count(1, 1_000), "wanted on each step; absent = 1"),
];
const COVERAGE: &[Key] = &[
    LEGS,
    #[cfg(feature = "planning")]
    FACE,
];
const EXPECT: &[Key] =
    &[Key::needed("side", Kind::Choice(Side::WORDS), "the side that the probe stands on"), LEGS];
const SECTION: &[Key] = &[
    Key::given("probe", Kind::Name, "the probe whose beam is drawn"),
    Key::given("side", Kind::Choice(Side::WORDS), "the side that it stands on"),
    Key::given("standoff", Kind::Number(measures::STANDOFF), "where it stands; absent = leg 1 at the root"),
    LEGS,
];

/// The last leg of a question; 2 where it does not say.
fn legs(fields: &mut Fields<'_>, at: At<u32>) -> u32 {
    fields.given(at).unwrap_or(2)
}

pub(super) const VERBS: &[Verb] = &[
    question(
        "beam",
        "near field, beam angles and refraction of a probe",
        &[Form::new("beam p60", |fields| asked(Question::Beam(fields.name()?))).of(&PROBE)],
    ),
    #[cfg(feature = "planning")]
    question(
        "plan",
        "the scan plan for joint and probes",
        &[Form::new("plan", |fields| {
            let legs = legs(fields, const { at(PLAN, "legs") });
            let pulse_rate = fields.given(const { at(PLAN, "pulse-rate") });
            let pulses = fields.given(const { at(PLAN, "pulses") });
            let faces = fields.given(const { at(PLAN, "face") });
            asked(Question::Plan { legs, faces, pulse_rate, pulses })
        })
        .keys(PLAN, &[Rule::Needs(bits(PLAN, &["pulses"]), bits(PLAN, &["pulse-rate"]))])],
    ),
    #[cfg(feature = "planning")]
    question(
        "coverage",
        "how much of the weld the probes reach",
        &[Form::new("coverage", |fields| {
            let legs = legs(fields, const { at(COVERAGE, "legs") });
            asked(Question::Coverage { legs, faces: fields.given(const { at(COVERAGE, "face") }) })
        })
        .keys(COVERAGE, &[])],
    ),
    #[cfg(feature = "planning")]
    question(
        "expect",
        "where geometry will echo",
        &[Form::new("expect p60 side=a", |fields| {
            let side = fields.needed(const { at(EXPECT, "side") })?;
            let legs = legs(fields, const { at(EXPECT, "legs") });
            asked(Question::Expect { probe: fields.name()?, side, legs })
        })
        .of(&PROBE)
        .keys(EXPECT, &[])],
    ),
    #[cfg(feature = "planning")]
    question(
        "section",
        "the cross-section drawn, with one beam and the indications",
        &[Form::new("section probe=p60 side=a standoff=31", |fields| {
            let probe = fields.given(const { at(SECTION, "probe") });
            let side = fields.given(const { at(SECTION, "side") });
            let standoff = fields.given(const { at(SECTION, "standoff") });
            let legs = legs(fields, const { at(SECTION, "legs") });
            asked(Question::Section { beam: probe.zip(side), standoff, legs })
        })
        .keys(
            SECTION,
            &[
                Rule::Together(bits(SECTION, &["probe", "side"])),
                Rule::Needs(bits(SECTION, &["standoff"]), bits(SECTION, &["probe"])),
            ],
        )],
    ),
    #[cfg(feature = "plots")]
    question(
        "curve",
        "the reference curve of a probe drawn, with every reading on it",
        &[Form::new("curve p60", |fields| asked(Question::Curve(fields.name()?))).of(&PROBE)],
    ),
    #[cfg(feature = "plots")]
    question(
        "along",
        "the indications along the weld, drawn from above",
        &[Form::new("along", |_| asked(Question::Along))],
    ),
    #[cfg(feature = "plots")]
    question(
        "dynamic",
        "the echo-dynamic curves of an indication, drawn",
        &[Form::new("dynamic 1", |fields| asked(Question::Dynamic(fields.name()?))).of(&INDICATION)],
    ),
    question("locate", "the place of every reading", &[Form::new("locate", |_| asked(Question::Locate))]),
    question(
        "size",
        "length and height of an indication",
        &[Form::new("size 1", |fields| asked(Question::Size(fields.name()?))).of(&INDICATION)],
    ),
    question(
        "sides",
        "an indication seen from both sides",
        &[Form::new("sides 1", |fields| asked(Question::Sides(fields.name()?))).of(&INDICATION)],
    ),
    #[cfg(feature = "character")]
    question(
        "nature",
        "character of an indication, with the evidence",
        &[Form::new("nature 1", |fields| {
            let stages = Stages::read(fields)?;
            asked(Question::Nature(fields.name()?, stages))
        })
        .of(&INDICATION)
        .keys(Stages::KEYS, &[])],
    ),
    question(
        "rate",
        "an indication held to the sheet",
        &[Form::new("rate 1", |fields| asked(Question::Rate(fields.name()?))).of(&INDICATION)],
    ),
    #[cfg(feature = "reasons")]
    question(
        "margin",
        "how far an indication is from the nearest limit",
        &[Form::new("margin 1", |fields| asked(Question::Margin(fields.name()?))).of(&INDICATION)],
    ),
    #[cfg(feature = "reasons")]
    question(
        "why",
        "every step from reading to verdict",
        &[Form::new("why 1", |fields| asked(Question::Why(fields.name()?))).of(&INDICATION)],
    ),
    question(
        "findings",
        "what the examination says now",
        &[Form::new("findings", |_| asked(Question::Findings))],
    ),
    question(
        "grounds",
        "what an accept rests on: met, stated, not met, not asked",
        &[Form::new("grounds 1", |fields| asked(Question::Grounds(fields.name()))).of(&OF_ONE)],
    ),
    question("list", "the entries with their numbers", &[Form::new("list", |_| asked(Question::List))]),
    question(
        "status",
        "what is set up and what is missing",
        &[Form::new("status", |_| asked(Question::Status))],
    ),
    question(
        "help",
        "the verbs, or the form of one",
        &[Form::new("help reading", |fields| asked(Question::Help(fields.name()))).of(&VERB)],
    ),
];

const fn question(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    verb(Group::Question, word, about, forms)
}

const fn asked(question: Question) -> Option<Line> {
    Some(Line::Question(question))
}
