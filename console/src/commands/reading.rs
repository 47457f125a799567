//! Readings, and what the examiner saw and no number holds.

use halfskip::record::entry::{
    EnteredHeight, Entry, Face, ObserveEntry, PointPeaked, ReadingEntry, Side, Steadiness, Sweep, Travel,
};

use super::Group;
use super::{Fields, Form, INDICATION, Key, Kind, Line, Verb, fact};
use crate::language::keys::{Rule, bits, measures};
use crate::language::values::{Choice, Seen, YesNo, at};
use crate::language::writer::Writer;

const READING: &[Key] = &[
    Key::needed("probe", Kind::Name, "the probe used"),
    Key::needed("side", Kind::Choice(Side::WORDS), "the side of the weld that the probe stands on"),
    Key::needed("x", Kind::Number(measures::X), "along the weld"),
    Key::needed(
        "standoff",
        Kind::Number(measures::STANDOFF),
        "index point to the weld's centreline; negative past it",
    ),
    Key::given("path", Kind::Number(measures::PATH), "sound path as shown"),
    Key::given("time", Kind::Number(measures::TIME), "echo time, in place of the path"),
    Key::needed(
        "height",
        Kind::NumberOr(measures::REFERENCE_HEIGHT, &["over", "under"]),
        "of the echo; over = above the screen, under = not seen above the noise",
    ),
    Key::needed("gain", Kind::Number(measures::GAIN), "total gain of the instrument"),
    Key::given("skew", Kind::Number(measures::SKEW), "beam off the weld's perpendicular"),
    Key::given("face", Kind::Choice(Face::WORDS), "the face that the probe stands on; absent = near"),
    Key::given("thickness", Kind::Number(measures::THICKNESS), "measured here"),
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
            name: Some(&INDICATION),
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
            name: Some(&INDICATION),
            keys: OBSERVE,
            rules: &[Rule::AnyOf(bits(OBSERVE, &["swivel", "orbit", "tip", "damped", "like-clean-length"]))],
            ..Form::new(observe, "observe 1 swivel=ragged tip=not-seen damped=no")
        }],
    },
];

fn reading(fields: &mut Fields<'_>) -> Option<Line> {
    let travel = match fields.given(const { at(READING, "time") }) {
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
        skew: fields.given(const { at(READING, "skew") }),
        face: fields.given(const { at(READING, "face") }).unwrap_or_default(),
        thickness: fields.given(const { at(READING, "thickness") }),
        sweep: fields.given(const { at(READING, "sweep") }),
        point: fields.given(const { at(READING, "point") }).unwrap_or_default(),
        together: fields.given(const { at(READING, "together") }),
    }))
}

fn observe(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Observe(ObserveEntry {
        indication: fields.name()?,
        swivel: fields.given(const { at(OBSERVE, "swivel") }),
        orbit: fields.given(const { at(OBSERVE, "orbit") }),
        tip: fields.given(const { at(OBSERVE, "tip") }).map(|Seen(seen)| seen),
        damped: fields.given(const { at(OBSERVE, "damped") }).map(|YesNo(yes)| yes),
        like_clean_length: fields.given(const { at(OBSERVE, "like-clean-length") }).map(|YesNo(yes)| yes),
    }))
}

pub(crate) fn write_reading(out: &mut Writer<'_>, entry: &ReadingEntry) {
    out.named(&entry.indication);
    out.name_of("probe", &entry.probe);
    out.word("side", entry.side.word());
    out.number("x", entry.x);
    out.number("standoff", entry.standoff);
    match entry.travel {
        Travel::Path(path) => out.number("path", path),
        Travel::Time(time) => out.number("time", time),
    }
    match entry.height {
        EnteredHeight::Shown(height) => out.number("height", height),
        EnteredHeight::Over => out.word("height", Some("over")),
        EnteredHeight::Under => out.word("height", Some("under")),
    }
    out.number("gain", entry.gain);
    out.given("skew", entry.skew);
    if entry.face != Face::default() {
        out.word("face", entry.face.word());
    }
    out.given("thickness", entry.thickness);
    out.word("sweep", entry.sweep.and_then(Choice::word));
    out.word("point", entry.point.word());
    if let Some(number) = entry.together {
        out.value("together", &number);
    }
}

pub(crate) fn write_observe(out: &mut Writer<'_>, entry: &ObserveEntry) {
    out.named(&entry.indication);
    out.word("swivel", entry.swivel.and_then(Choice::word));
    out.word("orbit", entry.orbit.and_then(Choice::word));
    out.word("tip", entry.tip.map(Seen).and_then(Choice::word));
    out.word("damped", entry.damped.map(YesNo).and_then(Choice::word));
    out.word("like-clean-length", entry.like_clean_length.map(YesNo).and_then(Choice::word));
}
