//! Calibration: time base, true angle, reference points, screen, transfer.

use core::fmt;

use halfskip::entry::{
    AngleEntry, Beyond, DacEntry, Entry, MAX_ECHOES, MAX_SHOTS, Name, ScreenEntry, Shots, TimebaseEntry,
    TransferEntry,
};
use halfskip::error::Range;
use halfskip::limits;
use halfskip::units::{Decibels, Microseconds, Millimetres, ScreenPercent};

use super::{Fields, Form, Key, Kind, Line, PROBE, Verb, fact};
use crate::keys::{Group, Measure, Rule, bits};
use crate::parse::{Choice, at};
use crate::refusal::Fault;
use crate::write::Writer;

const fn length(range: Range) -> Kind {
    Kind::Number(Measure::of::<Millimetres>(range))
}

const fn gain(range: Range) -> Kind {
    Kind::Number(Measure::of::<Decibels>(range))
}

const fn height(range: Range) -> Kind {
    Kind::Number(Measure::of::<ScreenPercent>(range))
}

const PATH: Measure = Measure::of::<Millimetres>(limits::PATH);
const TIME: Measure = Measure::of::<Microseconds>(limits::TIME);
const TIMEBASE: &[Key] = &[
    Key::needed("path", Kind::List(PATH, 2, MAX_ECHOES as u8), "known paths, two or more"),
    Key::needed("time", Kind::List(TIME, 2, MAX_ECHOES as u8), "their echo times, in the same order"),
];
const ANGLE: &[Key] = &[
    Key::needed("depth", length(limits::DEPTH), "of the hole's centre"),
    Key::needed("distance", length(limits::DISTANCE), "along the surface, index point to hole, at the peak"),
];
const DAC: &[Key] = &[
    Key::needed("path", length(limits::PATH), "to the echo, as shown on the time base"),
    Key::needed("height", height(limits::REFERENCE_HEIGHT), "of the echo"),
    Key::needed("gain", gain(limits::GAIN), "of the instrument at that height"),
    Key::given("hole", length(limits::HOLE), "diameter of the side-drilled hole"),
    Key::given("beyond", Kind::Choice(Beyond::WORDS), "what holds outside the points"),
];
const SCREEN: &[Key] = &[
    Key::given("max", height(limits::SCREEN), "the greatest height that can be read"),
    Key::given("noise", height(limits::NOISE), "the height of the noise"),
    Key::given("reference", height(limits::SCREEN), "the reference height"),
];
const SHOTS: Kind = Kind::Pairs(PATH, Measure::of::<Decibels>(limits::GAIN), MAX_SHOTS as u8);
const TRANSFER: &[Key] = &[
    Key::given("gain", gain(limits::TRANSFER), "a fixed correction"),
    Key::needed("block", SHOTS, "V and W shots on the block, path:gain"),
    Key::needed("part", SHOTS, "V and W shots on the part, path:gain"),
];

pub(super) const VERBS: &[Verb] = &[
    verb(
        "timebase",
        "echoes from known paths",
        &[Form {
            name: Some(PROBE),
            keys: TIMEBASE,
            ..Form::new(timebase, "timebase p60 path=25,100 time=17.31,63.75")
        }],
    ),
    verb(
        "angle",
        "a peaked side-drilled hole; several give true angle and index point",
        &[Form { name: Some(PROBE), keys: ANGLE, ..Form::new(angle, "angle p60 depth=15 distance=26.3") }],
    ),
    verb(
        "dac",
        "a reference point, or what holds beyond the points",
        &[Form {
            name: Some(PROBE),
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
            name: Some(PROBE),
            keys: TRANSFER,
            rules: &[Rule::Alone(bits(TRANSFER, &["gain"]))],
            ..Form::new(transfer, "transfer p60 block=40:41,80:47.5 part=36:42,72:49")
        }],
    ),
];

const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Calibration, about, forms }
}

fn timebase<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let entry = TimebaseEntry {
        probe: fields.name()?,
        path: fields.needed(const { at(TIMEBASE, "path") })?,
        time: fields.needed(const { at(TIMEBASE, "time") })?,
    };
    fields.equal(("path", entry.path.len()), ("time", entry.time.len()))?;
    fact(Entry::Timebase(entry))
}

fn angle<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Angle(AngleEntry {
        probe: fields.name()?,
        depth: fields.needed(const { at(ANGLE, "depth") })?,
        distance: fields.needed(const { at(ANGLE, "distance") })?,
    }))
}

fn dac<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let probe = fields.name()?;
    if let Some(beyond) = fields.given(const { at(DAC, "beyond") })? {
        return fact(Entry::DacBeyond { probe, beyond });
    }
    fact(Entry::Dac(DacEntry {
        probe,
        path: fields.needed(const { at(DAC, "path") })?,
        height: fields.needed(const { at(DAC, "height") })?,
        gain: fields.needed(const { at(DAC, "gain") })?,
        hole: fields.given(const { at(DAC, "hole") })?,
    }))
}

fn screen<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Screen(ScreenEntry {
        max: fields.given(const { at(SCREEN, "max") })?,
        noise: fields.given(const { at(SCREEN, "noise") })?,
        reference: fields.given(const { at(SCREEN, "reference") })?,
    }))
}

fn transfer<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let how = match fields.given(const { at(TRANSFER, "gain") })? {
        Some(gain) => Shots::Fixed(gain),
        None => Shots::Lines {
            block: fields.needed(const { at(TRANSFER, "block") })?,
            part: fields.needed(const { at(TRANSFER, "part") })?,
        },
    };
    fact(Entry::Transfer(TransferEntry { probe: fields.name()?, how }))
}

pub(crate) fn write_timebase(out: &mut Writer<'_>, entry: &TimebaseEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.probe)?;
    out.list("path", entry.path.iter())?;
    out.list("time", entry.time.iter())
}

pub(crate) fn write_angle(out: &mut Writer<'_>, entry: &AngleEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.probe)?;
    out.value("depth", &entry.depth)?;
    out.value("distance", &entry.distance)
}

pub(crate) fn write_dac(out: &mut Writer<'_>, entry: &DacEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.probe)?;
    out.value("path", &entry.path)?;
    out.value("height", &entry.height)?;
    out.value("gain", &entry.gain)?;
    out.given("hole", entry.hole)
}

pub(crate) fn write_beyond(out: &mut Writer<'_>, probe: &Name, beyond: Beyond) -> fmt::Result {
    out.blank()?;
    out.name(probe)?;
    out.choice("beyond", beyond)
}

pub(crate) fn write_screen(out: &mut Writer<'_>, entry: &ScreenEntry) -> fmt::Result {
    out.given("max", entry.max)?;
    out.given("noise", entry.noise)?;
    out.given("reference", entry.reference)
}

pub(crate) fn write_transfer(out: &mut Writer<'_>, entry: &TransferEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.probe)?;
    match &entry.how {
        Shots::Fixed(gain) => out.value("gain", gain),
        Shots::Lines { block, part } => {
            out.shots("block", block)?;
            out.shots("part", part)
        }
    }
}
