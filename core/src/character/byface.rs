//! The echo by way of the opposite face: an upright plane inside the plate and the face make a corner between them.
//!
//! Sound that goes down to the face, along to the reflector and back arrives at the path of a corner at the face below
//! the reflector, D = t. A plane near upright sends it squarely and strongly; a round body, or a plane that leans, does
//! not. Compared with the direct echo of the same reflector by the same probe it tells one from the other. Near 60
//! degrees part of the sound turns into a longitudinal wave at an upright plane, so that beams of 54 to 66 degrees tell
//! nothing. The limits are common practice without a source \[R7\]; simulated slots answer within 5 dB of their direct
//! echo, simulated round holes 14 dB and more under it.

use super::case::{Case, Notes, largest};
use super::echo::Echo;
use super::evidence::{Fact, Says};
use super::group::Group;
use super::run::Members;
use crate::math;
use crate::part::path::Axis;
use crate::part::side::{Face, Side};
use crate::record::entry::Sweep;

/// From here up the echo by way of the face is that of an upright plane, dB over the direct one.
const PLANE: f32 = -6.0;
/// From here up it may as well be the corner of a flaw that breaks that face.
pub(super) const CORNER: f32 = 12.0;
/// Up to here there is none.
const NO_PLANE: f32 = -12.0;

/// The echo by way of the opposite face beside the direct one, of one run.
#[derive(Clone, Copy)]
pub(super) struct ByFace {
    pub angle: f32,
    /// dB over the direct echo.
    pub margin: f32,
    /// An echo of that depth was found; else the strongest thing where it would have been.
    pub found: bool,
}

impl ByFace {
    /// Of one run and the place inside; none where the run did not cover it, or its angle tells nothing.
    pub fn of<const N: usize>(case: &Case<'_>, members: &Members<'_, N>, main: &Group) -> Option<Self> {
        let run = members.run();
        let state = case.facts.probe(run.probe)?;
        let axis = state.axis()?;
        let angle = axis.angle().get();
        if run.sweep != Sweep::Across || (angle > 54.0 && angle < 66.0) {
            return None;
        }
        let own = |echo: &&Echo<'_>| {
            (echo.probe(), echo.side(), echo.scanned()) == (run.probe, run.side, run.face)
                && echo.sweep == Some(Sweep::Across)
        };
        let direct = case.inside().filter(own).filter(|echo| (echo.y - main.y).abs() <= 2.0 * main.u_y);
        let direct = largest(direct.map(|echo| echo.strength))?;
        let opposite = if run.face == Face::Near { Face::Far } else { Face::Near };
        let corner = case
            .at(opposite)
            .filter(own)
            .filter(|echo| echo.at_face.is_some_and(|at| (at.y - main.y).abs() <= 2.0 * main.u_y));
        if let Some(corner) = largest(corner.map(|echo| echo.strength)) {
            return Some(Self { angle, margin: corner - direct, found: true });
        }
        let t = case.thickness?;
        let at = over_corner(t, axis, state.index().get(), run.side, main.y);
        let reach = math::larger(members.step()? * 0.51, t / 12.0);
        let there = members.strongest_near(at, reach)?;
        Some(Self { angle, margin: there - direct, found: false })
    }
}

/// The stand-off from which the axis meets the corner that an upright plane at a place makes with the opposite face.
fn over_corner(t: f32, axis: &Axis, index: f32, side: Side, y: f32) -> f32 {
    // p = t tan a + e − g y
    t * axis.sin() / axis.cos() + index - side.sign() * y
}

/// What the echoes by way of the face say of a reflector inside; that none is there says nothing of one that is known
/// to be directional, since a plane that leans sends none.
#[inline(never)]
pub(super) fn note(case: &Case<'_>, directional: bool, notes: &mut Notes) {
    // Where no echo of that depth was found, a strong one of another says nothing.
    let telling = case.by_face.iter().filter(|by| by.found || by.margin <= NO_PLANE);
    let Some(by) = math::largest_by(telling, |by| by.margin) else { return };
    if by.margin >= CORNER {
        notes.add(Fact::ByTheFace { angle: by.angle, margin: by.margin }, Says::planar(2).and_buried(-2));
    } else if by.margin >= PLANE {
        notes.add(
            Fact::ByTheFace { angle: by.angle, margin: by.margin },
            Says::planar(if by.margin >= 0.0 { 3 } else { 2 }),
        );
    } else if by.margin <= NO_PLANE {
        notes.add(
            Fact::NotByTheFace { angle: by.angle, margin: by.margin },
            Says::planar(if directional { 0 } else { -1 }),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{
        across, at_far, case, indication, inside, job, last, noted, of, place, record,
    };
    use super::super::run::runs;
    use super::*;

    /// What a sweep tells of a place at 3 mm, known to 1.5 mm: a direct echo at one y, one 3 dB weaker at the opposite face
    /// at another.
    fn told(angle: f32, direct: f32, opposite: f32) -> Option<f32> {
        let mut job = job([angle]);
        record(&mut job, across(10.0, 20.0, 40.0));
        record(&mut job, across(11.0, 21.0, 40.0));
        let facts = job.facts();
        let swept = of(&facts, last(&facts));
        let case = case(&facts, &[inside(swept, direct, 10.0, 0.0), at_far(swept, opposite, -3.0)], &[]);
        let mut members = Members::<8>::new(*runs(indication(&facts)).first().unwrap());
        members.fill(indication(&facts));
        ByFace::of(&case, &members, &Group { u_y: 1.5, ..place(3.0, 10.0) }).map(|by| by.margin)
    }

    #[test]
    fn echoes_belong_to_a_place_within_twice_its_uncertainty() {
        for y in [0.0, 3.0, 6.0] {
            assert_eq!((told(45.0, y, 3.0), told(45.0, 3.0, y)), (Some(-3.0), Some(-3.0)), "{y}");
        }
        for y in [-3.0, -0.25, 6.25] {
            assert_eq!((told(45.0, y, 3.0), told(45.0, 3.0, y)), (None, None), "{y}");
        }
    }

    #[test]
    fn a_beam_between_54_and_66_degrees_tells_nothing() {
        assert_eq!([54.0, 66.0].map(|angle| told(angle, 3.0, 3.0)), [Some(-3.0); 2]);
        assert_eq!([54.5, 60.0, 65.5].map(|angle| told(angle, 3.0, 3.0)), [None; 3]);
    }

    #[test]
    fn the_axis_meets_the_corner_below_a_place_from_where_its_triangle_ends() {
        // 20 tan 45, the index point 2 mm ahead, the place 3 mm off toward the probe or away from it.
        let axis = Axis::new(crate::units::Degrees::constant(45.0)).unwrap();
        for (side, at) in [(Side::A, 19.0), (Side::B, 25.0)] {
            assert!((over_corner(20.0, &axis, 2.0, side, 3.0) - at).abs() < 1e-5);
        }
    }

    #[test]
    fn what_the_strongest_echo_by_way_of_the_face_says_goes_by_its_margin() {
        let job = job([45.0]);
        let facts = job.facts();
        let said = |margins: &[f32], directional| {
            let mut case = case(&facts, &[], &[]);
            let by_face = margins.iter().map(|margin| ByFace { angle: 45.0, margin: *margin, found: true });
            case.by_face.extend(by_face);
            noted(|notes| note(&case, directional, notes)).first().map(|evidence| evidence.says)
        };
        for (margin, says) in [
            (12.0, Some(Says::planar(2).and_buried(-2))),
            (11.5, Some(Says::planar(3))),
            (0.0, Some(Says::planar(3))),
            (-0.5, Some(Says::planar(2))),
            (-6.0, Some(Says::planar(2))),
            (-6.5, None),
            (-11.5, None),
            (-12.0, Some(Says::planar(-1))),
        ] {
            assert_eq!(said(&[-20.0, margin, -15.0], false), says, "{margin}");
        }
        assert_eq!(said(&[-12.0], true), Some(Says::NOTHING));
    }
}
