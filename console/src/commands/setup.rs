//! The part's material, the weld's geometry, the probes.

use halfskip::record::entry::{
    Curvature, Entry, JointEntry, MaterialEntry, Preparation, ProbeEntry, Reach, ScannedFrom, Side, WedgeHeat,
};
use halfskip::units::decimal::Entered;
use halfskip::units::{Millimetres, limits};

use super::table::{Form, Group, Keyed, Verb, keyed, verb};
use super::{PROBE, fact};
use crate::language::keys::{Key, Kind, Rule, bits, measures};
use crate::language::values::{Choice, Curve, Fields, at};
use crate::language::writer::{Writer, Writes};

keyed!(MaterialEntry {
    name name;
    given shear "shear" Kind::Number(measures::VELOCITY),
        "velocity of shear waves in the part; path and angle are brought to it from the block";
    given longitudinal "long" Kind::Number(measures::VELOCITY), "velocity of longitudinal waves";
    given attenuation "attenuation" Kind::Number(measures::ATTENUATION),
        "loss along the path; for the report, no level uses it";
});

keyed!(JointEntry {
    needed thickness "thickness" Kind::Number(measures::THICKNESS), "of the plate or wall at the weld";
    needed preparation "prep" Kind::Choice(Preparation::WORDS), "preparation";
    given bevel "bevel" Kind::Number(measures::BEVEL), "from the vertical, per side";
    given gap "gap" Kind::Number(measures::GAP), "at the root";
    given land "land" Kind::Number(measures::LAND), "height of the root face";
    given radius "radius" Kind::Number(measures::RADIUS), "at the root of a U or J";
    given cap "cap" Kind::Number(measures::CAP), "width at the scanned face";
    given crown "crown" Kind::Number(measures::CROWN), "height of the cap; absent or 0 = dressed flush";
    given bead "bead" Kind::Number(measures::BEAD), "width of the root bead";
    given excess "excess" Kind::Number(measures::EXCESS), "height of the root bead";
    given haz "haz" Kind::Number(measures::HAZ), "heat-affected zone beside the weld";
    given backing "backing" Kind::Size(measures::BACKING), "backing bar, width x height";
    given counterbore "counterbore" Kind::Size(measures::COUNTERBORE), "step of the bore, distance x height";
    part curvature: curvature, write_curvature;
    given key "curvature" Kind::Choice(Curve::WORDS), "the beam runs around the circumference or along the axis";
    given key "od" Kind::Number(measures::OD), "outside diameter of a curved part";
    given key "from" Kind::Choice(ScannedFrom::WORDS), "the surface scanned; absent = outside";
    given reach "reach" Kind::Choice(Reach::WORDS), "the sides that a probe can use";
    given bevelled "bevelled" Kind::Choice(Side::WORDS), "prepared side of a bevel or J; absent = b";
    given centre "centre" Kind::Number(measures::CENTRE), "y of the cap's middle; absent = middle of the groove";
});

keyed!(ProbeEntry {
    name name;
    needed angle "angle" Kind::Number(measures::ANGLE), "nominal, on the block";
    needed frequency "frequency" Kind::Number(measures::FREQUENCY), "nominal";
    needed element "element" Kind::SizeOrRound(measures::ELEMENT), "in the plane of incidence x across it";
    given front "front" Kind::Number(measures::FRONT), "index point to the probe's nose";
    given wedge "wedge" Kind::Number(measures::WEDGE), "longitudinal speed of the wedge";
    given wedge_path "wedge-path" Kind::Number(measures::WEDGE_PATH), "path in the wedge along the axis";
    part heat: heat, write_heat;
    given key "wedge-slope" Kind::Plain(&limits::WEDGE_SLOPE), "speed change of the wedge per degree Celsius";
    given key "marked-at" Kind::Plain(&limits::TEMPERATURE), "temperature of the marked angle";
    given key "at" Kind::Plain(&limits::TEMPERATURE), "temperature of use, the part's";
});

pub(super) const VERBS: &[Verb] = &[
    verb(
        Group::Setup,
        "material",
        "the part's material: a known name, or velocities of its own",
        &[Form::new("material plate7 shear=3.24 long=5.92 attenuation=0.01dB/mm", |fields| {
            fact(Entry::Material(Keyed::read(fields)?))
        })
        .of(&Key::needed("NAME", Kind::Name, "the material; a known one needs no velocities"))
        .keys(MaterialEntry::KEYS, &[Rule::Together(bits(MaterialEntry::KEYS, &["shear", "long"]))])],
    ),
    verb(
        Group::Setup,
        "joint",
        "the weld's geometry",
        &[Form::new(
            "joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24 crown=1.5",
            |fields| fact(Entry::Joint(Keyed::read(fields)?)),
        )
        .behind("butt")
        .keys(
            JointEntry::KEYS,
            &[
                Rule::Together(bits(JointEntry::KEYS, &["curvature", "od"])),
                Rule::Needs(bits(JointEntry::KEYS, &["from"]), bits(JointEntry::KEYS, &["curvature"])),
            ],
        )],
    ),
    verb(
        Group::Setup,
        "probe",
        "an angle-beam probe",
        &[Form::new("probe p60 angle=60 frequency=4 element=8x9 front=11 wedge=2.73", |fields| {
            fact(Entry::Probe(Keyed::read(fields)?))
        })
        .of(&PROBE)
        .keys(
            ProbeEntry::KEYS,
            &[Rule::Together(bits(ProbeEntry::KEYS, &["wedge-slope", "marked-at", "at"]))],
        )],
    ),
];

fn curvature(fields: &mut Fields<'_>) -> Option<Option<Curvature<Entered<Millimetres>>>> {
    let from = fields.given(const { at(JointEntry::KEYS, "from") }).unwrap_or_default();
    let curve = fields.given(const { at(JointEntry::KEYS, "curvature") });
    let od = fields.given(const { at(JointEntry::KEYS, "od") });
    Some(match (curve, od) {
        (Some(Curve::Around), Some(od)) => Some(Curvature::AroundPipe { od, from }),
        (Some(Curve::Along), Some(od)) => Some(Curvature::AlongPipe { od, from }),
        _ => None,
    })
}

fn write_curvature(curvature: &Option<Curvature<Entered<Millimetres>>>, out: &mut Writer<'_>) {
    let (curve, od, from) = match *curvature {
        Some(Curvature::AroundPipe { od, from }) => (Curve::Around, od, from),
        Some(Curvature::AlongPipe { od, from }) => (Curve::Along, od, from),
        None => return,
    };
    curve.write("curvature", out);
    od.write("od", out);
    Some(from).filter(|from| *from == ScannedFrom::Inside).write("from", out);
}

fn heat(fields: &mut Fields<'_>) -> Option<Option<WedgeHeat>> {
    let slope = fields.given(const { at(ProbeEntry::KEYS, "wedge-slope") });
    let marked_at = fields.given(const { at(ProbeEntry::KEYS, "marked-at") });
    let used_at = fields.given(const { at(ProbeEntry::KEYS, "at") });
    Some(match (slope, marked_at, used_at) {
        (Some(slope), Some(marked_at), Some(at)) => Some(WedgeHeat { slope, marked_at, at }),
        _ => None,
    })
}

fn write_heat(heat: &Option<WedgeHeat>, out: &mut Writer<'_>) {
    if let Some(WedgeHeat { slope, marked_at, at }) = heat {
        slope.write("wedge-slope", out);
        marked_at.write("marked-at", out);
        at.write("at", out);
    }
}
