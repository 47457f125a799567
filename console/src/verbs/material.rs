//! The part's material.

use core::fmt;

use halfskip::entry::{Entry, MaterialEntry};
use halfskip::units::{DecibelsPerMillimetre, MillimetresPerMicrosecond};

use super::{Fields, Form, Key, Kind, Line, Verb, fact};
use crate::keys::{Group, Measure, Rule, bits};
use crate::parse::at;
use crate::refusal::Fault;
use crate::write::Writer;

const VELOCITY: Kind =
    Kind::Number(Measure::of::<MillimetresPerMicrosecond>(MillimetresPerMicrosecond::RANGE));
const ATTENUATION: Kind = Kind::Number(Measure::of::<DecibelsPerMillimetre>(DecibelsPerMillimetre::RANGE));
const KEYS: &[Key] = &[
    Key::given("shear", VELOCITY, "velocity of shear waves"),
    Key::given("long", VELOCITY, "velocity of longitudinal waves"),
    Key::given("attenuation", ATTENUATION, "loss along the path"),
];

pub(super) const VERBS: &[Verb] = &[Verb {
    word: "material",
    group: Group::Setup,
    about: "the part's material: a known name, or velocities of its own",
    forms: &[Form {
        name: Some(Key::needed("NAME", Kind::Name, "the material; a known one needs no velocities")),
        keys: KEYS,
        rules: &[Rule::Together(bits(KEYS, &["shear", "long"]))],
        ..Form::new(material, "material plate7 shear=3.24 long=5.92 attenuation=0.01dB/mm")
    }],
}];

fn material<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Material(MaterialEntry {
        name: fields.name()?,
        shear: fields.given(const { at(KEYS, "shear") })?,
        longitudinal: fields.given(const { at(KEYS, "long") })?,
        attenuation: fields.given(const { at(KEYS, "attenuation") })?,
    }))
}

pub(crate) fn write(out: &mut Writer<'_>, entry: &MaterialEntry) -> fmt::Result {
    out.blank()?;
    out.name(&entry.name)?;
    out.given("shear", entry.shear)?;
    out.given("long", entry.longitudinal)?;
    out.given("attenuation", entry.attenuation)
}
