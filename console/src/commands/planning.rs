//! Questions of the feature `planning`.

use halfskip::planning::plan::MAX_LEGS;
use halfskip::record::entry::{Name, Side};
use halfskip::units::Millimetres;
use halfskip::units::decimal::Entered;

use super::questions::{about, verb};
use super::{Fields, Form, Key, Kind, Line, PROBE, Question, Verb, question};
use crate::language::keys::{Rule, bits, measures};
pub use crate::language::values::Faces;
use crate::language::values::{Choice, at};

/// What can be asked before the probe touches steel.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Planning {
    /// `plan [legs=2] [face=near] [pulse-rate=.. pulses=..]`: the scan plan.
    Plan {
        /// The last leg that may be used.
        legs: u32,
        /// The faces scanned; `None` is the near one, and the far one where readings were taken there.
        faces: Option<Faces>,
        /// Pulses a second of the instrument.
        pulse_rate: Option<u32>,
        /// Pulses wanted on each step.
        pulses: Option<u32>,
    },
    /// `coverage [legs=2] [face=near]`: how much of the weld the probes in force can cross, and what the readings crossed.
    Coverage {
        /// The last leg that may be used.
        legs: u32,
        /// The faces scanned, as of a plan.
        faces: Option<Faces>,
    },
    /// `expect NAME side=a [legs=2]`: where geometry will echo.
    Expect {
        /// The probe.
        probe: Name,
        /// The side that it stands on.
        side: Side,
        /// The last leg that may be used.
        legs: u32,
    },
    /// `section [probe=NAME side=a [standoff=..] [legs=2]]`: the cross-section drawn, with one beam.
    Section {
        /// The probe and the side that it stands on.
        beam: Option<(Name, Side)>,
        /// Where it stands.
        standoff: Option<Entered<Millimetres>>,
        /// The last leg drawn.
        legs: u32,
    },
}

const LEGS: Key = Key::given("legs", Kind::Count(1, MAX_LEGS), "the last leg that may be used; absent = 2");
const FACE: Key = Key::given(
    "face",
    Kind::Choice(Faces::WORDS),
    "the faces scanned; absent = near, and far where readings were taken there",
);
const PLAN: &[Key] = &[
    LEGS,
    FACE,
    Key::given("pulse-rate", Kind::Count(1, 100_000), "pulses a second, for the highest scanning speed"),
    Key::given("pulses", Kind::Count(1, 1_000), "wanted on each step; absent = 1"),
];
const COVERAGE: &[Key] = &[LEGS, FACE];
const EXPECT: &[Key] =
    &[Key::needed("side", Kind::Choice(Side::WORDS), "the side that the probe stands on"), LEGS];
const SECTION: &[Key] = &[
    Key::given("probe", Kind::Name, "the probe whose beam is drawn"),
    Key::given("side", Kind::Choice(Side::WORDS), "the side that it stands on"),
    Key::given("standoff", Kind::Number(measures::STANDOFF), "where it stands; absent = leg 1 at the root"),
    LEGS,
];
/// The legs of a question that does not say.
const UNTOLD: u32 = 2;

pub(super) const VERBS: &[Verb] = &[
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
];

const fn asked(planning: Planning) -> Option<Line> {
    question(Question::Planning(planning))
}

fn plan(fields: &mut Fields<'_>) -> Option<Line> {
    let legs = fields.given(const { at(PLAN, "legs") }).unwrap_or(UNTOLD);
    let pulse_rate = fields.given(const { at(PLAN, "pulse-rate") });
    let pulses = fields.given(const { at(PLAN, "pulses") });
    let faces = fields.given(const { at(PLAN, "face") });
    asked(Planning::Plan { legs, faces, pulse_rate, pulses })
}

fn coverage(fields: &mut Fields<'_>) -> Option<Line> {
    let legs = fields.given(const { at(COVERAGE, "legs") }).unwrap_or(UNTOLD);
    let faces = fields.given(const { at(COVERAGE, "face") });
    asked(Planning::Coverage { legs, faces })
}

fn expect(fields: &mut Fields<'_>) -> Option<Line> {
    let side = fields.needed(const { at(EXPECT, "side") })?;
    let legs = fields.given(const { at(EXPECT, "legs") }).unwrap_or(UNTOLD);
    asked(Planning::Expect { probe: fields.name()?, side, legs })
}

fn section(fields: &mut Fields<'_>) -> Option<Line> {
    let probe = fields.given(const { at(SECTION, "probe") });
    let side = fields.given(const { at(SECTION, "side") });
    let standoff = fields.given(const { at(SECTION, "standoff") });
    let legs = fields.given(const { at(SECTION, "legs") }).unwrap_or(UNTOLD);
    asked(Planning::Section { beam: probe.zip(side), standoff, legs })
}
