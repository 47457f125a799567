//! Probes.

use halfskip::record::entry::{Element, Entry, ProbeEntry, WedgeHeat};
use halfskip::units::limits;

use super::Group;
use super::{Fields, Form, Key, Kind, Line, PROBE, Verb, fact};
use crate::language::keys::{Rule, bits, measures};
use crate::language::values::at;
use crate::language::writer::Writer;

const KEYS: &[Key] = &[
    Key::needed("angle", Kind::Number(measures::ANGLE), "nominal, on the block"),
    Key::needed("frequency", Kind::Number(measures::FREQUENCY), "nominal"),
    Key::needed("element", Kind::SizeOrRound(measures::ELEMENT), "in the plane of incidence x across it"),
    Key::given("front", Kind::Number(measures::FRONT), "index point to the probe's nose"),
    Key::given("wedge", Kind::Number(measures::WEDGE), "longitudinal speed of the wedge"),
    Key::given("wedge-path", Kind::Number(measures::WEDGE_PATH), "path in the wedge along the axis"),
    Key::given(
        "wedge-slope",
        Kind::Plain(&limits::WEDGE_SLOPE),
        "speed change of the wedge per degree Celsius",
    ),
    Key::given("marked-at", Kind::Plain(&limits::TEMPERATURE), "temperature of the marked angle"),
    Key::given("at", Kind::Plain(&limits::TEMPERATURE), "temperature of use, the part's"),
];

pub(super) const VERBS: &[Verb] = &[Verb {
    word: "probe",
    group: Group::Setup,
    about: "an angle-beam probe",
    forms: &[Form {
        name: Some(&PROBE),
        keys: KEYS,
        rules: &[Rule::Together(bits(KEYS, &["wedge-slope", "marked-at", "at"]))],
        ..Form::new(probe, "probe p60 angle=60 frequency=4 element=8x9 front=11 wedge=2.73")
    }],
}];

fn probe(fields: &mut Fields<'_>) -> Option<Line> {
    let slope = fields.given(const { at(KEYS, "wedge-slope") });
    let marked_at = fields.given(const { at(KEYS, "marked-at") });
    let used_at = fields.given(const { at(KEYS, "at") });
    let heat = match (slope, marked_at, used_at) {
        (Some(slope), Some(marked_at), Some(at)) => Some(WedgeHeat { slope, marked_at, at }),
        _ => None,
    };
    fact(Entry::Probe(ProbeEntry {
        name: fields.name()?,
        angle: fields.needed(const { at(KEYS, "angle") })?,
        frequency: fields.needed(const { at(KEYS, "frequency") })?,
        element: fields.needed(const { at(KEYS, "element") })?,
        front: fields.given(const { at(KEYS, "front") }),
        wedge: fields.given(const { at(KEYS, "wedge") }),
        wedge_path: fields.given(const { at(KEYS, "wedge-path") }),
        heat,
    }))
}

pub(crate) fn write(out: &mut Writer<'_>, entry: &ProbeEntry) {
    out.named(&entry.name);
    out.number("angle", entry.angle);
    out.number("frequency", entry.frequency);
    match entry.element {
        Element::Round { diameter } => out.number("element", diameter),
        Element::Rectangular { in_plane, across } => out.size("element", in_plane, across),
    }
    out.given("front", entry.front);
    out.given("wedge", entry.wedge);
    out.given("wedge-path", entry.wedge_path);
    if let Some(WedgeHeat { slope, marked_at, at }) = entry.heat {
        out.value("wedge-slope", &slope);
        out.value("marked-at", &marked_at);
        out.value("at", &at);
    }
}
