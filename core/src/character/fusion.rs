//! Lies it on a prepared face, and does it answer best where that face is met squarely: the mark of a wall that did not
//! fuse.
//!
//! A face that leans by b off upright and opens toward the probe's surface is met squarely from a direction of 90 − b
//! degrees, by leg 1 from the other side of the weld or by leg 2 from its own.

use super::case::{Case, Notes};
use super::direction::{APART, DIRECTIONAL, between, extremes};
use super::evidence::{Fact, Says};
use crate::math;
use crate::part::joint::FusionFace;
use crate::part::side::Side;

/// How far off square counts as square, deg. Common practice, no source.
const SQUARE: f32 = 15.0;

/// Notes a prepared face under the place inside.
#[inline(never)]
pub(super) fn note(case: &Case<'_>, notes: &mut Notes) {
    let Some((_, joint)) = case.facts.common().joint.as_ref() else { return };
    let (Some(main), Some((best, least, _))) = (case.confirmed(), extremes(&case.directions, APART)) else {
        return;
    };
    if best.level - least.level < DIRECTIONAL {
        return;
    }
    let section = joint.section();
    for face in section.fusion_faces() {
        let Some(tilt) = face.tilt().map(|tilt| tilt.get()) else { continue };
        let square = if face.side == Side::B { 90.0 - tilt } else { tilt - 90.0 };
        let Some(off) = distance(&face, main.y, main.z) else { continue };
        let near = off <= math::larger(main.u_y, main.u_z);
        if near && between(best.from, square) <= SQUARE {
            notes.add(Fact::OnFusionFace { side: face.side, off, tilt }, Says::planar(1));
            return;
        }
    }
}

/// Distance from a place to a piece of face, mm.
fn distance(face: &FusionFace, y: f32, z: f32) -> Option<f32> {
    let (dy, dz) = (face.to.y - face.from.y, face.to.z - face.from.z);
    let whole = dy * dy + dz * dz;
    if whole <= 0.0 {
        return None;
    }
    // The part of the way along the face at which the place is nearest, held to its ends.
    let part = ((y - face.from.y) * dy + (z - face.from.z) * dz) / whole;
    let part = math::smaller(math::larger(part, 0.0), 1.0);
    let (oy, oz) = (y - face.from.y - part * dy, z - face.from.z - part * dz);
    math::sqrt(oy * oy + oz * oz)
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{case, direction, job, noted, place};
    use super::*;
    use crate::part::joint::{FaceKind, Point};

    /// What is noted of a place and of levels from two directions, the first 0 dB.
    fn found(y: f32, from: [f32; 2], least: f32) -> Option<Fact> {
        let job = job([45.0]);
        let facts = job.facts();
        let mut case = case(&facts, &[], &[place(y, 8.0)]);
        let levels = from.into_iter().zip([0.0, least]);
        case.directions.extend(levels.map(|(from, level)| direction(from, Side::A, level)));
        noted(|notes| note(&case, notes)).first().map(|evidence| evidence.fact)
    }

    #[test]
    fn a_prepared_face_is_met_squarely_from_the_side_that_it_faces() {
        // The bevels of 30 degrees lie at 1.5 + 10 tan 30 = 7.27 mm; both are met squarely from 60 degrees off upright.
        for (y, square, other) in [(7.25, 60.0, -45.0), (-7.25, -60.0, 45.0)] {
            let on = |fact: Option<Fact>| matches!(fact, Some(Fact::OnFusionFace { tilt, .. }) if (tilt - 30.0).abs() < 1e-3);
            assert!(on(found(y, [square, other], -9.0)), "{y}");
            assert_eq!(found(y, [-square, -other], -9.0), None, "{y}");
            // 15 degrees off square either way.
            for (from, met) in [(46.0f32, true), (74.0, true), (44.0, false), (76.0, false)] {
                assert_eq!(on(found(y, [from.copysign(square), other], -9.0)), met, "{y} {from}");
            }
            assert_eq!(found(y, [square, other], -8.5), None, "{y}: 9 dB apart");
        }
    }

    #[test]
    fn a_place_is_as_far_from_a_face_as_from_the_nearest_of_its_points() {
        let face = |from: (f32, f32), to: (f32, f32)| FusionFace {
            side: Side::A,
            kind: FaceKind::Bevel,
            from: Point { y: from.0, z: from.1 },
            to: Point { y: to.0, z: to.1 },
        };
        let slanted = face((1.0, 2.0), (5.0, 5.0));
        // Beside it its foot is at 21 / 25 of the way, (4.36, 4.52); beyond its ends the end is nearest.
        for ((y, z), off) in [((7.0, 1.0), 4.4), ((9.0, 8.0), 5.0), ((-2.0, -2.0), 5.0), ((3.0, 3.5), 0.0)] {
            assert!((distance(&slanted, y, z).unwrap() - off).abs() < 1e-5, "{y} {z}");
        }
        assert_eq!(distance(&face((1.0, 2.0), (1.0, 2.0)), 0.0, 0.0), None);
    }
}
