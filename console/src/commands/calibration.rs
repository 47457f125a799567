//! Calibration: time base, true angle, reference points, screen, transfer.

use heapless::Vec;

use halfskip::record::entry::{
    AngleEntry, AngleKnown, Beyond, DacEntry, Entry, MAX_ECHOES, MAX_SHOTS, Name, ScreenEntry, Shots,
    TimebaseEntry, TimebaseKnown, TransferEntry,
};

use halfskip::units::limits;

use super::Group;
use super::{Fields, Form, Key, Kind, Line, PROBE, Verb, fact};
use crate::language::keys::{Rule, bits, measures};
use crate::language::values::{Choice, at};
use crate::language::writer::Writer;

const TIMEBASE: &[Key] = &[
    Key::needed("path", Kind::List(measures::PATH, 2, MAX_ECHOES as u8), "known paths, two or more"),
    Key::needed(
        "time",
        Kind::List(measures::TIME, 2, MAX_ECHOES as u8),
        "their echo times, in the same order",
    ),
    Key::given("velocity", Kind::Number(measures::VELOCITY), "of the block, stated and not measured"),
    Key::given("delay", Kind::Number(measures::DELAY), "before the index point, stated with it"),
];
const SPEED: u32 = bits(TIMEBASE, &["velocity", "delay"]);
const ANGLE: &[Key] = &[
    Key::needed("depth", Kind::Number(measures::DEPTH), "of the hole's centre"),
    Key::needed(
        "distance",
        Kind::Number(measures::DISTANCE),
        "along the surface, index point to hole, at the peak",
    ),
    Key::given("stated", Kind::Number(measures::ANGLE), "the true angle, stated and not measured"),
    Key::given("index", Kind::Number(measures::INDEX), "index point ahead of the mark, stated with it"),
    Key::given("at", Kind::Plain(&limits::TEMPERATURE), "temperature of the block, degrees Celsius"),
];
const DAC: &[Key] = &[
    Key::needed("path", Kind::Number(measures::PATH), "to the echo, as shown on the time base"),
    Key::needed("height", Kind::Number(measures::REFERENCE_HEIGHT), "of the echo"),
    Key::needed("gain", Kind::Number(measures::GAIN), "of the instrument at that height"),
    Key::given(
        "hole",
        Kind::Number(measures::HOLE),
        "diameter of the side-drilled hole, one for all points; no level uses it",
    ),
    Key::given("beyond", Kind::Choice(Beyond::WORDS), "what holds outside the points"),
];
const SCREEN: &[Key] = &[
    Key::given("max", Kind::Number(measures::SCREEN), "the greatest height that can be read"),
    Key::given("noise", Kind::Number(measures::NOISE), "the height of the noise"),
    Key::given("reference", Kind::Number(measures::SCREEN), "the reference height"),
];
const SHOTS: Kind = Kind::Pairs(measures::PATH, measures::GAIN, MAX_SHOTS as u8);
const TRANSFER: &[Key] = &[
    Key::given("gain", Kind::Number(measures::TRANSFER), "a fixed correction"),
    Key::needed("block", SHOTS, "V and W shots on the block, path:gain; one is enough"),
    Key::needed("part", SHOTS, "V and W shots on the part, path:gain; one is enough"),
];

pub(super) const VERBS: &[Verb] = &[
    verb(
        "timebase",
        "echoes from known paths, or velocity and delay as stated",
        &[Form {
            name: Some(&PROBE),
            keys: TIMEBASE,
            rules: &[Rule::Alone(SPEED), Rule::Together(SPEED)],
            ..Form::new(timebase, "timebase p60 path=25,100 time=17.31,63.75")
        }],
    ),
    verb(
        "angle",
        "a peaked side-drilled hole, or true angle and index point as stated",
        &[Form {
            name: Some(&PROBE),
            keys: ANGLE,
            rules: &[
                Rule::Alone(bits(ANGLE, &["stated", "index"])),
                Rule::WithEither(bits(ANGLE, &["at"])),
                Rule::Needs(bits(ANGLE, &["index"]), bits(ANGLE, &["stated"])),
            ],
            ..Form::new(angle, "angle p60 depth=15 distance=26.3")
        }],
    ),
    verb(
        "dac",
        "a reference point, or what holds beyond the points",
        &[Form {
            name: Some(&PROBE),
            keys: DAC,
            rules: &[Rule::Alone(bits(DAC, &["beyond"]))],
            ..Form::new(dac, "dac p60 path=30 height=80 gain=38 hole=3")
        }],
    ),
    verb(
        "screen",
        "what the screen can measure, and the reference height",
        &[Form {
            keys: SCREEN,
            rules: &[Rule::AnyOf(bits(SCREEN, &["max", "noise", "reference"]))],
            ..Form::new(screen, "screen max=100 noise=5 reference=80")
        }],
    ),
    verb(
        "transfer",
        "difference in sensitivity, block to part",
        &[Form {
            name: Some(&PROBE),
            keys: TRANSFER,
            rules: &[Rule::Alone(bits(TRANSFER, &["gain"]))],
            ..Form::new(transfer, "transfer p60 block=40:41,80:47.5 part=36:42,72:49")
        }],
    ),
];

const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Calibration, about, forms }
}

fn timebase(fields: &mut Fields<'_>) -> Option<Line> {
    let probe = fields.name()?;
    if let Some(velocity) = fields.given(const { at(TIMEBASE, "velocity") }) {
        let delay = fields.needed(const { at(TIMEBASE, "delay") })?;
        let how = TimebaseKnown::Stated { velocity, delay };
        return fact(Entry::Timebase(TimebaseEntry { probe, how }));
    }
    let path: Vec<_, MAX_ECHOES> = fields.needed(const { at(TIMEBASE, "path") })?;
    let time: Vec<_, MAX_ECHOES> = fields.needed(const { at(TIMEBASE, "time") })?;
    fields.equal(("path", path.len()), ("time", time.len()))?;
    fact(Entry::Timebase(TimebaseEntry { probe, how: TimebaseKnown::Echoes { path, time } }))
}

fn angle(fields: &mut Fields<'_>) -> Option<Line> {
    let how = match fields.given(const { at(ANGLE, "stated") }) {
        Some(angle) => AngleKnown::Stated { angle, index: fields.given(const { at(ANGLE, "index") }) },
        None => AngleKnown::Hole {
            depth: fields.needed(const { at(ANGLE, "depth") })?,
            distance: fields.needed(const { at(ANGLE, "distance") })?,
        },
    };
    let at = fields.given(const { at(ANGLE, "at") });
    fact(Entry::Angle(AngleEntry { probe: fields.name()?, how, at }))
}

fn dac(fields: &mut Fields<'_>) -> Option<Line> {
    let probe = fields.name()?;
    if let Some(beyond) = fields.given(const { at(DAC, "beyond") }) {
        return fact(Entry::DacBeyond { probe, beyond });
    }
    fact(Entry::Dac(DacEntry {
        probe,
        path: fields.needed(const { at(DAC, "path") })?,
        height: fields.needed(const { at(DAC, "height") })?,
        gain: fields.needed(const { at(DAC, "gain") })?,
        hole: fields.given(const { at(DAC, "hole") }),
    }))
}

fn screen(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Screen(ScreenEntry {
        max: fields.given(const { at(SCREEN, "max") }),
        noise: fields.given(const { at(SCREEN, "noise") }),
        reference: fields.given(const { at(SCREEN, "reference") }),
    }))
}

fn transfer(fields: &mut Fields<'_>) -> Option<Line> {
    let how = match fields.given(const { at(TRANSFER, "gain") }) {
        Some(gain) => Shots::Fixed(gain),
        None => Shots::Lines {
            block: fields.needed(const { at(TRANSFER, "block") })?,
            part: fields.needed(const { at(TRANSFER, "part") })?,
        },
    };
    fact(Entry::Transfer(TransferEntry { probe: fields.name()?, how }))
}

pub(crate) fn write_timebase(out: &mut Writer<'_>, entry: &TimebaseEntry) {
    out.named(&entry.probe);
    match &entry.how {
        TimebaseKnown::Echoes { path, time } => {
            out.list("path", path);
            out.list("time", time);
        }
        TimebaseKnown::Stated { velocity, delay } => {
            out.number("velocity", *velocity);
            out.number("delay", *delay);
        }
    }
}

pub(crate) fn write_angle(out: &mut Writer<'_>, entry: &AngleEntry) {
    out.named(&entry.probe);
    match entry.how {
        AngleKnown::Hole { depth, distance } => {
            out.number("depth", depth);
            out.number("distance", distance);
        }
        AngleKnown::Stated { angle, index } => {
            out.number("stated", angle);
            out.given("index", index);
        }
    }
    if let Some(at) = &entry.at {
        out.value("at", at);
    }
}

pub(crate) fn write_dac(out: &mut Writer<'_>, entry: &DacEntry) {
    out.named(&entry.probe);
    out.number("path", entry.path);
    out.number("height", entry.height);
    out.number("gain", entry.gain);
    out.given("hole", entry.hole);
}

pub(crate) fn write_beyond(out: &mut Writer<'_>, probe: &Name, beyond: Beyond) {
    out.named(probe);
    out.word("beyond", beyond.word());
}

pub(crate) fn write_screen(out: &mut Writer<'_>, entry: &ScreenEntry) {
    out.given("max", entry.max);
    out.given("noise", entry.noise);
    out.given("reference", entry.reference);
}

pub(crate) fn write_transfer(out: &mut Writer<'_>, entry: &TransferEntry) {
    out.named(&entry.probe);
    match &entry.how {
        Shots::Fixed(gain) => out.number("gain", *gain),
        Shots::Lines { block, part } => {
            out.shots("block", block);
            out.shots("part", part);
        }
    }
}
