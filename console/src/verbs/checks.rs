//! Scanning gain, in-service and equipment checks, and what is tolerated.

use core::fmt;

use halfskip::decimal::Entered;
use halfskip::entry::{
    CheckEntry, Entry, GainLinearityEntry, LinearityWindow, MAX_STEPS, Name, ScreenLinearityEntry,
    ToleranceEntry,
};
use halfskip::error::Range;
use halfskip::limits;
use halfskip::units::{Decibels, Degrees, Millimetres, ScreenPercent, VelocityDifference};

use super::{Fields, Form, Key, Kind, Line, PROBE, Verb, fact};
use crate::keys::{Group, Measure, Rule, bits};
use crate::parse::at;
use crate::refusal::Fault;
use crate::write::Writer;

const fn length(range: Range) -> Kind {
    Kind::Number(Measure::of::<Millimetres>(range))
}

const GAIN: Measure = Measure::of::<Decibels>(limits::GAIN);
const HEIGHT: Measure = Measure::of::<ScreenPercent>(limits::REFERENCE_HEIGHT);
const HEIGHTS: Kind = Kind::List(HEIGHT, 1, MAX_STEPS as u8);
const PERCENT: Measure = Measure::of::<ScreenPercent>(limits::HEIGHT_TOLERANCE);
const WINDOW: Key = Key::given(
    "window",
    Kind::NumberOr(PERCENT, &["t9074"]),
    "half width tolerated, or that of T9074-AS-GIB-010/271",
);

const SCANNING: &[Key] = &[Key::needed(
    "margin",
    Kind::Number(Measure::of::<Decibels>(limits::MARGIN)),
    "gain added while scanning",
)];
const CHECK: &[Key] = &[
    Key::needed("path", length(limits::PATH), "known path"),
    Key::needed("shown", length(limits::PATH), "path shown"),
    Key::given("height", Kind::Number(HEIGHT), "height of its echo"),
    Key::given("gain", Kind::Number(GAIN), "gain at that height"),
];
const SCREEN: &[Key] = &[
    Key::needed("large", HEIGHTS, "heights of the larger echo"),
    Key::needed("small", HEIGHTS, "heights of the one that should be half of it"),
    WINDOW,
];
const CHANGES: Kind = Kind::List(Measure::of::<Decibels>(limits::GAIN_CHANGE), 1, MAX_STEPS as u8);
const STEPS: &[Key] = &[
    Key::needed("set", HEIGHTS, "heights set"),
    Key::needed("change", CHANGES, "changes of gain"),
    Key::needed("shown", HEIGHTS, "heights shown after them"),
    WINDOW,
];
const LENGTH: Kind = length(limits::LENGTH_TOLERANCE);
const VELOCITY: Measure = Measure::of::<VelocityDifference>(limits::VELOCITY_TOLERANCE);
const TOLERANCE: &[Key] = &[
    Key::given("angle", Kind::Number(Measure::of::<Degrees>(limits::ANGLE_TOLERANCE)), "beam angle"),
    Key::given("path", LENGTH, "reading of the path"),
    Key::given("index", LENGTH, "index point"),
    Key::given("standoff", LENGTH, "stand-off"),
    Key::given("thickness", LENGTH, "thickness"),
    Key::given("velocity", Kind::Number(VELOCITY), "velocity of sound"),
    Key::given("height", Kind::Number(PERCENT), "echo height, % of the screen"),
    Key::given("range", Kind::Number(PERCENT), "drift of a check, % of the path"),
    Key::given(
        "sensitivity",
        Kind::Number(Measure::of::<Decibels>(limits::LEVEL_TOLERANCE)),
        "drift of a check, level",
    ),
];
const ANY_TOLERANCE: Rule = Rule::AnyOf(bits(
    TOLERANCE,
    &["angle", "path", "index", "standoff", "thickness", "velocity", "height", "range", "sensitivity"],
));

pub(super) const VERBS: &[Verb] = &[
    verb(
        "scanning",
        "gain added for scanning; recorded, no part of a level",
        &[Form { name: Some(PROBE), keys: SCANNING, ..Form::new(scanning, "scanning p60 margin=6") }],
    ),
    verb(
        "check",
        "an in-service check against the calibration",
        &[Form {
            name: Some(PROBE),
            keys: CHECK,
            rules: &[Rule::Together(bits(CHECK, &["height", "gain"]))],
            ..Form::new(check, "check p60 path=100 shown=99.2 height=78 gain=38")
        }],
    ),
    verb(
        "linearity",
        "a check of the screen height or of the gain control",
        &[
            Form {
                fixed: Some("screen"),
                keys: SCREEN,
                ..Form::new(screen, "linearity screen large=100,80,60,40 small=50,40,30,20")
            },
            Form {
                fixed: Some("gain"),
                keys: STEPS,
                ..Form::new(steps, "linearity gain set=80,80,40 change=-6,-12,6 shown=40,20,80")
            },
        ],
    ),
    verb(
        "tolerance",
        "half widths of the uncertainty budget, and the drift that a check may show",
        &[Form {
            keys: TOLERANCE,
            rules: &[ANY_TOLERANCE],
            ..Form::new(tolerance, "tolerance angle=2 path=0.5 index=1 standoff=1 thickness=0.3 height=5")
        }],
    ),
];

const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Calibration, about, forms }
}

fn scanning<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let margin = fields.needed(const { at(SCANNING, "margin") })?;
    fact(Entry::Scanning { probe: fields.name()?, margin })
}

fn check<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Check(CheckEntry {
        probe: fields.name()?,
        path: fields.needed(const { at(CHECK, "path") })?,
        shown: fields.needed(const { at(CHECK, "shown") })?,
        height: fields.given(const { at(CHECK, "height") })?,
        gain: fields.given(const { at(CHECK, "gain") })?,
    }))
}

fn screen<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let entry = ScreenLinearityEntry {
        large: fields.needed(const { at(SCREEN, "large") })?,
        small: fields.needed(const { at(SCREEN, "small") })?,
        window: fields.given(const { at(SCREEN, "window") })?.unwrap_or_default(),
    };
    fields.equal(("large", entry.large.len()), ("small", entry.small.len()))?;
    fact(Entry::ScreenLinearity(entry))
}

fn steps<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let entry = GainLinearityEntry {
        set: fields.needed(const { at(STEPS, "set") })?,
        change: fields.needed(const { at(STEPS, "change") })?,
        shown: fields.needed(const { at(STEPS, "shown") })?,
        window: fields.given(const { at(STEPS, "window") })?.unwrap_or_default(),
    };
    fields.equal(("set", entry.set.len()), ("change", entry.change.len()))?;
    fields.equal(("set", entry.set.len()), ("shown", entry.shown.len()))?;
    fact(Entry::GainLinearity(entry))
}

fn tolerance<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Tolerance(ToleranceEntry {
        angle: fields.given(const { at(TOLERANCE, "angle") })?,
        path: fields.given(const { at(TOLERANCE, "path") })?,
        index: fields.given(const { at(TOLERANCE, "index") })?,
        standoff: fields.given(const { at(TOLERANCE, "standoff") })?,
        thickness: fields.given(const { at(TOLERANCE, "thickness") })?,
        velocity: fields.given(const { at(TOLERANCE, "velocity") })?,
        height: fields.given(const { at(TOLERANCE, "height") })?,
        range: fields.given(const { at(TOLERANCE, "range") })?,
        sensitivity: fields.given(const { at(TOLERANCE, "sensitivity") })?,
    }))
}

pub(crate) fn write_scanning(out: &mut Writer<'_>, probe: &Name, margin: Entered<Decibels>) -> fmt::Result {
    out.blank()?;
    out.name(probe)?;
    out.value("margin", &margin)
}

pub(crate) fn write_check(out: &mut Writer<'_>, entry: &CheckEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.probe)?;
    out.value("path", &entry.path)?;
    out.value("shown", &entry.shown)?;
    out.given("height", entry.height)?;
    out.given("gain", entry.gain)
}

pub(crate) fn write_screen(out: &mut Writer<'_>, entry: &ScreenLinearityEntry) -> fmt::Result {
    out.plain(&"screen")?;
    out.list("large", entry.large.iter())?;
    out.list("small", entry.small.iter())?;
    write_window(out, entry.window)
}

pub(crate) fn write_gain(out: &mut Writer<'_>, entry: &GainLinearityEntry) -> fmt::Result {
    out.plain(&"gain")?;
    out.list("set", entry.set.iter())?;
    out.list("change", entry.change.iter())?;
    out.list("shown", entry.shown.iter())?;
    write_window(out, entry.window)
}

fn write_window(out: &mut Writer<'_>, window: LinearityWindow) -> fmt::Result {
    match window {
        LinearityWindow::T9074 => out.value("window", &"t9074"),
        LinearityWindow::Within(half_width) => out.value("window", &half_width),
    }
}

pub(crate) fn write_tolerance(out: &mut Writer<'_>, entry: &ToleranceEntry) -> fmt::Result {
    out.given("angle", entry.angle)?;
    out.given("path", entry.path)?;
    out.given("index", entry.index)?;
    out.given("standoff", entry.standoff)?;
    out.given("thickness", entry.thickness)?;
    out.given("velocity", entry.velocity)?;
    out.given("height", entry.height)?;
    out.given("range", entry.range)?;
    out.given("sensitivity", entry.sensitivity)
}
