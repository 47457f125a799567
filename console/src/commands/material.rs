//! The part's material.

use halfskip::record::entry::{Entry, MaterialEntry};

use super::Group;
use super::{Fields, Form, Key, Kind, Line, Verb, fact};
use crate::language::keys::{Rule, bits, measures};
use crate::language::values::at;
use crate::language::writer::Writer;

const VELOCITY: Kind = Kind::Number(measures::VELOCITY);
const ATTENUATION: Kind = Kind::Number(measures::ATTENUATION);
const KEYS: &[Key] = &[
    Key::given(
        "shear",
        VELOCITY,
        "velocity of shear waves in the part; path and angle are brought to it from the block",
    ),
    Key::given("long", VELOCITY, "velocity of longitudinal waves"),
    Key::given("attenuation", ATTENUATION, "loss along the path; for the report, no level uses it"),
];

pub(super) const VERBS: &[Verb] = &[Verb {
    word: "material",
    group: Group::Setup,
    about: "the part's material: a known name, or velocities of its own",
    forms: &[Form {
        name: Some(&Key::needed("NAME", Kind::Name, "the material; a known one needs no velocities")),
        keys: KEYS,
        rules: &[Rule::Together(bits(KEYS, &["shear", "long"]))],
        ..Form::new(material, "material plate7 shear=3.24 long=5.92 attenuation=0.01dB/mm")
    }],
}];

fn material(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Material(MaterialEntry {
        name: fields.name()?,
        shear: fields.given(const { at(KEYS, "shear") }),
        longitudinal: fields.given(const { at(KEYS, "long") }),
        attenuation: fields.given(const { at(KEYS, "attenuation") }),
    }))
}

pub(crate) fn write(out: &mut Writer<'_>, entry: &MaterialEntry) {
    out.named(&entry.name);
    out.given("shear", entry.shear);
    out.given("long", entry.longitudinal);
    out.given("attenuation", entry.attenuation);
}
