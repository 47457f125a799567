//! Cracks from the far face, corner and tip seen together or peaked apart: the height that is told, and the true one.

use super::Share;
use super::model::{Probe, off, plate, reading};
use crate::drawn::Drawn;
use crate::job::job;
use halfskip::findings::{Findings, Scratch};

/// How corner and tip were read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Read {
    /// At one probe position, from side A; the crack leans up to 10 degrees.
    TogetherOneSide,
    /// At one probe position a side; it leans up to 30 degrees.
    TogetherBothSides,
    /// Each peaked by itself, from side A; it leans up to 30 degrees.
    Apart,
}

impl Read {
    /// All of them, as the table names them.
    pub const ALL: [(Self, &'static str); 3] = [
        (Self::TogetherOneSide, "seen together from one side, leaning up to 10 degrees"),
        (Self::TogetherBothSides, "seen together from both sides, leaning up to 30 degrees"),
        (Self::Apart, "peaked apart, leaning up to 30 degrees"),
    ];
}

/// The share of heights, 2 mm to a third of the wall, that lie within U of what is told.
#[must_use]
pub fn share(angles: &[f64], read: Read, draws: u32, seed: u64) -> Share {
    let mut from = Drawn::seeded(seed);
    let mut share = Share::default();
    for _ in 0..draws {
        let stated = f64::from((from.between(8.0, 40.0) * 10.0).round() / 10.0);
        let (mut lines, t) = plate(&mut from, stated, angles, "", 0.0);
        let more = t / 3.0 - 2.0;
        let height = 2.0 + if more > 0.0 { more } else { 0.0 } * f64::from(from.between(0.0, 1.0));
        let most = if read == Read::TogetherOneSide { 10.0 } else { 30.0 };
        let (y, across) = (off(&mut from, 5.0), height * off(&mut from, most).to_radians().tan());
        let sides: &[f64] = if read == Read::TogetherBothSides { &[1.0, -1.0] } else { &[1.0] };
        let mut tie = 0;
        for angle in angles {
            let probe = Probe::drawn(&mut from, *angle, 0.0);
            for g in sides {
                tie += 1;
                let distance = t * probe.tangent();
                let standoff = probe.standoff(distance, *g, y) + off(&mut from, 1.0);
                let corner = probe.read(&mut from, distance.hypot(t));
                let (tip_standoff, tip, tied) = if read == Read::Apart {
                    let distance = (t - height) * probe.tangent();
                    let standoff = probe.standoff(distance, *g, y + across) + off(&mut from, 1.0);
                    (standoff, probe.read(&mut from, distance.hypot(t - height)), String::new())
                } else {
                    let path = (distance + g * across).hypot(t - height);
                    (standoff, probe.read(&mut from, path), format!(" together={tie}"))
                };
                reading(&mut lines, *angle, *g, (standoff, corner), &format!("point=corner{tied}"));
                reading(&mut lines, *angle, *g, (tip_standoff, tip), &format!("point=upper-tip{tied}"));
            }
        }
        let shell = job(&lines);
        let facts = shell.examination().facts();
        let mut scratch = Scratch::<64>::new();
        let findings = Findings::new(facts, None, &mut scratch);
        let indication = findings.indication(0);
        let Some(found) = indication.height(indication.place().as_ref()) else { continue };
        share.add((f64::from(found.height) - height).abs() <= f64::from(found.uncertainty), true);
        share.disagree += u32::from(found.disagrees());
    }
    share
}
