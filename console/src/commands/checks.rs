//! Scanning gain, in-service and equipment checks, and what is tolerated.

use halfskip::record::entry::{
    BlockName, CheckEntry, Entry, GainLinearityEntry, LinearityWindow, MAX_STEPS, Name, ScreenLinearityEntry,
    ToleranceEntry,
};
use halfskip::units::Decibels;
use halfskip::units::decimal::Entered;

use super::Group;
use super::{Fields, Form, Key, Kind, Line, PROBE, Verb, fact};
use crate::language::keys::{Rule, bits, measures};
use crate::language::values::at;
use crate::language::writer::Writer;

const HEIGHTS: Kind = Kind::List(measures::REFERENCE_HEIGHT, 1, MAX_STEPS as u8);
const WINDOW: Key = Key::given(
    "window",
    Kind::NumberOr(measures::HEIGHT_TOLERANCE, &["t9074"]),
    "half width tolerated, or that of T9074-AS-GIB-010/271",
);

const SCANNING: &[Key] =
    &[Key::needed("margin", Kind::Number(measures::MARGIN), "gain added while scanning")];
const CHECK: &[Key] = &[
    Key::needed("path", Kind::Number(measures::PATH), "known path"),
    Key::needed("shown", Kind::Number(measures::PATH), "path shown"),
    Key::given("height", Kind::Number(measures::REFERENCE_HEIGHT), "height of its echo"),
    Key::given("gain", Kind::Number(measures::GAIN), "gain at that height"),
    Key::given("time", Kind::Clock, "when, on the day in force"),
    Key::given("block", Kind::Short, "the block it was done on"),
];
const SCREEN: &[Key] = &[
    Key::needed("large", HEIGHTS, "heights of the larger echo"),
    Key::needed("small", HEIGHTS, "heights of the one that should be half of it"),
    WINDOW,
];
const CHANGES: Kind = Kind::List(measures::GAIN_CHANGE, 1, MAX_STEPS as u8);
const STEPS: &[Key] = &[
    Key::needed("set", HEIGHTS, "heights set"),
    Key::needed("change", CHANGES, "changes of gain"),
    Key::needed("shown", HEIGHTS, "heights shown after them"),
    WINDOW,
];
const LENGTH: Kind = Kind::Number(measures::LENGTH_TOLERANCE);
const TOLERANCE: &[Key] = &[
    Key::given("angle", Kind::Number(measures::ANGLE_TOLERANCE), "beam angle"),
    Key::given("path", LENGTH, "reading of the path"),
    Key::given("index", LENGTH, "index point"),
    Key::given("standoff", LENGTH, "stand-off"),
    Key::given("thickness", LENGTH, "thickness"),
    Key::given("velocity", Kind::Number(measures::VELOCITY_TOLERANCE), "velocity of sound"),
    Key::given("height", Kind::Number(measures::HEIGHT_TOLERANCE), "echo height, % of the screen"),
    Key::given("range", Kind::Number(measures::RANGE_TOLERANCE), "drift of a check, % of the path"),
    Key::given("sensitivity", Kind::Number(measures::LEVEL_TOLERANCE), "drift of a check, level"),
    Key::given("reflector", LENGTH, "size of a body that few views cannot tell; 0 for a point"),
    Key::given("lean", Kind::Number(measures::ANGLE_TOLERANCE), "lean of a flaw seen from one side"),
];
const ANY_TOLERANCE: Rule = Rule::AnyOf(bits(
    TOLERANCE,
    &[
        "angle",
        "path",
        "index",
        "standoff",
        "thickness",
        "velocity",
        "height",
        "range",
        "sensitivity",
        "reflector",
        "lean",
    ],
));

pub(super) const VERBS: &[Verb] = &[
    verb(
        "scanning",
        "gain added for scanning; recorded, no part of a level",
        &[Form { name: Some(&PROBE), keys: SCANNING, ..Form::new(scanning, "scanning p60 margin=6") }],
    ),
    verb(
        "check",
        "an in-service check against the calibration",
        &[Form {
            name: Some(&PROBE),
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
                ..Form::new(screen, "linearity screen large=80,70,60,40 small=40,35,30,20")
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

fn scanning(fields: &mut Fields<'_>) -> Option<Line> {
    let margin = fields.needed(const { at(SCANNING, "margin") })?;
    fact(Entry::Scanning { probe: fields.name()?, margin })
}

fn check(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Check(CheckEntry {
        probe: fields.name()?,
        path: fields.needed(const { at(CHECK, "path") })?,
        shown: fields.needed(const { at(CHECK, "shown") })?,
        height: fields.given(const { at(CHECK, "height") }),
        gain: fields.given(const { at(CHECK, "gain") }),
        time: fields.given(const { at(CHECK, "time") }),
        block: fields.given(const { at(CHECK, "block") }),
    }))
}

fn screen(fields: &mut Fields<'_>) -> Option<Line> {
    let entry = ScreenLinearityEntry {
        large: fields.needed(const { at(SCREEN, "large") })?,
        small: fields.needed(const { at(SCREEN, "small") })?,
        window: fields.given(const { at(SCREEN, "window") }).unwrap_or_default(),
    };
    fields.equal(("large", entry.large.len()), ("small", entry.small.len()))?;
    fact(Entry::ScreenLinearity(entry))
}

fn steps(fields: &mut Fields<'_>) -> Option<Line> {
    let entry = GainLinearityEntry {
        set: fields.needed(const { at(STEPS, "set") })?,
        change: fields.needed(const { at(STEPS, "change") })?,
        shown: fields.needed(const { at(STEPS, "shown") })?,
        window: fields.given(const { at(STEPS, "window") }).unwrap_or_default(),
    };
    fields.equal(("set", entry.set.len()), ("change", entry.change.len()))?;
    fields.equal(("set", entry.set.len()), ("shown", entry.shown.len()))?;
    fact(Entry::GainLinearity(entry))
}

fn tolerance(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Tolerance(ToleranceEntry {
        angle: fields.given(const { at(TOLERANCE, "angle") }),
        path: fields.given(const { at(TOLERANCE, "path") }),
        index: fields.given(const { at(TOLERANCE, "index") }),
        standoff: fields.given(const { at(TOLERANCE, "standoff") }),
        thickness: fields.given(const { at(TOLERANCE, "thickness") }),
        velocity: fields.given(const { at(TOLERANCE, "velocity") }),
        height: fields.given(const { at(TOLERANCE, "height") }),
        range: fields.given(const { at(TOLERANCE, "range") }),
        sensitivity: fields.given(const { at(TOLERANCE, "sensitivity") }),
        reflector: fields.given(const { at(TOLERANCE, "reflector") }),
        lean: fields.given(const { at(TOLERANCE, "lean") }),
    }))
}

pub(crate) fn write_scanning(out: &mut Writer<'_>, probe: &Name, margin: Entered<Decibels>) {
    out.named(probe);
    out.number("margin", margin);
}

pub(crate) fn write_check(out: &mut Writer<'_>, entry: &CheckEntry) {
    out.named(&entry.probe);
    out.number("path", entry.path);
    out.number("shown", entry.shown);
    out.given("height", entry.height);
    out.given("gain", entry.gain);
    if let Some(time) = entry.time {
        out.value("time", &time);
    }
    out.text_of("block", entry.block.as_ref().map(BlockName::as_str));
}

pub(crate) fn write_screen(out: &mut Writer<'_>, entry: &ScreenLinearityEntry) {
    out.plain("screen");
    out.list("large", &entry.large);
    out.list("small", &entry.small);
    write_window(out, entry.window);
}

pub(crate) fn write_gain(out: &mut Writer<'_>, entry: &GainLinearityEntry) {
    out.plain("gain");
    out.list("set", &entry.set);
    out.list("change", &entry.change);
    out.list("shown", &entry.shown);
    write_window(out, entry.window);
}

fn write_window(out: &mut Writer<'_>, window: LinearityWindow) {
    match window {
        LinearityWindow::T9074 => out.word("window", Some("t9074")),
        LinearityWindow::Within(half_width) => out.number("window", half_width),
    }
}

pub(crate) fn write_tolerance(out: &mut Writer<'_>, entry: &ToleranceEntry) {
    out.given("angle", entry.angle);
    out.given("path", entry.path);
    out.given("index", entry.index);
    out.given("standoff", entry.standoff);
    out.given("thickness", entry.thickness);
    out.given("velocity", entry.velocity);
    out.given("height", entry.height);
    out.given("range", entry.range);
    out.given("sensitivity", entry.sensitivity);
    out.given("reflector", entry.reflector);
    out.given("lean", entry.lean);
}
