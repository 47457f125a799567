//! Readings, and what the examiner saw and no number holds.

use core::fmt;

use halfskip::entry::{
    EnteredHeight, Entry, Face, ObserveEntry, PointPeaked, ReadingEntry, Side, Steadiness, Sweep, Travel,
};
use halfskip::error::Range;
use halfskip::limits;
use halfskip::units::{Decibels, Degrees, Microseconds, Millimetres, ScreenPercent};

use super::{Fields, Form, INDICATION, Key, Kind, Line, Verb, fact};
use crate::keys::{Group, Measure, Rule, bits};
use crate::parse::{Choice, Seen, YesNo, at};
use crate::refusal::Fault;
use crate::write::Writer;

const fn length(range: Range) -> Kind {
    Kind::Number(Measure::of::<Millimetres>(range))
}

const HEIGHT: Measure = Measure::of::<ScreenPercent>(limits::REFERENCE_HEIGHT);
const READING: &[Key] = &[
    Key::needed("probe", Kind::Name, "the probe used"),
    Key::needed("side", Kind::Choice(Side::WORDS), "the side of the weld that the probe stands on"),
    Key::needed("x", length(limits::X), "along the weld"),
    Key::needed("standoff", length(limits::STANDOFF), "index point to the weld's centreline"),
    Key::given("path", length(limits::PATH), "sound path as shown"),
    Key::given(
        "time",
        Kind::Number(Measure::of::<Microseconds>(limits::TIME)),
        "echo time, in place of the path",
    ),
    Key::needed(
        "height",
        Kind::NumberOr(HEIGHT, &["over", "under"]),
        "of the echo; over = above the screen, under = not seen above the noise",
    ),
    Key::needed("gain", Kind::Number(Measure::of::<Decibels>(limits::GAIN)), "total gain of the instrument"),
    Key::given(
        "skew",
        Kind::Number(Measure::of::<Degrees>(limits::SKEW)),
        "beam off the weld's perpendicular",
    ),
    Key::given("face", Kind::Choice(Face::WORDS), "the face that the probe stands on; absent = near"),
    Key::given("thickness", length(limits::THICKNESS), "measured here"),
    Key::given("sweep", Kind::Choice(Sweep::WORDS), "the movement that the reading is one of"),
    Key::given("point", Kind::Choice(PointPeaked::WORDS), "what was peaked"),
    Key::given("together", Kind::Count(1, 255), "the same number = seen at one probe position"),
];
const OBSERVE: &[Key] = &[
    Key::given(
        "swivel",
        Kind::Choice(Steadiness::WORDS),
        "the echo as the probe turns about its index point",
    ),
    Key::given("orbit", Kind::Choice(Steadiness::WORDS), "the echo as the probe moves round the reflector"),
    Key::given("tip", Kind::Choice(Seen::WORDS), "a tip echo"),
    Key::given("damped", Kind::Choice(YesNo::WORDS), "the echo falls under a wet finger"),
    Key::given(
        "like-clean-length",
        Kind::Choice(YesNo::WORDS),
        "a length known to be clean gives the same echo",
    ),
];

pub(super) const VERBS: &[Verb] = &[
    Verb {
        word: "reading",
        group: Group::Examination,
        about: "one observation of an indication",
        forms: &[Form {
            name: Some(INDICATION),
            keys: READING,
            rules: &[Rule::OneOf(bits(READING, &["path", "time"]))],
            ..Form::new(reading, "reading 1 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44")
        }],
    },
    Verb {
        word: "observe",
        group: Group::Examination,
        about: "what was seen of an indication and no number holds",
        forms: &[Form {
            name: Some(INDICATION),
            keys: OBSERVE,
            rules: &[Rule::AnyOf(bits(OBSERVE, &["swivel", "orbit", "tip", "damped", "like-clean-length"]))],
            ..Form::new(observe, "observe 1 swivel=ragged tip=not-seen damped=no")
        }],
    },
];

fn reading<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let travel = match fields.given(const { at(READING, "time") })? {
        Some(time) => Travel::Time(time),
        None => Travel::Path(fields.needed(const { at(READING, "path") })?),
    };
    fact(Entry::Reading(ReadingEntry {
        indication: fields.name()?,
        probe: fields.needed(const { at(READING, "probe") })?,
        side: fields.needed(const { at(READING, "side") })?,
        x: fields.needed(const { at(READING, "x") })?,
        standoff: fields.needed(const { at(READING, "standoff") })?,
        travel,
        height: fields.needed(const { at(READING, "height") })?,
        gain: fields.needed(const { at(READING, "gain") })?,
        skew: fields.given(const { at(READING, "skew") })?,
        face: fields.given(const { at(READING, "face") })?.unwrap_or_default(),
        thickness: fields.given(const { at(READING, "thickness") })?,
        sweep: fields.given(const { at(READING, "sweep") })?,
        point: fields.given(const { at(READING, "point") })?.unwrap_or_default(),
        together: fields.given(const { at(READING, "together") })?,
    }))
}

fn observe<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Observe(ObserveEntry {
        indication: fields.name()?,
        swivel: fields.given(const { at(OBSERVE, "swivel") })?,
        orbit: fields.given(const { at(OBSERVE, "orbit") })?,
        tip: fields.given(const { at(OBSERVE, "tip") })?.map(|Seen(seen)| seen),
        damped: fields.given(const { at(OBSERVE, "damped") })?.map(|YesNo(yes)| yes),
        like_clean_length: fields.given(const { at(OBSERVE, "like-clean-length") })?.map(|YesNo(yes)| yes),
    }))
}

pub(crate) fn write_reading(out: &mut Writer<'_>, entry: &ReadingEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.indication)?;
    out.key("probe")?;
    out.name(&entry.probe)?;
    out.choice("side", entry.side)?;
    out.value("x", &entry.x)?;
    out.value("standoff", &entry.standoff)?;
    match entry.travel {
        Travel::Path(path) => out.value("path", &path)?,
        Travel::Time(time) => out.value("time", &time)?,
    }
    match entry.height {
        EnteredHeight::Shown(height) => out.value("height", &height)?,
        EnteredHeight::Over => out.value("height", &"over")?,
        EnteredHeight::Under => out.value("height", &"under")?,
    }
    out.value("gain", &entry.gain)?;
    out.given("skew", entry.skew)?;
    if entry.face != Face::default() {
        out.choice("face", entry.face)?;
    }
    out.given("thickness", entry.thickness)?;
    if let Some(sweep) = entry.sweep {
        out.choice("sweep", sweep)?;
    }
    out.choice("point", entry.point)?;
    entry.together.map_or(Ok(()), |number| out.value("together", &number))
}

pub(crate) fn write_observe(out: &mut Writer<'_>, entry: &ObserveEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.indication)?;
    if let Some(swivel) = entry.swivel {
        out.choice("swivel", swivel)?;
    }
    if let Some(orbit) = entry.orbit {
        out.choice("orbit", orbit)?;
    }
    if let Some(seen) = entry.tip {
        out.choice("tip", Seen(seen))?;
    }
    if let Some(yes) = entry.damped {
        out.choice("damped", YesNo(yes))?;
    }
    entry.like_clean_length.map_or(Ok(()), |yes| out.choice("like-clean-length", YesNo(yes)))
}
