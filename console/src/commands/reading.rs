//! Readings, what the examiner saw and no number holds, the sheets that they are judged by, and what is taken out again.

use halfskip::record::entry::{
    Entry, Face, ObserveEntry, PointPeaked, ReadingEntry, Side, Steadiness, Sweep, Travel,
};

use super::table::{Build, Form, Group, Keyed, Verb, keyed, verb};
use super::{INDICATION, fact};
use crate::language::keys::{Key, Kind, Rule, bits, measures};
use crate::language::values::{Choice, Fields, Seen, YesNo, at};
use crate::language::writer::{Writer, Writes};

keyed!(ReadingEntry {
    name indication;
    needed probe "probe" Kind::Name, "the probe used";
    needed side "side" Kind::Choice(Side::WORDS), "the side of the weld that the probe stands on";
    needed x "x" Kind::Number(measures::X), "along the weld";
    needed standoff "standoff" Kind::Number(measures::STANDOFF),
        "index point to the weld's centreline; negative past it";
    part travel: travel, write_travel;
    given key "path" Kind::Number(measures::PATH), "sound path as shown";
    given key "time" Kind::Number(measures::TIME), "echo time, in place of the path";
    needed height "height" Kind::NumberOr(measures::REFERENCE_HEIGHT, &["over", "under"]),
        "of the echo; over = above the screen, under = not seen above the noise";
    needed gain "gain" Kind::Number(measures::GAIN), "total gain of the instrument";
    given skew "skew" Kind::Number(measures::SKEW), "beam off the weld's perpendicular";
    default face "face" Kind::Choice(Face::WORDS), "the face that the probe stands on; absent = near";
    given thickness "thickness" Kind::Number(measures::THICKNESS), "measured here";
    given sweep "sweep" Kind::Choice(Sweep::WORDS), "the movement that the reading is one of";
    default point "point" Kind::Choice(PointPeaked::WORDS), "what was peaked";
    given together "together" Kind::Count(1, 255), "the same number = seen at one probe position";
});

keyed!(ObserveEntry {
    name indication;
    given swivel "swivel" Kind::Choice(Steadiness::WORDS), "the echo as the probe turns about its index point";
    given orbit "orbit" Kind::Choice(Steadiness::WORDS), "the echo as the probe moves round the reflector";
    flag tip Seen "tip" Kind::Choice(Seen::WORDS), "a tip echo";
    flag damped YesNo "damped" Kind::Choice(YesNo::WORDS), "the echo falls under a wet finger";
    flag like_clean_length YesNo "like-clean-length" Kind::Choice(YesNo::WORDS),
        "a length known to be clean gives the same echo";
});

const FILE: Key = Key::needed("FILE", Kind::Reason, "the sheet");
const VOID: &[Key] = &[Key::needed("reason", Kind::Reason, "why it no longer counts")];

pub(super) const VERBS: &[Verb] = &[
    verb(
        Group::Examination,
        "reading",
        "one observation of an indication",
        &[Form::new("reading 1 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44", |fields| {
            fact(Entry::Reading(Keyed::read(fields)?))
        })
        .of(&INDICATION)
        .keys(ReadingEntry::KEYS, &[Rule::OneOf(bits(ReadingEntry::KEYS, &["path", "time"]))])],
    ),
    verb(
        Group::Examination,
        "observe",
        "what was seen of an indication and no number holds",
        &[Form::new("observe 1 swivel=ragged tip=not-seen damped=no", |fields| {
            fact(Entry::Observe(Keyed::read(fields)?))
        })
        .of(&INDICATION)
        .keys(ObserveEntry::KEYS, &[Rule::any_of(ObserveEntry::KEYS)])],
    ),
    verb(
        Group::Examination,
        "criteria",
        "the acceptance sheet",
        &[sheet("criteria sheet.toml", |fields| fact(Entry::Criteria(fields.name()?)))],
    ),
    verb(
        Group::Examination,
        "technique",
        "the technique sheet: what an accept asks for",
        &[sheet("technique sheet.toml", |fields| fact(Entry::Technique(fields.name()?)))],
    ),
    verb(
        Group::Examination,
        "void",
        "takes an earlier entry out; it stays on record",
        &[Form::new(r#"void 7 reason="probe was not coupled""#, |fields| {
            let number = fields.name()?;
            fact(Entry::Void { number, reason: fields.needed(const { at(VOID, "reason") })? })
        })
        .of(&Key::needed("N", Kind::Count(1, u32::MAX), "the entry's number"))
        .keys(VOID, &[])],
    ),
];

const fn sheet(example: &'static str, build: Build) -> Form {
    Form::new(example, build).of(&FILE)
}

fn travel(fields: &mut Fields<'_>) -> Option<Travel> {
    Some(match fields.given(const { at(ReadingEntry::KEYS, "time") }) {
        Some(time) => Travel::Time(time),
        None => Travel::Path(fields.needed(const { at(ReadingEntry::KEYS, "path") })?),
    })
}

fn write_travel(travel: &Travel, out: &mut Writer<'_>) {
    match travel {
        Travel::Path(path) => path.write("path", out),
        Travel::Time(time) => time.write("time", out),
    }
}
