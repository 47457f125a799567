//! An invented job for the tests of this folder, and echoes of it that each test shapes as it needs them.

use heapless::Vec;

use super::case::{Case, EVIDENCE, Notes};
use super::direction::Direction;
use super::echo::{AtFace, Echo, Look};
use super::evidence::Evidence;
use super::group::Group;
use super::site::Site;
use std::boxed::Box;

use crate::calibration::level::{Bound, Level};
use crate::evaluate::{Findings, Indication, Scratch};
use crate::record::entry::fixture::name;
pub(super) use crate::record::entry::fixture::{entered, seen};
use crate::record::entry::{
    DacEntry, Element, Entry, Face, JointEntry, MaterialEntry, Preparation, ProbeEntry, ReadingEntry, Side,
    Sweep, ToleranceEntry, Travel,
};
use crate::record::examination::{Examination, Facts, Pooled};
use crate::units::Decibels;

pub(super) type Job = Examination<4, 4, 64, 2048>;

/// Steel of 20 mm, a single V of 30 degrees, its cap 12 mm and its bead 6 mm wide; a probe of each angle, named by its
/// place, its reference 40 dB at 80 % and every path; and a reading by each of them from either side, as [`seen`] has it.
pub(super) fn job<const N: usize>(angles: [f32; N]) -> Job {
    let mut job = Job::new();
    let steel = MaterialEntry { name: name("steel"), shear: None, longitudinal: None, attenuation: None };
    job.record(Entry::Material(steel)).unwrap();
    let joint = JointEntry {
        bevel: Some(entered(30.0)),
        gap: Some(entered(3.0)),
        land: Some(entered(2.0)),
        cap: Some(entered(12.0)),
        bead: Some(entered(6.0)),
        ..JointEntry::new(entered(20.0), Preparation::SingleV)
    };
    job.record(Entry::Joint(joint)).unwrap();
    for (probe, angle) in ["0", "1", "2", "3"].into_iter().zip(angles) {
        let entry = ProbeEntry {
            name: name(probe),
            angle: entered(angle),
            frequency: entered(4.0),
            element: Element::Rectangular { in_plane: entered(8.0), across: entered(9.0) },
            front: None,
            wedge: Some(entered(2.73)),
            wedge_path: None,
            heat: None,
        };
        job.record(Entry::Probe(entry)).unwrap();
        let reference = DacEntry {
            probe: name(probe),
            path: entered(30.0),
            height: entered(80.0),
            gain: entered(40.0),
            hole: None,
        };
        job.record(Entry::Dac(reference)).unwrap();
        for side in [Side::A, Side::B] {
            job.record(Entry::Reading(seen(probe, side))).unwrap();
        }
    }
    job
}

/// One step of a sweep across by the first probe on side A.
pub(super) fn across(standoff: f32, path: f32, gain: f32) -> ReadingEntry {
    ReadingEntry {
        standoff: entered(standoff),
        travel: Travel::Path(entered(path)),
        gain: entered(gain),
        sweep: Some(Sweep::Across),
        ..seen("0", Side::A)
    }
}

/// How far stand-offs and thickness may be off, mm.
pub(super) fn tolerate(job: &mut Job, standoff: f32, thickness: f32) {
    let (standoff, thickness) = (Some(entered(standoff)), Some(entered(thickness)));
    let tolerance = ToleranceEntry { standoff, thickness, ..ToleranceEntry::default() };
    job.record(Entry::Tolerance(tolerance)).unwrap();
}

/// Records one more reading.
pub(super) fn record(job: &mut Job, reading: ReadingEntry) {
    job.record(Entry::Reading(reading)).unwrap();
}

/// The reading kept last.
pub(super) fn last<'a>(facts: &Facts<'a>) -> Pooled<'a> {
    facts.last_reading().unwrap()
}

/// An echo of a probe's reading from one side, nothing told of it yet.
pub(super) fn echo<'a>(facts: &Facts<'a>, probe: u8, side: Side) -> Echo<'a> {
    let stand = |reading: &Pooled<'_>| (reading.probe(), reading.side()) == (probe, side);
    of(facts, facts.readings().find(stand).unwrap())
}

/// An echo of one reading, nothing told of it yet.
pub(super) fn of<'a>(facts: &Facts<'a>, reading: Pooled<'a>) -> Echo<'a> {
    Echo {
        reading,
        path: 30.0,
        angle: facts.probe(reading.probe()).unwrap().axis().unwrap().angle().get(),
        leg: 1,
        sweep: reading.sweep(),
        strength: 0.0,
        level: None,
        y: 0.0,
        u_y: 1.0,
        depth: 10.0,
        u_depth: 1.0,
        cut: false,
        walked: false,
        site: Site::Unclear,
        group: None,
        at_face: None,
        missed: 0.0,
        look: None,
        beam: None,
    }
}

/// The same at the far face and y, so strong.
pub(super) fn at_far(echo: Echo<'_>, y: f32, strength: f32) -> Echo<'_> {
    let at_face = Some(AtFace { y, own: 0.0, of_thickness: 0.0 });
    Echo { site: Site::AtFace { face: Face::Far, n: 1 }, at_face, y, strength, ..echo }
}

/// The same inside at y and z, so strong.
pub(super) fn inside(echo: Echo<'_>, y: f32, z: f32, strength: f32) -> Echo<'_> {
    Echo { site: Site::Inside { z }, y, depth: z, strength, ..echo }
}

pub(super) fn level(db: f32) -> Option<Level> {
    Some(Level { db: Decibels::new(db).unwrap(), bound: Bound::Exact })
}

/// A look of which only the width is told.
pub(super) fn look(width: f32) -> Option<Look> {
    let (rise, fall, slope) = (None.into(), None.into(), None.into());
    Some(Look { width, open: false, high_peaks: 1, deepest: 0.0, rise, fall, slope })
}

/// A place inside that two stands confirm.
pub(super) fn place(y: f32, z: f32) -> Group {
    Group { y, u_y: 1.0, z, u_z: 1.0, stands: 2, both_sides: true, direct: true }
}

/// The first indication; what it is evaluated in lives as long as the test.
pub(super) fn indication<'a>(facts: &Facts<'a>) -> Indication<'a> {
    let scratch = Box::leak(Box::new(Scratch::<64>::new()));
    Box::leak(Box::new(Findings::new(*facts, None, scratch))).indication(0)
}

/// A case of these echoes and places.
pub(super) fn case<'a>(facts: &Facts<'a>, echoes: &[Echo<'a>], places: &[Group]) -> Case<'a> {
    let mut case = Case::new(indication(facts));
    case.echoes.extend_from_slice(echoes).unwrap();
    case.groups.extend_from_slice(places).unwrap();
    case
}

/// The level from one direction, by a probe of that angle.
pub(super) fn direction(from: f32, side: Side, level: f32) -> Direction {
    Direction { from, angle: from.abs(), side, level, bound: Bound::Exact, missed: 0.0 }
}

/// What is noted.
pub(super) fn noted(note: impl FnOnce(&mut Notes)) -> Vec<Evidence, EVIDENCE> {
    let mut list = Vec::new();
    note(&mut Notes { list: &mut list });
    list
}
