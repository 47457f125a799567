//! One side of the groove: its prepared face from the scanned face down to the far one.
//!
//! ```text
//!                bevel b                     | symbol | meaning                          |
//!   z = 0   ________/                        | ------ | -------------------------------- |
//!                  /                         | g, f   | gap, land                        |
//!                 /  groove depth d          | b      | bevel from the vertical          |
//!                (   radius r (U, J)         | d      | t − f, or half of it from each   |
//!   z = d   ____( _                          |        | face of a double preparation     |
//!               |    land f                  | r      | root radius                      |
//!   z = t   ____|                            |
//!             g/2
//! ```
//!
//! Without a radius the face runs straight from (g/2 + d tan b, 0) to (g/2, d). A radius r touches the land's end with a
//! level tangent and the bevel with its own, about the centre (g/2, d − r): it spans the directions b to 90 degrees below
//! the horizontal. It is drawn as eight chords, at most 0.005 r off the curve.

use super::{ASSUMED_RADIUS, JointSpec, Preparation};
use crate::math;
use crate::part::side::Side;
use crate::units::{Degrees, Millimetres};

/// A point of the cross-section, mm: y across the weld (0 = centreline, side A negative), z down from the scanned face.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Point {
    /// Across the weld.
    pub y: f32,
    /// Below the scanned face.
    pub z: f32,
}

/// What a piece of fusion face is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum FaceKind {
    /// The straight bevel.
    Bevel,
    /// A chord of the root radius.
    Radius,
    /// The land at the root.
    Land,
    /// An unbevelled face over the whole thickness.
    Upright,
}

/// Chords of one root radius.
const CHORDS: u8 = 8;
/// The longest profile: bevel, radius and land of a double U.
pub(super) const PROFILE: usize = 2 * (2 + CHORDS as usize);

/// A side's prepared face: points at y = half width, top down, each with the kind of the piece that starts there.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Profile {
    points: heapless::Vec<(Point, FaceKind), PROFILE>,
    land: Option<(f32, f32)>,
}

impl Profile {
    /// The profile of one side of a checked spec.
    pub(super) fn new(spec: &JointSpec, side: Side) -> Self {
        let mut profile = Self { points: heapless::Vec::new(), land: None };
        let (half_gap, thickness) = (0.5 * spec.gap.map_or(0.0, Millimetres::get), spec.thickness.get());
        let bevelled = spec.bevelled.unwrap_or(Side::B);
        let upright = !spec.preparation.is_symmetric() && side != bevelled;
        let (Some(bevel), false, false) = (spec.bevel, upright, spec.preparation == Preparation::Square)
        else {
            profile.push(half_gap, 0.0, FaceKind::Upright);
            profile.push(half_gap, thickness, FaceKind::Upright);
            return profile;
        };
        let groove = Groove::new(spec, bevel, half_gap);
        let double = spec.preparation.is_double();
        let land_ends = if double { thickness - groove.depth } else { thickness };
        profile.land = Some((groove.depth, land_ends));
        profile.push(groove.bevel_at_face(), 0.0, FaceKind::Bevel);
        for chord in 0..=groove.chords {
            let (y, z) = groove.curve(chord);
            let kind = if chord == groove.chords { FaceKind::Land } else { FaceKind::Radius };
            profile.push(y, z, kind);
        }
        if double {
            // The lower half mirrors the upper one at mid-thickness: z becomes t − z, bottom up.
            for chord in (0..=groove.chords).rev() {
                let (y, z) = groove.curve(chord);
                let kind = if chord == 0 { FaceKind::Bevel } else { FaceKind::Radius };
                profile.push(y, thickness - z, kind);
            }
            profile.push(groove.bevel_at_face(), thickness, FaceKind::Bevel);
        } else {
            profile.push(half_gap, thickness, FaceKind::Land);
        }
        profile
    }

    /// Adds a point; one that repeats the last only renames the piece that starts there.
    fn push(&mut self, y: f32, z: f32, kind: FaceKind) {
        let point = Point { y, z };
        if let Some(last) = self.points.last_mut()
            && last.0 == point
        {
            last.1 = kind;
            return;
        }
        // The capacity is that of the longest profile, which a test holds.
        let _ = self.points.push((point, kind));
    }

    /// Where the land begins and ends; `None` of an upright face.
    pub(super) const fn land(&self) -> Option<(f32, f32)> {
        self.land
    }

    /// The points, top down, at y = half width.
    pub(super) fn points(&self) -> impl DoubleEndedIterator<Item = Point> + '_ {
        self.points.iter().map(|&(point, _)| point)
    }

    /// The pieces between them, top down.
    pub(super) fn pieces(&self) -> impl Iterator<Item = (Point, Point, FaceKind)> + '_ {
        let ends = self.points.iter().skip(1);
        self.points.iter().zip(ends).map(|(&(from, kind), &(to, _))| (from, to, kind))
    }

    /// Half width at a depth, the larger where the face runs level; `None` above or below the plate.
    pub(super) fn half_width(&self, z: f32) -> Option<f32> {
        let mut widest = None;
        for (from, to, _) in self.pieces() {
            if z < from.z || z > to.z {
                continue;
            }
            let height = to.z - from.z;
            let y = if height > 0.0 {
                from.y + (to.y - from.y) * ((z - from.z) / height)
            } else {
                math::larger(from.y, to.y)
            };
            widest = Some(widest.map_or(y, |known| math::larger(known, y)));
        }
        widest
    }
}

/// The numbers of one bevelled groove.
struct Groove {
    half_gap: f32,
    depth: f32,
    radius: f32,
    bevel: Degrees,
    tan: f32,
    chords: u8,
}

impl Groove {
    fn new(spec: &JointSpec, bevel: Degrees, half_gap: f32) -> Self {
        let has_radius = spec.preparation.has_radius();
        Self {
            half_gap,
            depth: spec.groove_depth(),
            radius: if has_radius { spec.radius.unwrap_or(ASSUMED_RADIUS).get() } else { 0.0 },
            bevel,
            tan: math::tan(bevel.get()),
            chords: if has_radius { CHORDS } else { 0 },
        }
    }

    /// y of the straight bevel at the face: g/2 + r cos b + (d − r + r sin b) tan b.
    fn bevel_at_face(&self) -> f32 {
        let (sin, cos) = math::sin_cos(self.bevel.get());
        let rise = self.depth - self.radius + self.radius * sin;
        self.half_gap + self.radius * cos + rise * self.tan
    }

    /// The curve's point after so many chords, from the bevel (0) to the land.
    fn curve(&self, chord: u8) -> (f32, f32) {
        if chord >= self.chords {
            return (self.half_gap, self.depth);
        }
        let turned = (90.0 - self.bevel.get()) * f32::from(chord) / f32::from(self.chords);
        let (sin, cos) = math::sin_cos(self.bevel.get() + turned);
        // The rounding of a radius that only just fits must not lift its end above the face.
        let z = math::larger(self.depth - self.radius + self.radius * sin, 0.0);
        (self.half_gap + self.radius * cos, z)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spec(preparation: Preparation) -> JointSpec {
        JointSpec {
            bevel: Some(Degrees::constant(10.0)),
            gap: Some(Millimetres::constant(2.0)),
            land: Some(Millimetres::constant(2.0)),
            ..JointSpec::new(Millimetres::constant(40.0), preparation)
        }
    }

    #[test]
    fn the_double_u_fills_the_capacity_and_no_point_is_lost() {
        let profile = Profile::new(&spec(Preparation::DoubleU), Side::A);
        assert_eq!(profile.points.len(), PROFILE);
        assert_eq!(profile.points.last().unwrap().0.z, 40.0);
    }

    #[test]
    fn the_radius_meets_land_and_bevel_with_their_own_tangents() {
        let profile = Profile::new(&spec(Preparation::SingleU), Side::B);
        let slopes: std::vec::Vec<f32> = profile
            .pieces()
            .map(|(from, to, _)| math::atan2(f64::from(from.y - to.y), f64::from(to.z - from.z)))
            .collect();
        // Bevel 10 degrees off the vertical, then eight chords that turn by 10 degrees each, then the upright land.
        let expected = [10.0, 15.0, 25.0, 35.0, 45.0, 55.0, 65.0, 75.0, 85.0, 0.0];
        assert_eq!(slopes.len(), expected.len());
        for (slope, expected) in slopes.iter().zip(expected) {
            assert!((slope - expected).abs() < 0.01, "{slopes:?}");
        }
    }

    #[test]
    fn a_face_only_goes_down() {
        for preparation in Preparation::ALL {
            for side in [Side::A, Side::B] {
                let profile = Profile::new(&spec(preparation), side);
                assert!(profile.pieces().all(|(from, to, _)| to.z > from.z), "{preparation}");
            }
        }
    }

    #[test]
    fn a_level_piece_is_as_wide_as_its_wider_end() {
        let mut profile = Profile { points: heapless::Vec::new(), land: None };
        for (y, z) in [(8.0, 0.0), (6.0, 10.0), (2.0, 10.0), (1.0, 20.0)] {
            profile.push(y, z, FaceKind::Bevel);
        }
        assert_eq!([0.0, 5.0, 10.0, 15.0].map(|z| profile.half_width(z)), [8.0, 7.0, 6.0, 1.5].map(Some));
        let level = Profile { points: profile.points.iter().copied().skip(1).take(2).collect(), land: None };
        assert_eq!(level.half_width(10.0), Some(6.0));
    }
}
