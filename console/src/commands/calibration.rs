//! Calibration: time base, true angle, reference points, screen, transfer.

use halfskip::record::entry::{
    AngleEntry, AngleKnown, Beyond, DacEntry, Entry, MAX_ECHOES, MAX_SHOTS, ScreenEntry, Shots,
    TimebaseEntry, TimebaseKnown, TransferEntry,
};
use halfskip::units::limits;
use heapless::Vec;

use super::table::{Form, Group, Keyed, Verb, keyed, verb};
use super::{PROBE, fact};
use crate::language::keys::{Key, Kind, Rule, bits, measures};
use crate::language::values::{Choice, Fields, at};
use crate::language::writer::{Writer, Writes};

const PATHS: Kind = Kind::List(measures::PATH, 2, MAX_ECHOES as u8);
const TIMES: Kind = Kind::List(measures::TIME, 2, MAX_ECHOES as u8);
const SHOTS: Kind = Kind::Pairs(measures::PATH, measures::GAIN, MAX_SHOTS as u8);

keyed!(TimebaseEntry {
    name probe;
    part how: echoes, write_echoes;
    needed key "path" PATHS, "known paths, two or more";
    needed key "time" TIMES, "their echo times, in the same order";
    given key "velocity" Kind::Number(measures::VELOCITY), "of the block, stated and not measured";
    given key "delay" Kind::Number(measures::DELAY), "before the index point, stated with it";
});

const SPEED: u32 = bits(TimebaseEntry::KEYS, &["velocity", "delay"]);

keyed!(AngleEntry {
    name probe;
    part how: angle, write_angle;
    needed key "depth" Kind::Number(measures::DEPTH), "of the hole's centre";
    needed key "distance" Kind::Number(measures::DISTANCE), "along the surface, index point to hole, at the peak";
    given key "stated" Kind::Number(measures::ANGLE), "the true angle, stated and not measured";
    given key "index" Kind::Number(measures::INDEX), "index point ahead of the mark, stated with it";
    given at "at" Kind::Plain(&limits::TEMPERATURE), "temperature of the block, degrees Celsius";
});

keyed!(DacEntry {
    name probe;
    needed path "path" Kind::Number(measures::PATH), "to the echo, as shown on the time base";
    needed height "height" Kind::Number(measures::REFERENCE_HEIGHT), "of the echo";
    needed gain "gain" Kind::Number(measures::GAIN), "of the instrument at that height";
    given hole "hole" Kind::Number(measures::HOLE),
        "diameter of the side-drilled hole, one for all points; no level uses it";
    given key "beyond" Kind::Choice(Beyond::WORDS), "what holds outside the points";
});

keyed!(ScreenEntry {
    given max "max" Kind::Number(measures::SCREEN), "the greatest height that can be read";
    given noise "noise" Kind::Number(measures::NOISE), "the height of the noise";
    given reference "reference" Kind::Number(measures::SCREEN), "the reference height";
});

keyed!(TransferEntry {
    name probe;
    part how: shots, write_shots;
    given key "gain" Kind::Number(measures::TRANSFER), "a fixed correction";
    needed key "block" SHOTS, "V and W shots on the block, path:gain; one is enough";
    needed key "part" SHOTS, "V and W shots on the part, path:gain; one is enough";
});

pub(super) const VERBS: &[Verb] = &[
    verb(
        Group::Calibration,
        "timebase",
        "echoes from known paths, or velocity and delay as stated",
        &[Form::new("timebase p60 path=25,100 time=17.31,63.75", |fields| {
            // The name is looked at first: the echoes may be refused as a whole.
            fields.name::<halfskip::record::entry::Name>()?;
            fact(Entry::Timebase(Keyed::read(fields)?))
        })
        .of(&PROBE)
        .keys(TimebaseEntry::KEYS, &[Rule::Alone(SPEED), Rule::Together(SPEED)])],
    ),
    verb(
        Group::Calibration,
        "angle",
        "a peaked side-drilled hole, or true angle and index point as stated",
        &[Form::new("angle p60 depth=15 distance=26.3", |fields| fact(Entry::Angle(Keyed::read(fields)?)))
            .of(&PROBE)
            .keys(
                AngleEntry::KEYS,
                &[
                    Rule::Alone(bits(AngleEntry::KEYS, &["stated", "index"])),
                    Rule::WithEither(bits(AngleEntry::KEYS, &["at"])),
                    Rule::Needs(bits(AngleEntry::KEYS, &["index"]), bits(AngleEntry::KEYS, &["stated"])),
                ],
            )],
    ),
    verb(
        Group::Calibration,
        "dac",
        "a reference point, or what holds beyond the points",
        &[Form::new("dac p60 path=30 height=80 gain=38 hole=3", |fields| {
            let probe = fields.name()?;
            match fields.given(const { at(DacEntry::KEYS, "beyond") }) {
                Some(beyond) => fact(Entry::DacBeyond { probe, beyond }),
                None => fact(Entry::Dac(Keyed::read(fields)?)),
            }
        })
        .of(&PROBE)
        .keys(DacEntry::KEYS, &[Rule::Alone(bits(DacEntry::KEYS, &["beyond"]))])],
    ),
    verb(
        Group::Calibration,
        "screen",
        "what the screen can measure, and the reference height",
        &[Form::new("screen max=100 noise=5 reference=80", |fields| {
            fact(Entry::Screen(Keyed::read(fields)?))
        })
        .keys(ScreenEntry::KEYS, &[Rule::any_of(ScreenEntry::KEYS)])],
    ),
    verb(
        Group::Calibration,
        "transfer",
        "difference in sensitivity, block to part",
        &[Form::new("transfer p60 block=40:41,80:47.5 part=36:42,72:49", |fields| {
            fact(Entry::Transfer(Keyed::read(fields)?))
        })
        .of(&PROBE)
        .keys(TransferEntry::KEYS, &[Rule::Alone(bits(TransferEntry::KEYS, &["gain"]))])],
    ),
];

fn echoes(fields: &mut Fields<'_>) -> Option<TimebaseKnown> {
    if let Some(velocity) = fields.given(const { at(TimebaseEntry::KEYS, "velocity") }) {
        let delay = fields.needed(const { at(TimebaseEntry::KEYS, "delay") })?;
        return Some(TimebaseKnown::Stated { velocity, delay });
    }
    let path: Vec<_, MAX_ECHOES> = fields.needed(const { at(TimebaseEntry::KEYS, "path") })?;
    let time: Vec<_, MAX_ECHOES> = fields.needed(const { at(TimebaseEntry::KEYS, "time") })?;
    fields.equal(("path", path.len()), ("time", time.len()))?;
    Some(TimebaseKnown::Echoes { path, time })
}

fn write_echoes(how: &TimebaseKnown, out: &mut Writer<'_>) {
    match how {
        TimebaseKnown::Echoes { path, time } => {
            path.write("path", out);
            time.write("time", out);
        }
        TimebaseKnown::Stated { velocity, delay } => {
            velocity.write("velocity", out);
            delay.write("delay", out);
        }
    }
}

fn angle(fields: &mut Fields<'_>) -> Option<AngleKnown> {
    Some(match fields.given(const { at(AngleEntry::KEYS, "stated") }) {
        Some(angle) => {
            AngleKnown::Stated { angle, index: fields.given(const { at(AngleEntry::KEYS, "index") }) }
        }
        None => AngleKnown::Hole {
            depth: fields.needed(const { at(AngleEntry::KEYS, "depth") })?,
            distance: fields.needed(const { at(AngleEntry::KEYS, "distance") })?,
        },
    })
}

fn write_angle(how: &AngleKnown, out: &mut Writer<'_>) {
    match how {
        AngleKnown::Hole { depth, distance } => {
            depth.write("depth", out);
            distance.write("distance", out);
        }
        AngleKnown::Stated { angle, index } => {
            angle.write("stated", out);
            index.write("index", out);
        }
    }
}

fn shots(fields: &mut Fields<'_>) -> Option<Shots> {
    Some(match fields.given(const { at(TransferEntry::KEYS, "gain") }) {
        Some(gain) => Shots::Fixed(gain),
        None => Shots::Lines {
            block: fields.needed(const { at(TransferEntry::KEYS, "block") })?,
            part: fields.needed(const { at(TransferEntry::KEYS, "part") })?,
        },
    })
}

fn write_shots(how: &Shots, out: &mut Writer<'_>) {
    match how {
        Shots::Fixed(gain) => gain.write("gain", out),
        Shots::Lines { block, part } => {
            block.write("block", out);
            part.write("part", out);
        }
    }
}
