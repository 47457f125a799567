//! Scanning gain, in-service and equipment checks, and what is tolerated.

use halfskip::record::entry::{
    CheckEntry, Entry, GainLinearityEntry, MAX_STEPS, ScreenLinearityEntry, ToleranceEntry,
};

use super::table::{Form, Group, Keyed, Verb, keyed, verb};
use super::{PROBE, fact};
use crate::language::keys::{Key, Kind, Rule, bits, measures};
use crate::language::values::{Fields, at};
use crate::language::writer::{Writer, Writes};

const HEIGHTS: Kind = Kind::List(measures::REFERENCE_HEIGHT, 1, MAX_STEPS as u8);
const CHANGES: Kind = Kind::List(measures::GAIN_CHANGE, 1, MAX_STEPS as u8);
const WINDOW: Kind = Kind::NumberOr(measures::HEIGHT_TOLERANCE, &["t9074"]);
const LENGTH: Kind = Kind::Number(measures::LENGTH_TOLERANCE);

const SCANNING: &[Key] =
    &[Key::needed("margin", Kind::Number(measures::MARGIN), "gain added while scanning")];

keyed!(CheckEntry {
    name probe;
    needed path "path" Kind::Number(measures::PATH), "known path";
    needed shown "shown" Kind::Number(measures::PATH), "path shown";
    given height "height" Kind::Number(measures::REFERENCE_HEIGHT), "height of its echo";
    given gain "gain" Kind::Number(measures::GAIN), "gain at that height";
    given time "time" Kind::Clock, "when, on the day in force";
    given block "block" Kind::Short, "the block it was done on";
});

keyed!(ScreenLinearityEntry {
    needed large "large" HEIGHTS, "heights of the larger echo";
    needed small "small" HEIGHTS, "heights of the one that should be half of it";
    always window "window" WINDOW, "half width tolerated, or that of T9074-AS-GIB-010/271";
});

keyed!(GainLinearityEntry {
    needed set "set" HEIGHTS, "heights set";
    needed change "change" CHANGES, "changes of gain";
    needed shown "shown" HEIGHTS, "heights shown after them";
    always window "window" WINDOW, "half width tolerated, or that of T9074-AS-GIB-010/271";
});

keyed!(ToleranceEntry {
    given angle "angle" Kind::Number(measures::ANGLE_TOLERANCE), "beam angle";
    given path "path" LENGTH, "reading of the path";
    given index "index" LENGTH, "index point";
    given standoff "standoff" LENGTH, "stand-off";
    given thickness "thickness" LENGTH, "thickness";
    given velocity "velocity" Kind::Number(measures::VELOCITY_TOLERANCE), "velocity of sound";
    given height "height" Kind::Number(measures::HEIGHT_TOLERANCE), "echo height, % of the screen";
    given range "range" Kind::Number(measures::RANGE_TOLERANCE), "drift of a check, % of the path";
    given sensitivity "sensitivity" Kind::Number(measures::LEVEL_TOLERANCE), "drift of a check, level";
    given reflector "reflector" LENGTH, "size of a body that few views cannot tell; 0 for a point";
    given lean "lean" Kind::Number(measures::ANGLE_TOLERANCE), "lean of a flaw seen from one side";
});

pub(super) const VERBS: &[Verb] = &[
    verb(
        Group::Calibration,
        "scanning",
        "gain added for scanning; recorded, no part of a level",
        &[Form::new("scanning p60 margin=6", |fields| {
            let margin = fields.needed(const { at(SCANNING, "margin") })?;
            fact(Entry::Scanning { probe: fields.name()?, margin })
        })
        .of(&PROBE)
        .keys(SCANNING, &[])],
    ),
    verb(
        Group::Calibration,
        "check",
        "an in-service check against the calibration",
        &[Form::new("check p60 path=100 shown=99.2 height=78 gain=38", |fields| {
            fact(Entry::Check(Keyed::read(fields)?))
        })
        .of(&PROBE)
        .keys(CheckEntry::KEYS, &[Rule::Together(bits(CheckEntry::KEYS, &["height", "gain"]))])],
    ),
    verb(
        Group::Calibration,
        "linearity",
        "a check of the screen height or of the gain control",
        &[
            Form::new("linearity screen large=80,70,60,40 small=40,35,30,20", |fields| {
                let entry = ScreenLinearityEntry::read(fields)?;
                fields.equal(("large", entry.large.len()), ("small", entry.small.len()))?;
                fact(Entry::ScreenLinearity(entry))
            })
            .behind("screen")
            .keys(ScreenLinearityEntry::KEYS, &[]),
            Form::new("linearity gain set=80,80,40 change=-6,-12,6 shown=40,20,80", |fields| {
                let entry = GainLinearityEntry::read(fields)?;
                fields.equal(("set", entry.set.len()), ("change", entry.change.len()))?;
                fields.equal(("set", entry.set.len()), ("shown", entry.shown.len()))?;
                fact(Entry::GainLinearity(entry))
            })
            .behind("gain")
            .keys(GainLinearityEntry::KEYS, &[]),
        ],
    ),
    verb(
        Group::Calibration,
        "tolerance",
        "half widths of the uncertainty budget, and the drift that a check may show",
        &[Form::new("tolerance angle=2 path=0.5 index=1 standoff=1 thickness=0.3 height=5", |fields| {
            fact(Entry::Tolerance(Keyed::read(fields)?))
        })
        .keys(ToleranceEntry::KEYS, &[Rule::any_of(ToleranceEntry::KEYS)])],
    ),
];
