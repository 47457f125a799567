//! A tip seen at the same probe position as another echo of the reflector: its arc is known from that echo, and its own
//! path gives the depth.

use super::{Course, CurvedError, Slopes};
use crate::math;
use crate::units::Millimetres;
use crate::units::limits::{DISTANCE, PATH};

/// A tip: its leg and depth, and how the depth depends on the path, the arc and the two radii.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Tip {
    pub leg: u32,
    pub depth: f64,
    /// At a fixed arc.
    pub of_depth: Slopes,
    pub per_arc: f64,
}

/// Places a tip by its path and its known arc, reading square to the weld.
///
/// Leg 1: ρ = q cos φ + k √(s² − q² sin² φ), depth = k (ρ − q); in the wall that is the answer. Otherwise the ray is the
/// one of n ≥ 2 legs, near the axis, whose path s ends at that arc.
pub(crate) fn together(course: &Course, path: Millimetres, arc: f64) -> Result<Tip, CurvedError> {
    let s = f64::from(PATH.check(path.get())?);
    // A reflector behind the probe is none that its beam meets.
    DISTANCE.check(arc as f32)?;
    let pipe = course.pipe();
    let (q, k) = (pipe.scanned(), pipe.inward());
    let (sin, cos) = math::sin_cos_of_arc(arc, q);
    let short = CurvedError::TipTooShort { path: path.get(), distance: arc as f32 };
    // ρ − q cos φ = k √(s² − q² sin² φ)
    let beyond = math::sqrt_f64((s - q * sin) * (s + q * sin)).filter(|beyond| *beyond > 0.0).ok_or(short)?;
    let rho = q * cos + k * beyond;
    let depth = k * (rho - q);
    if depth < 0.0 {
        return Err(short);
    }
    let rises = course.misses_bore() && s > course.leg_exact();
    if depth > f64::from(pipe.thickness()) || rises {
        return on_a_later_leg(course, s, arc);
    }
    // (ρ − q cos φ) dρ = s ds − ρ sin φ q dφ − (q − ρ cos φ) dq, and q dφ = d(arc) − φ dq
    let per_rho = 1.0 / beyond;
    let per_arc = -per_rho * rho * sin;
    let per_scanned = -k - per_rho * (q - rho * cos) - per_arc * arc / q;
    let of_depth = Slopes { path: per_rho * s, scanned: per_scanned, ..Slopes::default() };
    Ok(Tip { leg: 1, depth, of_depth, per_arc })
}

/// How often the ray's direction is corrected at most, and when it is near enough, in units of arc.
const CORRECTIONS: u32 = 40;
const NEAR_ENOUGH: f64 = 1e-10;
/// The largest single correction.
const LARGEST: f64 = 0.05;

/// Newton's rule on the refracted angle, from the axis: arc(a, s) = arc.
fn on_a_later_leg(course: &Course, s: f64, arc: f64) -> Result<Tip, CurvedError> {
    let none = CurvedError::NoRay { path: s as f32, distance: arc as f32 };
    let mut ray = *course;
    for _ in 0..CORRECTIONS {
        let end = ray.trace(s);
        let wanted = (arc - end.arc) / end.of_arc.angle;
        if wanted.abs() <= NEAR_ENOUGH {
            // At a fixed arc: dz = z_x dx − z_a (arc_x dx − d(arc)) / arc_a
            let turn = end.of_depth.angle / end.of_arc.angle;
            return Ok(Tip {
                leg: end.leg,
                depth: end.depth,
                of_depth: end.of_depth + end.of_arc * -turn,
                per_arc: turn,
            });
        }
        // What is no number ends the search.
        if wanted.is_nan() {
            return Err(none);
        }
        let step = if wanted.abs() <= LARGEST { wanted } else { LARGEST.copysign(wanted) };
        let (by_sin, by_cos) = math::sin_cos_of_arc(step, 1.0);
        let (sin, cos) = ray.sin_cos();
        let (sin, cos) = (sin * by_cos + cos * by_sin, cos * by_cos - sin * by_sin);
        ray = Course::turned(sin, cos, course.pipe());
        if sin <= 0.0 || cos <= 0.0 || ray.misses_bore() != course.misses_bore() {
            return Err(none);
        }
    }
    Err(none)
}

#[cfg(test)]
mod tests {
    use super::super::Pipe;
    use super::*;
    use crate::part::joint::ScannedFrom;
    use crate::part::path::Axis;
    use crate::units::Degrees;

    fn mm(value: f32) -> Millimetres {
        Millimetres::new(value).unwrap()
    }

    /// The course in a pipe with these radii of the scanned face and of the other one.
    fn course(angle: f32, q: f32, o: f32, from: ScannedFrom) -> Course {
        let pipe = Pipe::new(mm(2.0 * if q > o { q } else { o }), mm((q - o).abs()), from).unwrap();
        Course::new(&Axis::new(Degrees::new(angle).unwrap()).unwrap(), &pipe)
    }

    #[test]
    fn a_depth_moves_with_path_arc_and_radii_as_its_slopes_say() {
        let (outside, inside) = (ScannedFrom::Outside, ScannedFrom::Inside);
        for (angle, scanned, other, from, path, arc, leg) in [
            (45.0, 100.0, 80.0, outside, 20.0, 13.0, 1),
            (45.0, 60.0, 80.0, inside, 20.0, 15.0, 1),
            (45.0, 100.0, 80.0, outside, 42.0, 35.0, 2),
            (50.0, 60.0, 75.0, inside, 55.0, 34.2, 3),
            (70.0, 50.0, 20.0, outside, 25.0, 25.7, 2),
        ] {
            let at = |q: f32, o: f32, s: f32, x: f64| {
                let course = course(angle, scanned + q, other + o, from);
                together(&course, mm(path + s), arc + x).unwrap()
            };
            let found = at(0.0, 0.0, 0.0, 0.0);
            assert_eq!(found.leg, leg, "{angle} {path}");
            // Central differences over steps that single precision keeps apart.
            let step = 0.03125f32;
            let slope = |up: Tip, down: Tip| (up.depth - down.depth) / (2.0 * f64::from(step));
            for (found, expected) in [
                (found.of_depth.path, slope(at(0.0, 0.0, step, 0.0), at(0.0, 0.0, -step, 0.0))),
                (found.per_arc, slope(at(0.0, 0.0, 0.0, 0.03125), at(0.0, 0.0, 0.0, -0.03125))),
                (found.of_depth.scanned, slope(at(step, 0.0, 0.0, 0.0), at(-step, 0.0, 0.0, 0.0))),
                (found.of_depth.other, slope(at(0.0, step, 0.0, 0.0), at(0.0, -step, 0.0, 0.0))),
            ] {
                assert!(
                    (found - expected).abs() < 2e-3 + 5e-3 * expected.abs(),
                    "{angle} {path}: {found} {expected}"
                );
            }
        }
    }

    #[test]
    fn on_leg_1_a_tip_lies_between_the_faces() {
        let outside = course(45.0, 100.0, 80.0, ScannedFrom::Outside);
        let bottom = together(&outside, mm(20.0), 0.0).unwrap();
        assert_eq!((bottom.leg, bottom.depth), (1, 20.0));
        // A path that only just spans its arc, a quarter turn about the axis: nothing is left for the depth.
        let quarter = 50.0 * core::f64::consts::FRAC_PI_2;
        let short = CurvedError::TipTooShort { path: 50.0, distance: quarter as f32 };
        let thick = course(30.0, 50.0, 30.0, ScannedFrom::Outside);
        assert_eq!(together(&thick, mm(50.0), quarter), Err(short));
        // A chord of 60 at a radius of 60 turns by 60 degrees: what is shorter would lie in the bore.
        let sixth = 60.0 * core::f64::consts::FRAC_PI_3;
        let inside = course(45.0, 60.0, 80.0, ScannedFrom::Inside);
        let short = CurvedError::TipTooShort { path: 55.0, distance: sixth as f32 };
        assert_eq!(together(&inside, mm(55.0), sixth), Err(short));
        assert!((together(&inside, mm(65.0), sixth).unwrap().depth - 9.05).abs() < 0.01);
    }

    #[test]
    fn a_ray_far_off_the_axis_is_found_and_one_past_the_bore_is_not() {
        let outside = |angle| course(angle, 100.0, 80.0, ScannedFrom::Outside);
        for (axis, angle, path) in [(45.0, 37.0, 40.0), (37.0, 45.0, 40.0), (45.0, 50.0, 70.0)] {
            let end = outside(angle).trace(f64::from(path));
            let tip = together(&outside(axis), mm(path), end.arc).unwrap();
            assert_eq!(tip.leg, end.leg);
            assert!((tip.depth - end.depth).abs() < 1e-7, "{axis} {angle}: {} {}", tip.depth, end.depth);
        }
    }

    #[test]
    fn no_ray_runs_backward_or_leaves_the_bore_to_one_side_that_its_beam_meets() {
        // At 115 degrees from the normal of the bore, or at 63 where 53 is the largest angle that meets it.
        let inside = course(45.0, 60.0, 80.0, ScannedFrom::Inside);
        let none = CurvedError::NoRay { path: 95.0, distance: 82.0 };
        assert_eq!(together(&inside, mm(95.0), 82.0), Err(none));
        let outside = course(20.0, 100.0, 80.0, ScannedFrom::Outside);
        let none = CurvedError::NoRay { path: 115.0, distance: 118.0 };
        assert_eq!(together(&outside, mm(115.0), 118.0), Err(none));
    }
}
