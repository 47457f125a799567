//! The weld's geometry.

use halfskip::record::entry::{
    Backing, Counterbore, Curvature, Entry, JointEntry, Preparation, Reach, ScannedFrom, Side,
};

use super::Group;
use super::{Fields, Form, Key, Kind, Line, Verb, fact};
use crate::language::keys::{Rule, bits, measures};
use crate::language::values::{Choice, Curve, at};
use crate::language::writer::Writer;

const KEYS: &[Key] = &[
    Key::needed("thickness", Kind::Number(measures::THICKNESS), "of the plate or wall at the weld"),
    Key::needed("prep", Kind::Choice(Preparation::WORDS), "preparation"),
    Key::given("bevel", Kind::Number(measures::BEVEL), "from the vertical, per side"),
    Key::given("gap", Kind::Number(measures::GAP), "at the root"),
    Key::given("land", Kind::Number(measures::LAND), "height of the root face"),
    Key::given("radius", Kind::Number(measures::RADIUS), "at the root of a U or J"),
    Key::given("cap", Kind::Number(measures::CAP), "width at the scanned face"),
    Key::given("crown", Kind::Number(measures::CROWN), "height of the cap; absent or 0 = dressed flush"),
    Key::given("bead", Kind::Number(measures::BEAD), "width of the root bead"),
    Key::given("excess", Kind::Number(measures::EXCESS), "height of the root bead"),
    Key::given("haz", Kind::Number(measures::HAZ), "heat-affected zone beside the weld"),
    Key::given("backing", Kind::Size(measures::BACKING), "backing bar, width x height"),
    Key::given("counterbore", Kind::Size(measures::COUNTERBORE), "step of the bore, distance x height"),
    Key::given(
        "curvature",
        Kind::Choice(Curve::WORDS),
        "the beam runs around the circumference or along the axis",
    ),
    Key::given("od", Kind::Number(measures::OD), "outside diameter of a curved part"),
    Key::given("from", Kind::Choice(ScannedFrom::WORDS), "the surface scanned; absent = outside"),
    Key::given("reach", Kind::Choice(Reach::WORDS), "the sides that a probe can use"),
    Key::given("bevelled", Kind::Choice(Side::WORDS), "prepared side of a bevel or J; absent = b"),
    Key::given(
        "centre",
        Kind::Number(measures::CENTRE),
        "y of the cap's middle; absent = middle of the groove",
    ),
];

pub(super) const VERBS: &[Verb] = &[Verb {
    word: "joint",
    group: Group::Setup,
    about: "the weld's geometry",
    forms: &[Form {
        fixed: Some("butt"),
        keys: KEYS,
        rules: &[
            Rule::Together(bits(KEYS, &["curvature", "od"])),
            Rule::Needs(bits(KEYS, &["from"]), bits(KEYS, &["curvature"])),
        ],
        ..Form::new(joint, "joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24 crown=1.5")
    }],
}];

fn joint(fields: &mut Fields<'_>) -> Option<Line> {
    let from = fields.given(const { at(KEYS, "from") }).unwrap_or_default();
    let curve = fields.given(const { at(KEYS, "curvature") });
    let od = fields.given(const { at(KEYS, "od") });
    let curvature = match (curve, od) {
        (Some(Curve::Around), Some(od)) => Some(Curvature::AroundPipe { od, from }),
        (Some(Curve::Along), Some(od)) => Some(Curvature::AlongPipe { od, from }),
        _ => None,
    };
    fact(Entry::Joint(JointEntry {
        thickness: fields.needed(const { at(KEYS, "thickness") })?,
        preparation: fields.needed(const { at(KEYS, "prep") })?,
        bevel: fields.given(const { at(KEYS, "bevel") }),
        gap: fields.given(const { at(KEYS, "gap") }),
        land: fields.given(const { at(KEYS, "land") }),
        radius: fields.given(const { at(KEYS, "radius") }),
        cap: fields.given(const { at(KEYS, "cap") }),
        crown: fields.given(const { at(KEYS, "crown") }),
        bead: fields.given(const { at(KEYS, "bead") }),
        excess: fields.given(const { at(KEYS, "excess") }),
        haz: fields.given(const { at(KEYS, "haz") }),
        backing: fields.given(const { at(KEYS, "backing") }).map(|(width, height)| Backing { width, height }),
        counterbore: fields
            .given(const { at(KEYS, "counterbore") })
            .map(|(distance, height)| Counterbore { distance, height }),
        curvature,
        reach: fields.given(const { at(KEYS, "reach") }),
        bevelled: fields.given(const { at(KEYS, "bevelled") }),
        centre: fields.given(const { at(KEYS, "centre") }),
    }))
}

pub(crate) fn write(out: &mut Writer<'_>, entry: &JointEntry) {
    out.plain("butt");
    out.number("thickness", entry.thickness);
    out.word("prep", Some(entry.preparation.word()));
    out.given("bevel", entry.bevel);
    out.given("gap", entry.gap);
    out.given("land", entry.land);
    out.given("radius", entry.radius);
    out.given("cap", entry.cap);
    out.given("crown", entry.crown);
    out.given("bead", entry.bead);
    out.given("excess", entry.excess);
    out.given("haz", entry.haz);
    if let Some(Backing { width, height }) = entry.backing {
        out.size("backing", width, height);
    }
    if let Some(Counterbore { distance, height }) = entry.counterbore {
        out.size("counterbore", distance, height);
    }
    let curvature = entry.curvature.map(|curvature| match curvature {
        Curvature::AroundPipe { od, from } => (Curve::Around, od, from),
        Curvature::AlongPipe { od, from } => (Curve::Along, od, from),
    });
    if let Some((curve, od, from)) = curvature {
        out.word("curvature", curve.word());
        out.number("od", od);
        if from == ScannedFrom::Inside {
            out.word("from", from.word());
        }
    }
    out.word("reach", entry.reach.and_then(Choice::word));
    out.word("bevelled", entry.bevelled.and_then(Choice::word));
    out.given("centre", entry.centre);
}
