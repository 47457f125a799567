//! Flaw or the weld's own shape, for echoes at or past a face.
//!
//! A flaw at a face lies where it lies: both sides plot it at one place, its depth is the face's, and its corner keeps
//! the level of a corner at every angle. The flank of a bead or cap answers from beyond the middle, past the face, and
//! loses far more than a corner does towards the higher angles. Unfolded depth counts by the walk, which knows no angle;
//! by the axis it is too weak above 60 degrees.

use super::case::{Case, Notes, largest, smallest};
use super::corner::corner_strength;
use super::crossing::crossings;
use super::echo::Echo;
use super::evidence::{Fact, Says};
use super::group::stands;
use super::site::Site;
use crate::math;
use crate::part::side::Face;

/// How far under a corner's change of level counts as a corner's, and from where it counts as falling, dB. Common
/// practice, no source.
const HOLDS: f32 = -5.0;
const FALLS: f32 = -9.0;
/// What is allowed more either way near 60 degrees, dB: how much a corner loses there depends on the very angle. Common
/// practice, no source.
const ALLOWED: f32 = 3.0;
/// The least difference of angles that is compared, deg. Common practice, no source.
const STEP: f32 = 8.0;
/// The highest reinforcement that is likely, mm. Common practice, no source.
const HIGH: f32 = 4.0;
/// Agreement of the sides counts only where it could have been told from a bead, mm.
const TELLING: f32 = 2.5;

/// Notes what tells flaw from shape at one face; what is too wide for a corner is no flaw there on account of its level
/// or place, but may be buried.
#[inline(never)]
pub(super) fn note(case: &Case<'_>, face: Face, wide: bool, notes: &mut Notes) {
    if case.at(face).chain(case.past(face)).next().is_none() {
        return;
    }
    past(case, face, notes);
    for crossing in crossings(case.facts, &case.echoes, face) {
        let (by, u, pairs) = (crossing.by, crossing.u, crossing.pairs);
        if crossing.wider_than(widest(case, face)) {
            continue;
        }
        if crossing.crossed() {
            notes.add(Fact::Crossed { face, by, u, pairs }, Says::flaw(if pairs > 1 { -2 } else { -1 }));
        } else if crossing.apart() {
            notes.add(Fact::Apart { face, by, u, pairs }, Says::flaw(1));
        } else {
            let says = match (wide, u <= TELLING) {
                (_, false) => Says::NOTHING,
                (true, true) => Says::buried(1),
                (false, true) => Says::flaw(1),
            };
            notes.add(Fact::SamePlace { face, by, u, pairs }, says);
        }
    }
    with_angle(case, face, wide, notes);
    if let Some(fell) = case.observed.damped {
        notes.add(Fact::Damped { fell }, Says::flaw(if fell { -2 } else { 1 }));
    }
    if let Some(like) = case.observed.like_clean_length {
        notes.add(Fact::LikeCleanLength { like }, Says::flaw(if like { -2 } else { 1 }));
    }
    if let Some((y, half)) = elsewhere(case, face) {
        notes.add(Fact::Elsewhere { face, y, half }, Says::flaw(2));
    }
    if let Some(found) = case.indication.geometry() {
        let (feature, distance) = (found.feature, found.distance);
        notes.add(Fact::ExpectedThere { feature, distance }, Says::flaw(-1));
    }
}

/// The widest that the reinforcement of a face can be, mm: as the joint says, else 8 mm (common practice, no source).
fn widest(case: &Case<'_>, face: Face) -> f32 {
    reinforcement(case, face).unwrap_or(8.0)
}

/// The width of the reinforcement of a face as the joint says, mm.
fn reinforcement(case: &Case<'_>, face: Face) -> Option<f32> {
    let spec = case.facts.common().joint.as_ref().map(|(_, joint)| joint.spec())?;
    let width = if face == Face::Far { spec.bead } else { spec.cap };
    width.map(|width| width.get())
}

/// How far from the centreline the echo at a face lies that is nearest to its reinforcement, and where that ends on its
/// side, both without a sign, where the joint gives its width and every echo lies clear of it.
fn elsewhere(case: &Case<'_>, face: Face) -> Option<(f32, f32)> {
    let half = reinforcement(case, face)? / 2.0;
    let middle = case.facts.common().joint.as_ref()?.1.section().middle(face);
    clear_of(middle, half, case.at(face).filter_map(|echo| echo.at_face.map(|at| (at.y, echo.u_y))))
}

/// The same of a reinforcement by the y of its middle, and of echoes by their y and how well that is known.
fn clear_of(middle: f32, half: f32, echoes: impl Iterator<Item = (f32, f32)>) -> Option<(f32, f32)> {
    let places = echoes.map(|(y, u_y)| (y - middle, u_y));
    let (off, u_y) = math::smallest_by(places, |(off, _)| off.abs())?;
    let edge = if off < 0.0 { middle - half } else { middle + half };
    (off.abs() - u_y > half).then_some(((middle + off).abs(), edge.abs()))
}

/// Echoes past the face: firmly so where two views by their walk say it.
fn past(case: &Case<'_>, face: Face, notes: &mut Notes) {
    let views = stands(case.past(face));
    if views == 0 {
        return;
    }
    let (mut sum, mut weights, mut walked) = (0.0f32, 0.0f32, 0u32);
    for echo in case.past(face) {
        if let Site::Past { by, .. } = echo.site {
            let weight = 1.0 / (echo.u_depth * echo.u_depth + 1e-6);
            (sum, weights) = (sum + weight * by, weights + weight);
            walked = walked.saturating_add(echo.walked.into());
        }
    }
    let least = case.past(face).map(|echo| echo.u_depth).fold(f32::INFINITY, math::smaller);
    // A bead is a few millimetres high.
    let weight = if walked > 1 && sum / weights <= HIGH { -2 } else { -1 };
    notes.add(Fact::PastFace { face, views, by: sum / weights, u: least }, Says::flaw(weight));
}

/// How the level changes from one angle to a higher one, and how a corner's does, dB.
struct Change {
    from: f32,
    to: f32,
    change: f32,
    corner: f32,
    /// Neither angle is one at which the corner's change is uncertain.
    firm: bool,
}

impl Change {
    /// How far it lies over the corner's at the most, dB.
    fn off(&self) -> f32 {
        self.change - self.corner + if self.firm { 0.0 } else { ALLOWED }
    }
}

/// The change of level from one angle to a higher one beside that of a corner.
fn with_angle(case: &Case<'_>, face: Face, too_wide: bool, notes: &mut Notes) {
    let material = case.facts.common().material.as_ref().map(|(_, material)| material);
    let ratio = material.and_then(|material| Some(material.longitudinal()?.get() / material.shear().get()));
    let Some(ratio) = ratio else { return };
    let level = |echo: &Echo<'_>| echo.seen_level().filter(|_| !echo.cut);
    let echoes = || case.at(face).chain(case.past(face)).filter(|echo| level(echo).is_some());
    let best = |angle: f32| {
        largest(echoes().filter(|echo| (echo.angle - angle).abs() < STEP / 2.0).filter_map(level))
    };
    // Where a corner loses most, how much it loses is least certain.
    let weak = |angle: f32| (54.0..=66.0).contains(&angle);
    let angles = || echoes().map(|echo| echo.angle);
    let step = |from: f32, to: f32| {
        let change = best(to)? - best(from)?;
        let corner = corner_strength(to, ratio) - corner_strength(from, ratio);
        Some(Change { from, to, change, corner, firm: !weak(from) && !weak(to) })
    };
    // The pair of angles that falls farthest short of a corner, and the widest pair.
    let pairs = angles().flat_map(|from| {
        let higher = angles().filter(move |to| *to >= from + STEP);
        higher.filter_map(move |to| step(from, to))
    });
    let (Some(worst), Some(least), Some(most)) =
        (math::smallest_by(pairs, Change::off), smallest(angles()), largest(angles()))
    else {
        return;
    };
    let Some(widest) = step(least, most) else { return };
    let off = worst.off();
    if off <= FALLS {
        let Change { from, to, change, corner, firm } = worst;
        let says = Says::flaw(if firm || off <= FALLS - ALLOWED { -2 } else { -1 });
        notes.add(Fact::FallsWithAngle { from, to, change, corner }, says);
    } else if off >= HOLDS && !too_wide {
        let Change { from, to, change, corner, firm } = widest;
        let says = Says { flaw: if firm { 2 } else { 1 }, ..Says::breaks(face, 1) };
        notes.add(Fact::HoldsWithAngle { from, to, change, corner }, says);
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{at_far, case, echo, job, level, noted};
    use super::*;
    use crate::part::side::Side;

    #[test]
    fn a_reinforcement_is_as_wide_as_the_joint_says_of_its_face() {
        let job = job([45.0]);
        let facts = job.facts();
        let case = case(&facts, &[], &[]);
        assert_eq!(Face::both().map(|face| widest(&case, face)), [12.0, 6.0]);
        let bare = super::super::fixture::Job::new();
        let facts = bare.facts();
        let case = super::super::fixture::case(&facts, &[], &[]);
        assert_eq!(Face::both().map(|face| widest(&case, face)), [8.0, 8.0]);
    }

    #[test]
    fn echoes_lie_elsewhere_when_the_nearest_is_clear_of_the_reinforcement() {
        let job = job([45.0]);
        let facts = job.facts();
        // The bead ends at 3 mm; each is known to 1 mm.
        let told = |places: [f32; 2]| {
            let echoes = places.map(|y| at_far(echo(&facts, 0, Side::A), y, 0.0));
            elsewhere(&case(&facts, &echoes, &[]), Face::Far)
        };
        assert_eq!((told([-7.0, 4.5]), told([-4.5, 7.0])), (Some((4.5, 3.0)), Some((4.5, 3.0))));
        assert_eq!((told([-7.0, 4.0]), told([1.0, 9.0])), (None, None));
    }

    #[test]
    fn a_reinforcement_off_the_centreline_ends_where_it_lies() {
        // From −5 to 23, each echo known to 1 mm.
        let told = |places: [f32; 2]| clear_of(9.0, 14.0, places.map(|y| (y, 1.0)).into_iter());
        assert_eq!((told([-6.5, 40.0]), told([40.0, 24.5])), (Some((6.5, 5.0)), Some((24.5, 23.0))));
        assert_eq!((told([-5.5, 40.0]), told([18.0, 40.0])), (None, None));
    }

    #[test]
    fn two_walks_past_a_face_by_what_a_bead_is_high_are_firm() {
        let job = job([45.0]);
        let facts = job.facts();
        let said = |by: f32, walked: [bool; 2]| {
            let echoes = walked.map(|walked| {
                let site = Site::Past { face: Face::Far, n: 1, by };
                Echo { site, walked, u_depth: 0.0, ..echo(&facts, 0, Side::A) }
            });
            let list = noted(|notes| past(&case(&facts, &echoes, &[]), Face::Far, notes));
            list.iter().map(|evidence| evidence.says.flaw).sum::<i8>()
        };
        assert_eq!((said(2.0, [true, true]), said(HIGH, [true, true])), (-2, -2));
        assert_eq!(
            (said(4.5, [true, true]), said(2.0, [true, false]), said(2.0, [false, false])),
            (-1, -1, -1)
        );
    }

    /// What the far face says of echoes at some angles, each of a level over that of a corner that gives 0 dB at 45 degrees.
    fn by_angle<const N: usize>(levels: [(f32, f32); N]) -> Option<(Fact, Says)> {
        let job = job([45.0]);
        let facts = job.facts();
        let material = facts.common().material.as_ref().map(|(_, material)| *material).unwrap();
        let ratio = material.longitudinal().unwrap().get() / material.shear().get();
        let corner = |angle| corner_strength(angle, ratio) - corner_strength(45.0, ratio);
        let echoes = levels.map(|(angle, over)| {
            let echo = at_far(echo(&facts, 0, Side::A), 0.0, 0.0);
            Echo { angle, level: level(corner(angle) + over), ..echo }
        });
        let list = noted(|notes| with_angle(&case(&facts, &echoes, &[]), Face::Far, false, notes));
        list.first().map(|evidence| (evidence.fact, evidence.says))
    }

    fn flaw<const N: usize>(levels: [(f32, f32); N]) -> Option<i8> {
        by_angle(levels).map(|(_, says)| says.flaw)
    }

    #[test]
    fn a_level_that_falls_9_decibels_more_than_a_corner_s_is_no_flaw_s_and_near_60_degrees_12_firmly() {
        for from in [45.0, 53.0] {
            let to = |over| flaw([(from, 0.0), (70.0, over)]);
            assert_eq!((to(-9.5), to(-8.5)), (Some(-2), None), "{from}");
        }
        // 3 dB are allowed there.
        assert_eq!(
            (flaw([(45.0, 0.0), (60.0, -11.5)]), flaw([(45.0, 0.0), (60.0, -12.5)])),
            (None, Some(-1))
        );
        assert_eq!(
            (flaw([(45.0, 0.0), (60.0, -14.5)]), flaw([(45.0, 0.0), (60.0, -15.5)])),
            (Some(-1), Some(-2))
        );
    }

    #[test]
    fn a_level_that_holds_as_a_corner_s_is_a_flaw_s() {
        assert_eq!((flaw([(45.0, 0.0), (70.0, -4.5)]), flaw([(45.0, 0.0), (70.0, -5.5)])), (Some(2), None));
        assert_eq!((flaw([(45.0, 0.0), (60.0, -7.5)]), flaw([(45.0, 0.0), (60.0, -8.5)])), (Some(1), None));
        assert_eq!(
            (flaw([(45.0, 0.0), (52.5, -20.0)]), flaw([(45.0, 0.0), (53.0, -20.0)])),
            (None, Some(-2))
        );
    }

    #[test]
    fn the_pair_that_falls_most_tells_of_falling_and_the_widest_of_holding() {
        let angles = |found: Option<(Fact, Says)>| match found {
            Some((Fact::FallsWithAngle { from, to, .. } | Fact::HoldsWithAngle { from, to, .. }, _)) => {
                Some((from, to))
            }
            _ => None,
        };
        assert_eq!(angles(by_angle([(70.0, 0.0), (45.0, -1.0), (53.0, 1.0)])), Some((45.0, 70.0)));
        assert_eq!(angles(by_angle([(70.0, -10.0), (45.0, 0.0), (53.0, 8.0)])), Some((53.0, 70.0)));
        // The level at an angle is the best of those less than 4 degrees off it.
        assert_eq!(flaw([(45.0, 0.0), (70.0, -10.0), (74.0, 20.0)]), Some(-2));
        assert_eq!(flaw([(45.0, 0.0), (70.0, -10.0), (73.5, 20.0)]), Some(2));
    }
}
