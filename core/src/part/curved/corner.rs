//! A corner of the reflector with a face of a curved part: thickness and path fix it, the angle only counts the legs.

use super::{Course, CurvedError, Slopes};
use crate::math;
use crate::units::Millimetres;

/// A corner: its leg, its arc and the slopes of that, and whether it lies at the opposite face.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Corner {
    pub leg: u32,
    pub arc: f64,
    pub of_arc: Slopes,
    pub opposite: bool,
}

/// Places a corner by its path: n = the whole number nearest s / L, at least 1, and n equal legs of l = s / n.
///
/// φ = n acos((q² + o² − l²) / (2 q o)), computed as 2 n asin √((l² − t²) / (4 q o)), which keeps its digits on large
/// radii. Odd n: the opposite face; even n: the scanned one. When the bore is missed only the scanned face has corners:
/// m chords, n = 2 m, φ = n asin(s / (n q)).
pub(crate) fn corner(course: &Course, path: Millimetres) -> Result<Corner, CurvedError> {
    let s = f64::from(crate::units::limits::PATH.check(path.get())?);
    let pipe = course.pipe();
    let (q, o) = (pipe.scanned(), pipe.other());
    if course.misses_bore() {
        let n = 2.0 * f64::from(nearest(s / (2.0 * course.leg_exact())));
        // A straight chord: l = q sin(φ / n).
        let sine = s / (n * q);
        let cosine = math::sqrt_f64((1.0 - sine) * (1.0 + sine)).filter(|cosine| *cosine > 0.0);
        let cosine = cosine
            .ok_or(CurvedError::ThroughTheBore { leg: (s / n) as f32, longest: pipe.scanned_radius() })?;
        let arc = math::arc(n * q, sine, cosine);
        let of_arc = Slopes { path: 1.0 / cosine, scanned: arc / q - n * sine / cosine, ..Slopes::default() };
        return Ok(Corner { leg: n as u32, arc, of_arc, opposite: false });
    }
    let leg = nearest(s / course.leg_exact());
    let n = f64::from(leg);
    let (l, t) = (s / n, (q - o).abs());
    // sin²(φ / 2n) = (l² − t²) / (4 q o)
    let half_sine_squared = (l - t) * (l + t) / (4.0 * q * o);
    let half_sine = math::sqrt_f64(half_sine_squared).filter(|half_sine| *half_sine > 0.0);
    let half_sine =
        half_sine.ok_or(CurvedError::CornerTooShort { path: path.get(), shortest: (n * t) as f32 })?;
    // The leg that grazes the bore: l² = R² − r².
    let longest = math::sqrt_f64(t * (q + o)).unwrap_or(0.0);
    if l > longest {
        return Err(CurvedError::ThroughTheBore { leg: l as f32, longest: longest as f32 });
    }
    let half_cosine = math::sqrt_f64(1.0 - half_sine_squared).unwrap_or(0.0);
    let (sine, cosine) = (2.0 * half_sine * half_cosine, 1.0 - 2.0 * half_sine_squared);
    let arc = math::arc(2.0 * n * q, half_sine, half_cosine);
    // q o sin φ₁ dφ₁ = l dl − (q − o cos φ₁) dq − (o − q cos φ₁) do
    let per = n * q / (q * o * sine);
    let of_arc = Slopes {
        path: per * l / n,
        angle: 0.0,
        scanned: arc / q - per * (q - o * cosine),
        other: -per * (o - q * cosine),
    };
    Ok(Corner { leg, arc, of_arc, opposite: leg % 2 == 1 })
}

/// The whole number nearest a count of legs, at least 1.
fn nearest(legs: f64) -> u32 {
    let nearest = (legs + 0.5) as u32;
    if nearest == 0 { 1 } else { nearest }
}

#[cfg(test)]
mod tests {
    use super::super::Pipe;
    use super::*;
    use crate::part::joint::ScannedFrom;
    use crate::part::path::Axis;
    use crate::units::Degrees;

    /// The corner of a pipe with these radii of the scanned face and of the other one.
    fn sought(
        angle: f32,
        scanned: f32,
        other: f32,
        from: ScannedFrom,
        path: f32,
    ) -> Result<Corner, CurvedError> {
        let mm = |value| Millimetres::new(value).unwrap();
        let outer = if scanned > other { scanned } else { other };
        let pipe = Pipe::new(mm(2.0 * outer), mm((scanned - other).abs()), from).unwrap();
        let axis = Axis::new(Degrees::new(angle).unwrap()).unwrap();
        corner(&Course::new(&axis, &pipe), mm(path))
    }

    fn of(angle: f32, scanned: f32, other: f32, from: ScannedFrom, path: f32) -> Corner {
        sought(angle, scanned, other, from, path).unwrap()
    }

    #[test]
    fn an_arc_moves_with_path_and_radii_as_its_slopes_say() {
        let (outside, inside) = (ScannedFrom::Outside, ScannedFrom::Inside);
        for (angle, scanned, other, from, path, leg) in [
            (45.0, 100.0, 80.0, outside, 30.0, 1),
            (45.0, 100.0, 80.0, outside, 62.0, 2),
            (50.0, 60.0, 75.0, inside, 66.0, 3),
            // The bore is missed: chords of 2 · 50 cos 70 = 34.2.
            (70.0, 50.0, 20.0, outside, 34.0, 2),
            (70.0, 50.0, 20.0, outside, 69.0, 4),
        ] {
            let at = |q: f32, o: f32, s: f32| of(angle, scanned + q, other + o, from, path + s);
            let found = at(0.0, 0.0, 0.0);
            assert_eq!((found.leg, found.opposite), (leg, leg % 2 == 1), "{angle} {path}");
            // Central differences over steps that single precision keeps apart.
            let step = 0.0625f32;
            let slope = |up: Corner, down: Corner| (up.arc - down.arc) / (2.0 * f64::from(step));
            let of_path = slope(at(0.0, 0.0, step), at(0.0, 0.0, -step));
            let of_scanned = slope(at(step, 0.0, 0.0), at(-step, 0.0, 0.0));
            let of_other = slope(at(0.0, step, 0.0), at(0.0, -step, 0.0));
            let Slopes { path: by_path, angle: by_angle, scanned: by_scanned, other: by_other } =
                found.of_arc;
            for (found, expected) in [(by_path, of_path), (by_scanned, of_scanned), (by_other, of_other)] {
                assert!(
                    (found - expected).abs() < 1e-3 + 2e-3 * expected.abs(),
                    "{angle} {path}: {found} {expected}"
                );
            }
            assert_eq!(by_angle, 0.0);
        }
    }

    #[test]
    fn corners_of_equal_legs_lie_at_multiples_of_one_arc() {
        let one = of(45.0, 100.0, 80.0, ScannedFrom::Outside, 30.0);
        // cos φ = (100² + 80² − 30²) / (2 · 100 · 80) = 0.96875.
        assert!((one.arc - 100.0 * 0.250_655_66).abs() < 1e-4, "{}", one.arc);
        let two = of(45.0, 100.0, 80.0, ScannedFrom::Outside, 60.0);
        assert!((two.arc - 2.0 * one.arc).abs() < 1e-6);
        // sin φ / 2 = 17.1 / 50 for a chord of 34.2, which is one leg down and one up.
        let chord = of(70.0, 50.0, 20.0, ScannedFrom::Outside, 34.2);
        assert!((chord.arc - 2.0 * 50.0 * 0.349_044_4).abs() < 1e-4, "{}", chord.arc);
    }

    #[test]
    fn the_longest_leg_grazes_the_bore_and_the_shortest_is_longer_than_the_wall() {
        let outside = |angle, path| sought(angle, 100.0, 80.0, ScannedFrom::Outside, path);
        // 60² = 100² − 80², and there cos φ = 80 / 100.
        assert!((outside(52.5, 60.0).unwrap().arc - 100.0 * 0.643_501_1).abs() < 1e-4);
        assert_eq!(outside(52.5, 70.0), Err(CurvedError::ThroughTheBore { leg: 70.0, longest: 60.0 }));
        assert_eq!(outside(45.0, 20.0), Err(CurvedError::CornerTooShort { path: 20.0, shortest: 20.0 }));
        // The bore is missed: no chord is longer than the diameter, and one as long passes the axis.
        let missed = sought(30.0, 50.0, 20.0, ScannedFrom::Outside, 100.0);
        assert_eq!(missed, Err(CurvedError::ThroughTheBore { leg: 50.0, longest: 50.0 }));
    }
}
