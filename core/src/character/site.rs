//! Where in the thickness an echo lies: at a face, inside, or not told apart.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | D, U | unfolded depth of the echo and its expanded uncertainty | mm |
//! | t, U_t | thickness and its expanded uncertainty | mm |
//! | n | whole number of thicknesses: odd is the face opposite to the probe, even the probe's own | – |
//!
//! At a face: |D − n t| ≤ √(U² + n² U_t²). Past it: farther, by no more than a reinforcement is high; the same depth may
//! be reached by the next leg inside, and other evidence must tell. Inside: no such n. A corner echo of a beam near 60 degrees peaks up to 6
//! degrees under the axis, since nearer to the axis part of it turns into a longitudinal wave at the reflector; by the
//! axis alone such an echo is not called inside where a corner so displaced would do.

use super::echo::{Echo, thickness};
use crate::math;
use crate::part::locate::EXPANDED;
use crate::part::side::Face;
use crate::record::entry::PointPeaked;
use crate::record::examination::Facts;

/// Where an echo lies.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) enum Site {
    /// At a face, after so many thicknesses.
    AtFace {
        /// The face.
        face: Face,
        /// How many thicknesses.
        n: u16,
    },
    /// Past a face by so much, mm: in the reinforcement, or inside and seen by the next leg.
    Past {
        /// The face.
        face: Face,
        /// How many thicknesses away it lies.
        n: u16,
        /// How far past it.
        by: f32,
    },
    /// Inside, so far below the near face, mm.
    Inside {
        /// Depth below the near face.
        z: f32,
    },
    /// It could be either.
    Unclear,
}

impl Site {
    pub fn face(self) -> Option<Face> {
        match self {
            Self::AtFace { face, .. } => Some(face),
            _ => None,
        }
    }

    /// The face that the echo lies at or past, and how many thicknesses away.
    pub fn at_or_past(self) -> Option<(Face, u32)> {
        match self {
            Self::AtFace { face, n } | Self::Past { face, n, .. } => Some((face, n.into())),
            _ => None,
        }
    }

    pub fn inside(self) -> Option<f32> {
        match self {
            Self::Inside { z } => Some(z),
            _ => None,
        }
    }
}

/// Refracted angles between which a corner echo peaks off the axis, and by how much at most, deg. From memory of
/// simulated corner echoes: effective angles of 53 to 57 degrees for a beam of 59.
const DISPLACED: (f32, f32, f32) = (54.0, 66.0, 6.0);

/// How far past a face an echo may seem to lie and still be of its reinforcement, in thicknesses: the walk along the
/// hollow of a bead reaches deeper than the bead is high. Common practice, no source.
const PAST: f32 = 0.35;

/// The face that lies n thicknesses away along the beam.
pub(super) fn face_at(n: u32, scanned: Face) -> Face {
    match (n % 2 == 1, scanned) {
        (true, Face::Near) | (false, Face::Far) => Face::Far,
        (false, Face::Near) | (true, Face::Far) => Face::Near,
    }
}

/// Where an echo lies.
pub(super) fn site(facts: &Facts<'_>, echo: &Echo<'_>) -> Site {
    let Some(t) = thickness(facts, echo.reading) else { return Site::Unclear };
    let scanned = echo.scanned();
    let nearest = math::larger(math::floor(echo.depth / t + 0.5), 1.0);
    match echo.reading.point() {
        PointPeaked::Corner => {
            return Site::AtFace { face: face_at(nearest as u32, scanned), n: nearest as u16 };
        }
        PointPeaked::UpperTip | PointPeaked::LowerTip => {
            return Site::Inside { z: folded(echo.depth, t, scanned) };
        }
        // The axis places a peak, not the flank of one.
        PointPeaked::Echo if echo.cut && !echo.walked => return Site::Unclear,
        PointPeaked::Echo => {}
    }
    // The uncertainty of a depth beside a face: √(U² + n² U_t²)
    let u_t = EXPANDED * facts.common().budget.thickness.get();
    let beside =
        |n: f32| math::sqrt(echo.u_depth * echo.u_depth + n * n * u_t * u_t).unwrap_or(f32::INFINITY);
    let off = (echo.depth - nearest * t).abs();
    if off <= beside(nearest) {
        // An uncertainty of a fifth of the thickness tells no face from what lies beside it.
        let told = beside(nearest) < t / 5.0;
        return if told {
            Site::AtFace { face: face_at(nearest as u32, scanned), n: nearest as u16 }
        } else {
            Site::Unclear
        };
    }
    if echo.depth < beside(0.0) || displaced(echo, t, beside(nearest)) {
        return Site::Unclear;
    }
    let by = echo.depth - nearest * t;
    if (0.0..=PAST * t).contains(&by) {
        return Site::Past { face: face_at(nearest as u32, scanned), n: nearest as u16, by };
    }
    Site::Inside { z: folded(echo.depth, t, scanned) }
}

/// Whether a corner that peaks off the axis could plot here.
fn displaced(echo: &Echo<'_>, t: f32, uncertainty: f32) -> bool {
    let (low, high, most) = DISPLACED;
    if !(low..=high).contains(&echo.angle) {
        return false;
    }
    let (at, under) = (math::sin_cos(echo.angle).1, math::sin_cos(echo.angle - most).1);
    // s cos(a − 6°) = D cos(a − 6°) / cos a
    let deepest = echo.depth * under / at + uncertainty;
    math::floor(deepest / t) > math::floor(echo.depth / t)
}

/// Depth below the near face of an unfolded depth.
fn folded(depth: f32, t: f32, scanned: Face) -> f32 {
    let leg = math::larger(math::ceil(depth / t), 1.0);
    let below = if leg as u32 % 2 == 1 { depth - (leg - 1.0) * t } else { leg * t - depth };
    match scanned {
        Face::Near => below,
        Face::Far => t - below,
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{echo, job, tolerate};
    use super::*;
    use crate::part::side::Side;

    /// Where an echo of this depth, known so well, lies in 20 mm that nobody doubts.
    fn lies(depth: f32, u_depth: f32, angle: f32) -> Site {
        let mut job = job([45.0]);
        tolerate(&mut job, 1.0, 0.0);
        let facts = job.facts();
        site(&facts, &Echo { depth, u_depth, angle, ..echo(&facts, 0, Side::A) })
    }

    #[test]
    fn a_face_is_told_by_a_depth_known_to_less_than_a_fifth_of_the_thickness() {
        let far = Site::AtFace { face: Face::Far, n: 1 };
        assert_eq!((lies(20.0, 3.5, 45.0), lies(22.0, 2.0, 45.0), lies(18.0, 2.0, 45.0)), (far, far, far));
        assert_eq!(lies(20.0, 4.0, 45.0), Site::Unclear);
        assert_eq!(lies(40.5, 1.0, 45.0), Site::AtFace { face: Face::Near, n: 2 });
    }

    #[test]
    fn past_a_face_is_up_to_a_third_of_the_thickness_and_what_is_short_of_it_inside() {
        assert_eq!(lies(22.5, 2.0, 45.0), Site::Past { face: Face::Far, n: 1, by: 2.5 });
        assert_eq!(lies(27.0, 2.0, 45.0), Site::Past { face: Face::Far, n: 1, by: 7.0 });
        assert_eq!(
            (lies(27.5, 2.0, 45.0), lies(17.5, 2.0, 45.0)),
            (Site::Inside { z: 12.5 }, Site::Inside { z: 17.5 })
        );
    }

    #[test]
    fn what_is_no_deeper_than_it_is_uncertain_may_lie_at_the_near_face() {
        assert_eq!((lies(4.0, 4.0, 45.0), lies(3.5, 4.0, 45.0)), (Site::Inside { z: 4.0 }, Site::Unclear));
    }

    #[test]
    fn a_beam_of_54_to_66_degrees_may_have_seen_a_corner_off_its_axis() {
        // 18 cos 48 / cos 54 = 20.49, and 18 cos 60 / cos 66 = 22.13.
        for angle in [54.0, 60.0, 66.0] {
            assert_eq!(lies(18.0, 0.5, angle), Site::Unclear, "{angle}");
        }
        for angle in [53.5, 66.5] {
            assert_eq!(lies(18.0, 0.5, angle), Site::Inside { z: 18.0 }, "{angle}");
        }
        // 10 cos 54 / cos 60 = 11.8.
        assert_eq!(lies(10.0, 0.5, 60.0), Site::Inside { z: 10.0 });
    }
}
