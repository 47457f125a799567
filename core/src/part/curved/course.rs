//! The beam's axis in a pipe: legs, depth and arc of a path, and the way back.

use super::{CurvedError, Pipe, Slopes};
use crate::math;
use crate::part::path::{AT_A_FACE, Axis, NO_LEG, Unfolded, depths};
use crate::units::error::RangeError;
use crate::units::limits::PATH;
use crate::units::{Degrees, Millimetres};

/// The beam's axis in a pipe, its legs worked out once.
///
/// ```
/// use halfskip::part::curved::{Course, Pipe};
/// use halfskip::part::joint::ScannedFrom;
/// use halfskip::part::path::Axis;
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let axis = Axis::new(Degrees::new(45.0).unwrap()).unwrap();
/// let pipe = Pipe::new(mm(152.4), mm(19.05), ScannedFrom::Outside).unwrap();
/// let course = Course::new(&axis, &pipe);
/// assert!(!course.misses_bore());
/// // A plate would have 26.94 mm and 19.05 mm.
/// assert!((course.leg_length() - 34.831).abs() < 0.001);
/// assert!((course.half_skip() - 33.952).abs() < 0.001);
/// let end = course.at(mm(50.0)).unwrap();
/// assert_eq!(end.leg, 2);
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Course {
    pipe: Pipe,
    sin: f64,
    cos: f64,
    leg: f64,
    of_leg: Slopes,
    /// Arc of one leg.
    turn: f64,
    of_turn: Slopes,
    misses: bool,
}

/// Where a path ends, and what that depends on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Traced {
    pub leg: u32,
    pub depth: f64,
    pub arc: f64,
    pub of_depth: Slopes,
    pub of_arc: Slopes,
}

impl Course {
    /// The axis of a beam in a pipe.
    #[must_use]
    pub fn new(axis: &Axis, pipe: &Pipe) -> Self {
        let (sin, cos) = math::sin_cos_f64(axis.angle().get());
        Self::turned(sin, cos, pipe)
    }

    /// The same from sine and cosine of the angle.
    pub(crate) fn turned(sin: f64, cos: f64, pipe: &Pipe) -> Self {
        let (q, o, k) = (pipe.scanned(), pipe.other(), pipe.inward());
        // √(o² − q² sin² a), factored so that it keeps its digits near the largest angle
        let root = math::sqrt_f64((o - q * sin) * (o + q * sin)).filter(|root| *root > 0.0);
        let (leg, of_leg) = match root {
            // L = k (√(o² − q² sin² a) − q cos a) = |o² − q²| / (√(o² − q² sin² a) + q cos a)
            Some(root) => {
                let leg = k * (o - q) * (o + q) / (root + q * cos);
                let scanned = -k * (q * sin * sin / root + cos);
                (leg, Slopes { path: 0.0, angle: q * sin * leg / root, scanned, other: k * o / root })
            }
            // Half the chord 2 q cos a.
            None => (q * cos, Slopes { path: 0.0, angle: -q * sin, scanned: cos, other: 0.0 }),
        };
        let mut course = Self {
            pipe: *pipe,
            sin,
            cos,
            leg,
            of_leg,
            turn: 0.0,
            of_turn: Slopes::default(),
            misses: root.is_none(),
        };
        let (_, turn, _, of_turn) = course.first_leg(leg, of_leg);
        (course.turn, course.of_turn) = (turn, of_turn);
        course
    }

    /// Depth and arc after `s` of leg 1, with their slopes when `s` itself has slopes.
    fn first_leg(&self, s: f64, of_s: Slopes) -> (f64, f64, Slopes, Slopes) {
        let (q, k, sin, cos) = (self.pipe.scanned(), self.pipe.inward(), self.sin, self.cos);
        let (level, along) = (q + k * s * cos, s * sin);
        let squared = level * level + along * along;
        // ρ = √(q² + s² + 2 k q s cos a); a sum of squares has a root.
        let rho = math::sqrt_f64(squared).unwrap_or(0.0);
        // depth = k (ρ − q) = s (2 q cos a + k s) / (ρ + q)
        let depth = s * (2.0 * q * cos + k * s) / (rho + q);
        // arc = q φ, φ = atan2(s sin a, q + k s cos a)
        let arc = math::arc(q, along, level);
        let toward = q * cos + k * s;
        let of_depth = of_s * (toward / rho)
            + Slopes { angle: -q * along / rho, scanned: k * (level / rho - 1.0), ..Slopes::default() };
        let of_phi = of_s * (q * sin / squared)
            + Slopes { angle: s * toward / squared, scanned: -along / squared, ..Slopes::default() };
        let of_arc = of_phi * q + Slopes { scanned: arc / q, ..Slopes::default() };
        (depth, arc, of_depth, of_arc)
    }

    /// The pipe it runs in.
    #[must_use]
    pub const fn pipe(&self) -> &Pipe {
        &self.pipe
    }

    /// Whether the beam passes the bore without meeting it: R sin a ≥ r.
    #[must_use]
    pub const fn misses_bore(&self) -> bool {
        self.misses
    }

    /// Length of one leg, mm; when the bore is missed, half the chord.
    #[must_use]
    pub const fn leg_length(&self) -> f32 {
        self.leg as f32
    }

    /// Arc of one leg along the scanned surface, mm; two of them are the full skip, or the chord's.
    #[must_use]
    pub const fn half_skip(&self) -> f32 {
        self.turn as f32
    }

    /// How deep the beam gets, mm: the wall's thickness, or the deepest point R (1 − sin a).
    #[must_use]
    pub fn deepest(&self) -> f32 {
        if self.misses { (self.pipe.scanned() * (1.0 - self.sin)) as f32 } else { self.pipe.thickness() }
    }

    /// Where a path ends; its `distance` is the arc along the scanned surface, `unfolded` is s cos a.
    ///
    /// # Errors
    /// [`RangeError`] for a path outside 0.01 to 10 000 mm.
    pub fn at(&self, path: Millimetres) -> Result<Unfolded, RangeError> {
        let path = f64::from(PATH.check(path.get())?);
        let Traced { leg, depth, arc, .. } = self.trace(path);
        Ok(Unfolded { leg, depth: depth as f32, unfolded: (path * self.cos) as f32, distance: arc as f32 })
    }

    /// Legs after the first mirror it: with m legs left behind as whole pairs, s' = ±(s − m L) and arc = m turn ± arc'.
    pub(crate) fn trace(&self, path: f64) -> Traced {
        let legs = path / self.leg;
        let nearest = (legs + 0.5) as u32;
        let at_face =
            nearest >= 1 && (legs - f64::from(nearest)).abs() <= f64::from(AT_A_FACE) * f64::from(nearest);
        let whole = legs as u32;
        let leg = if at_face { nearest } else { whole.saturating_add(1) };
        let (behind, onward) = mirrored(leg);
        let to_far = leg % 2 == 1;
        let within = match (at_face, to_far) {
            (true, true) => self.leg,
            (true, false) => 0.0,
            (false, _) => onward * (path - behind * self.leg),
        };
        let of_path = Slopes { path: 1.0, ..Slopes::default() };
        let of_within = (of_path + self.of_leg * -behind) * onward;
        let (depth, arc, of_depth, of_arc) = self.first_leg(within, of_within);
        // The face itself has no rounding.
        let depth = if at_face && to_far && !self.misses { f64::from(self.pipe.thickness()) } else { depth };
        Traced {
            leg,
            depth,
            arc: behind * self.turn + onward * arc,
            of_depth,
            of_arc: self.of_turn * behind + of_arc * onward,
        }
    }

    /// The path and arc by which leg `leg` reaches a depth: the inverse of [`at`](Self::at).
    ///
    /// # Errors
    /// [`CurvedError::Range`] for a depth outside the wall, a leg of 0, or a path that grows beyond 10 000 mm;
    /// [`CurvedError::TooDeep`] when the beam misses the bore above that depth.
    pub fn reach(&self, leg: u32, depth: Millimetres) -> Result<(Millimetres, Millimetres), CurvedError> {
        depths(self.pipe.thickness()).check(depth.get())?;
        self.through(leg, depth)
    }

    /// The same straight on through the opposite face, on legs that run toward it.
    pub(crate) fn through(
        &self,
        leg: u32,
        depth: Millimetres,
    ) -> Result<(Millimetres, Millimetres), CurvedError> {
        let z = f64::from(depth.get());
        if leg == 0 {
            return Err(NO_LEG.into());
        }
        let (q, k) = (self.pipe.scanned(), self.pipe.inward());
        let rho = q + k * z;
        let root = math::sqrt_f64((rho - q * self.sin) * (rho + q * self.sin))
            .ok_or(CurvedError::TooDeep { depth: depth.get(), deepest: self.deepest() })?;
        // s' = depth (ρ + q) / (√(ρ² − q² sin² a) + q cos a)
        let within = z * (rho + q) / (root + q * self.cos);
        let (behind, onward) = mirrored(leg);
        let (_, arc, ..) = self.first_leg(within, Slopes::default());
        let path = PATH.check((behind * self.leg + onward * within) as f32)?;
        let arc = Millimetres::new((behind * self.turn + onward * arc) as f32)?;
        Ok((Millimetres::new(path)?, arc))
    }

    /// The beam's angle from the normal of the surface at a depth, sin b = q sin a / ρ; `None` deeper than it gets.
    #[must_use]
    pub fn angle_at(&self, depth: f32) -> Option<Degrees> {
        let rho = self.pipe.scanned() + self.pipe.inward() * f64::from(depth);
        Degrees::new(math::asin(self.pipe.scanned() * self.sin / rho)?).ok()
    }

    pub(crate) const fn sin_cos(&self) -> (f64, f64) {
        (self.sin, self.cos)
    }

    pub(crate) const fn leg_exact(&self) -> f64 {
        self.leg
    }
}

/// The whole pairs of legs that leg n is counted from, and whether it runs onward (+1) or back toward them (−1).
fn mirrored(leg: u32) -> (f64, f64) {
    if leg % 2 == 1 { (f64::from(leg.saturating_sub(1)), 1.0) } else { (f64::from(leg), -1.0) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint::ScannedFrom;

    fn mm(value: f32) -> Millimetres {
        Millimetres::new(value).unwrap()
    }

    #[test]
    fn a_beam_that_only_touches_the_bore_misses_it() {
        let pipe = Pipe::new(mm(200.0), mm(50.0), ScannedFrom::Outside).unwrap();
        let course = |sin: f64| Course::turned(sin, math::sqrt_f64(1.0 - sin * sin).unwrap(), &pipe);
        // R sin a = r = 50
        assert!(course(0.5).misses_bore() && !course(0.499).misses_bore());
    }

    #[test]
    fn the_ends_of_legs_lie_at_the_faces() {
        let pipe = Pipe::new(mm(200.0), mm(20.0), ScannedFrom::Outside).unwrap();
        let (meets, passes) = (Course::turned(0.6, 0.8, &pipe), Course::turned(0.96, 0.28, &pipe));
        assert!(!meets.misses_bore() && passes.misses_bore());
        for (course, deepest) in [(meets, 20.0), (passes, 4.0)] {
            for leg in 1..=5u32 {
                // As far off the face as the rounding of so many legs.
                let path =
                    course.leg_exact() * (f64::from(leg) + 0.9 * f64::from(leg) * f64::from(AT_A_FACE));
                let end = course.trace(path);
                let depth = if leg % 2 == 1 { deepest } else { 0.0 };
                assert!(end.leg == leg && (end.depth - depth).abs() < 1e-12, "{leg}: {end:?}");
                assert!((end.arc - f64::from(leg) * f64::from(course.half_skip())).abs() < 1e-4, "{leg}");
            }
        }
        assert_eq!(meets.trace(meets.leg_exact()).depth, 20.0);
        assert_eq!(meets.trace(1e-6).leg, 1);
        // 50 · 0.8 in a plate without a far face.
        assert!((meets.at(mm(50.0)).unwrap().unfolded - 40.0).abs() < 1e-5);
    }
}
