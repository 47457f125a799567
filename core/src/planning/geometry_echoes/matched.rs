//! How far a reading lies from a reflector, across the weld.

use super::{Feature, Reflector, ReflectorKind, reflectors};
use crate::math;
use crate::part::Part;
use crate::part::curved::Pipe;
use crate::part::joint::Joint;
use crate::part::locate::{Budget, Contributions, Peaked, Place, Position, locate};
use crate::part::path::{Axis, Plate};
use crate::part::side::Face;
use crate::units::Millimetres;

/// Half width of a reflector's own place, mm: nobody measures a bead's toe better. Common practice, no source \[R7\].
pub const DRAWN: f32 = 0.5;

/// A reading as it is held against reflectors.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Seen {
    /// The part.
    pub part: Part,
    /// The beam's axis.
    pub axis: Axis,
    /// Where the probe stood.
    pub position: Position,
    /// The path.
    pub path: Millimetres,
    /// Where the axis puts it.
    pub place: Place,
    /// The budget of its uncertainty.
    pub budget: Budget,
}

/// A reading held against a reflector.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Off {
    /// The reflector.
    pub reflector: Reflector,
    /// How far beyond the reflector the reading lies, in the direction that the probe looks, mm.
    pub beyond: f32,
    /// What each input's half width does to that.
    pub of: Contributions,
}

impl Off {
    /// The distance in units of the expanded uncertainty (k = 2) of reading and reflector together.
    #[must_use]
    pub fn distance(&self) -> f32 {
        let reading: f32 = self.of.iter().map(|part| part * part).sum();
        self.beyond.abs() / with_drawn(reading / 3.0)
    }
}

/// Expanded uncertainty of a variance with that of the reflector's own place in it, k = 2.
#[must_use]
pub fn with_drawn(variance: f32) -> f32 {
    // A sum of squares has a root.
    2.0 * math::sqrt(variance + DRAWN * DRAWN / 3.0).unwrap_or(f32::INFINITY)
}

/// The reading held against the nearest reflector of a feature; `None` when the joint has no such feature, or the
/// reading does not lie at its face.
///
/// Position decides, not depth: a bead's echo peaks off the beam's axis and plots too high at 60 and 70 degrees. So the
/// place across the weld comes from the path and the reflector's own depth, as a corner's does, and the depth by the
/// axis only has to fit the face: at most a quarter of the thickness short of it, and no deeper than the reflector
/// within the uncertainty. Of a bead the point counts where the beam is square to the flank, or the toe when it is never
/// so steep; nothing counts that turns its back to the probe, so that incomplete penetration, which plots short of the
/// centreline, is not explained by a bead. A probe on the far face, or skewed, is not held against anything.
#[must_use]
pub fn held(joint: &Joint, seen: &Seen, feature: Feature) -> Option<Off> {
    if seen.position.face() == Face::Far || seen.position.is_skewed() {
        return None;
    }
    let mut nearest: Option<Off> = None;
    let (side, angle) = (seen.position.side(), seen.axis.angle().get());
    reflectors(joint, side, angle, |reflector| {
        // A crown turns its side to the beam, never its face.
        let counts = reflector.kind != ReflectorKind::BeadCrown;
        if reflector.kind.feature() != feature || !reflector.faces || !counts {
            return;
        }
        let Some(off) = off(joint, seen, reflector) else { return };
        // The toe, which is told first, stands in for a flank that is not steep enough.
        let flank = reflector.kind == ReflectorKind::BeadFlank;
        if flank || nearest.is_none_or(|held| off.beyond.abs() < held.beyond.abs()) {
            nearest = Some(off);
        }
    });
    nearest
}

fn off(joint: &Joint, seen: &Seen, reflector: Reflector) -> Option<Off> {
    let t = joint.thickness().get();
    at_its_face(seen, &reflector, t).then_some(())?;
    let place = by_depth(seen, reflector.at.z - t)?;
    let odd = place.leg % 2 == 1;
    (odd == (reflector.face == Face::Far)).then_some(())?;
    let g = seen.position.side().sign();
    let of = place.y_partials.scaled(g).contributions(&seen.budget);
    Some(Off { reflector, beyond: g * (place.y.get() - reflector.at.y), of })
}

/// Whether the depth by the axis fits the face that the reflector stands at.
fn at_its_face(seen: &Seen, reflector: &Reflector, t: f32) -> bool {
    let (place, u_z) = (&seen.place, seen.place.u_z(&seen.budget));
    let (odd, z) = (place.leg % 2 == 1, place.z.get());
    // How far past the face, counted straight on; negative short of it.
    let (past, deeper) = match reflector.face {
        Face::Far => (if odd { z - t } else { t - z }, reflector.at.z - t),
        Face::Near => (if odd { z } else { 0.0 - z }, 0.0),
    };
    past >= -0.25 * t && past <= deeper + u_z
}

/// The place by path and depth. In leg 1 the depth is the reflector's own, beyond the far face where it stands there; on
/// later legs it is the face's.
fn by_depth(seen: &Seen, beyond: f32) -> Option<Place> {
    let Seen { part, axis, position, path, .. } = seen;
    let corner = |part: &Part| locate(axis, part, position, *path, Peaked::Corner).ok();
    let at_face = corner(part)?;
    if at_face.leg != 1 || beyond <= 0.0 {
        return Some(at_face);
    }
    let deeper = Millimetres::new(part.thickness() + beyond).ok()?;
    let part = match part {
        Part::Flat(_) => Part::Flat(Plate::new(deeper).ok()?),
        Part::Around(pipe) => Part::Around(Pipe::new(pipe.od()?, deeper, pipe.from()).ok()?),
    };
    corner(&part)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint::{Backing, JointSpec, Preparation};
    use crate::part::locate::Side;
    use crate::units::Degrees;

    fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    /// 20 mm on a backing bar 25 mm wide and 5 mm high.
    fn joint() -> Joint {
        let spec = JointSpec {
            gap: Some(mm(6.0)),
            backing: Some(Backing { width: mm(25.0), height: mm(5.0) }),
            ..JointSpec::new(mm(20.0), Preparation::Square)
        };
        Joint::new(spec).unwrap()
    }

    /// A reading at 60 degrees from side A.
    fn seen(standoff: f32, path: f32) -> Seen {
        let axis = Axis::new(Degrees::constant(60.0)).unwrap();
        let part = Part::Flat(Plate::new(mm(20.0)).unwrap());
        let position = Position::new(Side::A, mm(0.0), mm(standoff), mm(0.0)).unwrap();
        let place = locate(&axis, &part, &position, mm(path), Peaked::Axis).unwrap();
        Seen { part, axis, position, path: mm(path), place, budget: Budget::DEFAULT }
    }

    #[test]
    fn of_two_reflectors_that_lie_equally_far_the_one_nearer_the_plate_is_told() {
        // On leg 3 both of the bar's places count at the far face: 60 tan 60° − 91.42 = 12.5.
        let off = held(&joint(), &seen(91.42, 120.0), Feature::Backing).unwrap();
        assert!(off.beyond.abs() < 0.01, "{off:?}");
        assert_eq!(off.reflector.kind, ReflectorKind::BackingEdge);
    }

    #[test]
    fn of_two_edges_that_face_the_probe_the_nearer_one_is_told() {
        // 20 mm deep a path of 40 mm lies 34.64 mm on: at 2 and at -2 mm, the edges at 3 and at -3 mm.
        for (y, edge) in [(2.0, 3.0), (-2.0, -3.0)] {
            let off = held(&joint(), &seen(34.641 - y, 40.0), Feature::Edge).unwrap();
            assert!((off.reflector.at.y - edge).abs() < 1e-3 && (off.beyond.abs() - 1.0).abs() < 1e-3);
        }
    }

    #[test]
    fn an_echo_that_has_turned_well_back_from_the_far_face_is_not_at_it() {
        let corner = |reflector: Reflector| reflector.kind == ReflectorKind::BackingCorner;
        let mut told = None;
        reflectors(&joint(), Side::A, 60.0, |reflector| {
            if corner(reflector) {
                told = Some(reflector);
            }
        });
        let corner = told.unwrap();
        // Leg 2 at 18 mm counts as 22 mm deep, at 8 mm as 32 mm: the bar ends at 25 mm.
        let past = |path| at_its_face(&seen(36.0, path), &corner, 20.0);
        assert!(past(44.0) && !past(64.0));
    }
}
