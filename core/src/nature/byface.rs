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
use crate::entry::Sweep;
use crate::math;
use crate::side::Face;

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
        // p = t tan a + e − g y
        let t = case.thickness?;
        let at = t * axis.sin() / axis.cos() + state.index().get() - run.side.sign() * main.y;
        let reach = math::larger(members.step()? * 0.51, t / 12.0);
        let there = members.strongest_near(at, reach)?;
        Some(Self { angle, margin: there - direct, found: false })
    }
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
