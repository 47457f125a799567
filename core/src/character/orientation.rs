//! How a plane inside leans: from its two ends, or from the directions it answers to.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | d, L | direction of incidence (period 180) and level from it | deg, dB |
//! | A, B, C | L = A + B cos 2d + C sin 2d | dB |
//! | d₀ | direction that would meet it squarely, 2 d₀ = atan2(C, B) | deg |
//! | lean | angle of the plane off upright, positive where its upper edge lies toward side B | deg |
//!
//! The first harmonic is the simplest curve of period 180 that has one maximum; it is fitted by least squares and says
//! where the maximum lies, not how sharp it is. Common practice, no source \[R7\]. A plane that is met squarely from d₀
//! leans by 90 − |d₀|, away from the probe's side.

use super::case::Case;
use super::contact::ends;
use super::direction::{Direction, between};
use crate::calibration::level::Bound;
use crate::math;

/// What an orientation rests on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum From {
    /// The places of two ends.
    Ends,
    /// Levels from several directions.
    Levels {
        /// How many.
        directions: u32,
    },
}

/// How a plane leans.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Orientation {
    /// Off upright, deg, −90 to 90; positive where the upper edge lies toward side B.
    pub lean: f32,
    /// Expanded uncertainty (k = 2), deg; none from levels, whose scatter is not that of a law.
    pub u: Option<f32>,
    /// What it rests on.
    pub from: From,
}

/// The least rise of the fitted curve that tells a direction, dB, and the largest share of it that the levels may miss
/// it by. Common practice, no source.
const RISE: f32 = 6.0;
const MISS: f32 = 0.3;
/// The least number of directions that a curve is fitted to, and what they span at least, deg. Common practice, no source.
const DIRECTIONS: usize = 4;
const SPAN: f32 = 60.0;

/// The orientation, where ends or levels bear it.
#[inline(never)]
pub(super) fn orientation(case: &Case<'_>) -> Option<Orientation> {
    if let Some((upper, lower)) = ends(case) {
        let standoff = case.facts.common().budget.standoff.get();
        return by_ends(upper.y - lower.y, lower.z - upper.z, [upper.u_z, lower.u_z], standoff);
    }
    by_levels(&case.directions)
}

/// tan lean = Δy / Δz, and u(lean) = (cos² lean / Δz) √(u²(Δy) + tan² lean u²(Δz)); the y errors of both ends are mostly
/// shared, so that one reading's own stand-off and path remain.
fn by_ends(across: f32, down: f32, u_z: [f32; 2], standoff: f32) -> Option<Orientation> {
    let lean = math::atan2(f64::from(across), f64::from(down));
    let (tan, cos) = (across / down, math::sin_cos(lean).1);
    let [upper, lower] = u_z;
    let of_depth = tan * tan * (upper * upper + lower * lower);
    let u = cos * cos / down * math::sqrt(2.0 * standoff * standoff * 4.0 / 3.0 + of_depth)?;
    Some(Orientation { lean, u: Some(u / math::RADIANS_PER_DEGREE), from: From::Ends })
}

/// Least squares of the first harmonic.
fn by_levels(directions: &[Direction]) -> Option<Orientation> {
    let exact = || directions.iter().filter(|direction| direction.bound == Bound::Exact);
    let count = exact().count();
    let span =
        exact().flat_map(|one| exact().map(|other| between(one.from, other.from))).fold(0.0, math::larger);
    if count < DIRECTIONS || span < SPAN {
        return None;
    }
    // Normal equations of three unknowns, in f64 since they are eliminated by differences.
    let mut matrix = [[0.0f64; 4]; 3];
    for direction in exact() {
        let (sin, cos) = math::sin_cos_f64(2.0 * direction.from);
        let row = [1.0, cos, sin, f64::from(direction.level)];
        for (line, left) in matrix.iter_mut().zip(row) {
            for (cell, right) in line.iter_mut().zip(row) {
                *cell += left * right;
            }
        }
    }
    let [a, b, c] = solved(matrix)?;
    let half_rise = math::sqrt_f64(b * b + c * c)? as f32;
    let mut squares = 0.0f32;
    for direction in exact() {
        let (sin, cos) = math::sin_cos_f64(2.0 * direction.from);
        let off = (a + b * cos + c * sin) as f32 - direction.level;
        squares += off * off;
    }
    let miss = math::sqrt(squares / count as f32)?;
    if !tells(2.0 * half_rise, miss) {
        return None;
    }
    // 2 d₀ = atan2(C, B)
    let square = math::atan2(c, b) / 2.0;
    let lean = if square >= 0.0 { 90.0 - square } else { -90.0 - square };
    Some(Orientation { lean, u: None, from: From::Levels { directions: count as u32 } })
}

/// Whether a curve rises enough, and the levels follow it closely enough, for it to tell a direction.
fn tells(rise: f32, miss: f32) -> bool {
    rise >= RISE && miss <= MISS * rise
}

/// Three equations with their right-hand sides, eliminated with the diagonal as pivots: the matrix is positive definite
/// or has no solution.
fn solved(matrix: [[f64; 4]; 3]) -> Option<[f64; 3]> {
    let [first, second, third] = matrix;
    let less = |line: [f64; 4], pivot: [f64; 4], column: usize| -> Option<[f64; 4]> {
        let (at, of) = (line.get(column)?, pivot.get(column)?);
        if of.abs() < 1e-9 {
            return None;
        }
        let factor = at / of;
        let mut left = line;
        for (cell, above) in left.iter_mut().zip(pivot) {
            *cell -= factor * above;
        }
        Some(left)
    };
    let (second, third) = (less(second, first, 0)?, less(third, first, 0)?);
    let third = less(third, second, 1)?;
    let [_, _, z, right] = third;
    if z.abs() < 1e-9 {
        return None;
    }
    let c = right / z;
    let [_, y, z, right] = second;
    let b = (right - z * c) / y;
    let [x, y, z, right] = first;
    Some([(right - y * b - z * c) / x, b, c])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::side::Side;

    fn directions<const N: usize>(levels: [(f32, f32); N]) -> [Direction; N] {
        levels.map(|(from, level)| Direction {
            from,
            angle: from.abs(),
            side: Side::A,
            level,
            bound: Bound::Exact,
            missed: 0.0,
        })
    }

    #[test]
    fn a_plane_met_squarely_at_60_degrees_leans_by_30() {
        let seen = directions([(60.0, 10.0), (45.0, 6.0), (70.0, 8.0), (-45.0, -9.0), (-60.0, -8.0)]);
        let found = by_levels(&seen).unwrap();
        assert!((found.lean - 30.0).abs() < 8.0, "{found:?}");
        let mirrored = seen.map(|direction| Direction { from: -direction.from, ..direction });
        assert!((by_levels(&mirrored).unwrap().lean + found.lean).abs() < 1e-3);
    }

    /// Levels that follow a + r cos 2 (d − d₀), alternately `off` above and below it.
    fn harmonic<const N: usize>(from: [f32; N], square: f32, half_rise: f32, off: f32) -> [Direction; N] {
        let mut sign = -1.0;
        directions(from.map(|from| {
            sign = -sign;
            (from, 3.0 + half_rise * math::sin_cos(2.0 * (from - square)).1 + sign * off)
        }))
    }

    /// Twice these lie in the middles of the quadrants: what alternates over them is no part of a first harmonic.
    const QUADRANTS: [f32; 4] = [-67.5, -22.5, 22.5, 67.5];

    #[test]
    fn two_ends_lean_by_what_lies_between_them_and_as_uncertainly_as_their_places() {
        // A triangle of 3, 4 and 5: lean 36.870, tan 0.75, cos 0.8. u² = (0.64 / 4)² (2 · 1 · 4 / 3 + 0.5625 · 0.29).
        let found = by_ends(3.0, 4.0, [0.5, 0.2], 1.0).unwrap();
        assert!(
            (found.lean - 36.869_9).abs() < 1e-3 && (found.u.unwrap() - 15.421_3).abs() < 1e-3,
            "{found:?}"
        );
        let mirrored = by_ends(-3.0, 4.0, [0.2, 0.5], 1.0).unwrap();
        assert_eq!((mirrored.lean, mirrored.u), (-found.lean, found.u));
        // Upright the depths have no part: u = (2 √(2 / 3) · 0.5) / 4.
        let upright = by_ends(0.0, 4.0, [0.5, 0.2], 0.5).unwrap();
        assert!(upright.lean == 0.0 && (upright.u.unwrap() - 11.695_4).abs() < 1e-3, "{upright:?}");
    }

    #[test]
    fn levels_of_a_first_harmonic_give_back_the_direction_that_they_rise_to() {
        for from in [[-70.0, -45.0, 20.0, 45.0, 60.0], [-60.0, -45.0, 45.0, 60.0, 70.0]] {
            for (square, lean) in [(60.0, 30.0), (25.0, 65.0), (80.0, 10.0), (-60.0, -30.0), (-35.0, -55.0)] {
                let found = by_levels(&harmonic(from, square, 8.0, 0.0)).unwrap();
                assert!((found.lean - lean).abs() < 1e-3, "{square}: {found:?}");
                assert_eq!((found.u, found.from), (None, From::Levels { directions: 5 }));
            }
        }
    }

    #[test]
    fn a_curve_has_to_rise_by_6_decibels_and_to_be_followed_within_three_tenths_of_that() {
        let told =
            |half_rise, off| by_levels(&harmonic(QUADRANTS, 40.0, half_rise, off)).map(|found| found.lean);
        assert_eq!(told(2.99, 0.0), None);
        assert!((told(3.01, 0.0).unwrap() - 50.0).abs() < 1e-3);
        assert_eq!(told(5.0, 3.01), None);
        assert!((told(5.0, 2.99).unwrap() - 50.0).abs() < 1e-3);
    }

    #[test]
    fn a_rise_of_6_decibels_tells_and_a_miss_of_three_tenths_of_it_is_near_enough() {
        assert!(tells(6.0, 0.0) && tells(10.0, MISS * 10.0));
        assert!(!tells(5.5, 0.0) && !tells(10.0, 3.5));
    }

    #[test]
    fn a_curve_takes_four_directions_over_60_degrees() {
        let told = |from: &[Direction]| by_levels(from).is_some();
        assert!(told(&harmonic([-30.0, -10.0, 10.0, 30.0], 40.0, 20.0, 0.0)));
        assert!(!told(&harmonic([-29.5, -10.0, 10.0, 30.0], 40.0, 20.0, 0.0)));
        assert!(!told(&harmonic([-30.0, 10.0, 30.0], 40.0, 20.0, 0.0)));
    }

    #[test]
    fn equations_without_a_solution_have_none() {
        assert_eq!(solved([[0.0; 4]; 3]), None);
        assert_eq!(solved([[1.0, 2.0, 3.0, 4.0], [2.0, 4.0, 6.0, 8.0], [1.0, 0.0, 0.0, 1.0]]), None);
        assert_eq!(solved([[1.0, 1.0, 0.0, 3.0], [1.0, 3.0, 1.0, 8.0], [0.0, 1.0, 0.5, 2.5]]), None);
        // As small as a pivot may be.
        let least = solved([[1e-9, 0.0, 0.0, 1e-9], [0.0, 1.0, 0.0, 2.0], [0.0, 0.0, 1e-9, 3e-9]]).unwrap();
        // x = 1, y = 2, z = 3.
        let found = solved([[4.0, 1.0, 2.0, 12.0], [1.0, 5.0, 1.0, 14.0], [2.0, 1.0, 6.0, 22.0]]).unwrap();
        for ((found, least), expected) in found.into_iter().zip(least).zip([1.0, 2.0, 3.0]) {
            assert!((found - expected).abs() < 1e-12 && (least - expected).abs() < 1e-12);
        }
    }

    #[test]
    fn levels_that_hardly_differ_tell_no_direction() {
        let seen = directions([(60.0, 1.0), (45.0, 0.0), (-45.0, 0.5), (-60.0, -1.0)]);
        assert_eq!(by_levels(&seen), None);
    }
}
