//! The walk of an echo: how its path changes as the probe moves, and what depth that alone gives.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | q | stand-off less the index offset, q = p − e | mm |
//! | s | sound path at that stand-off | mm |
//! | g | +1 on side A, −1 on side B | – |
//! | y, D | place of a fixed point across the weld, and its unfolded depth | mm |
//!
//! A point that stays where it is while the probe moves answers along a hyperbola,
//!
//! s² = (q + g y)² + D², so s² − q² = 2 g y q + (y² + D²),
//!
//! a straight line in q: its slope gives y and its intercept D, and the beam's angle is in neither. A corner keeps the
//! depth of its face. Plane geometry; the uncertainty is first-order propagation \[R3\] with the scatter of the series
//! itself for the readings' own errors, since those of one series can be told from it.
//!
//! The longest path of an echo off the beam's axis is not quite the ray's: the element is no point. Half a wavelength
//! is allowed for that (k = 2; common practice, no source \[R7\]).

use crate::math;
use crate::part::locate::Budget;
use crate::part::side::Side;

/// One step of a walk.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Pace {
    /// q, mm.
    pub from_index: f32,
    /// s, mm.
    pub path: f32,
}

/// The fixed point that a walk fits best.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Walk {
    /// Across the weld, mm.
    pub y: f32,
    /// Expanded uncertainty (k = 2) of y, mm, the index point's part not counted.
    pub u_y: f32,
    /// Unfolded depth, mm.
    pub depth: f32,
    /// Expanded uncertainty (k = 2) of the depth, mm.
    pub u_depth: f32,
    /// How many steps it rests on.
    pub steps: u32,
    /// Path travelled per probe travel over the series: the sine of the mean ray angle for a fixed point.
    pub slope: f32,
}

/// The least number of steps that a walk is fitted to.
const LEAST: f64 = 5.0;
/// The finest that a path is read to, mm; the scatter is never taken as less. Common practice, no source \[R7\].
const RESOLUTION: f64 = 0.05;

/// Sums of a straight-line fit in which two right-hand sides share one abscissa.
#[derive(Clone, Copy)]
struct Sums {
    count: f64,
    mean_q: f64,
    qq: f64,
    mean_m: f64,
    qm: f64,
    mm: f64,
    mean_s: f64,
    qs: f64,
}

impl Sums {
    /// `f64`: s² − q² loses the leading digits of both squares.
    fn of(paces: impl Iterator<Item = Pace> + Clone) -> Option<Self> {
        let squares = |pace: Pace| {
            let (q, s) = (f64::from(pace.from_index), f64::from(pace.path));
            (q, s, s * s - q * q)
        };
        let (mut count, mut mean_q, mut mean_m, mut mean_s) = (0.0, 0.0, 0.0, 0.0);
        for (q, s, m) in paces.clone().map(squares) {
            count += 1.0;
            mean_q += (q - mean_q) / count;
            mean_m += (m - mean_m) / count;
            mean_s += (s - mean_s) / count;
        }
        let (mut qq, mut qm, mut mm, mut qs) = (0.0, 0.0, 0.0, 0.0);
        for (q, s, m) in paces.map(squares) {
            let (q, s, m) = (q - mean_q, s - mean_s, m - mean_m);
            (qq, qm, mm, qs) = (qq + q * q, qm + q * m, mm + m * m, qs + q * s);
        }
        (count >= LEAST && qq > 0.0).then_some(Self { count, mean_q, qq, mean_m, qm, mm, mean_s, qs })
    }
}

/// Fits a fixed point to a walk; none of fewer than five steps, or where no depth fits.
///
/// ```
/// use halfskip::part::locate::Budget;
/// use halfskip::character::{Pace, walk};
/// use halfskip::part::side::Side;
/// // A point 10 mm deep, 2 mm beyond the centreline.
/// let paces = [6.0f32, 7.0, 8.0, 9.0, 10.0, 11.0].map(|q| Pace {
///     from_index: q,
///     path: halfskip::math::sqrt((q + 2.0) * (q + 2.0) + 100.0).unwrap(),
/// });
/// let found = walk(paces.into_iter(), Side::A, 0.8, &Budget::default()).unwrap();
/// assert!((found.depth - 10.0).abs() < 1e-3 && (found.y - 2.0).abs() < 1e-3);
/// assert!(walk(paces.into_iter().take(3), Side::A, 0.8, &Budget::default()).is_none());
/// ```
#[must_use]
pub fn walk(
    paces: impl Iterator<Item = Pace> + Clone,
    side: Side,
    wavelength: f32,
    budget: &Budget,
) -> Option<Walk> {
    let Sums { count, mean_q, qq, mean_m, qm, mm, mean_s, qs } = Sums::of(paces)?;
    // b = Σ(q − q̄)(m − m̄) / Σ(q − q̄)², a = m̄ − b q̄, with m = s² − q²
    let b = qm / qq;
    let a = mean_m - b * mean_q;
    // y = g b / 2, D = √(a − y²)
    let half = b / 2.0;
    let depth = math::sqrt_f64(a - half * half).filter(|depth| *depth > 0.0)?;
    // σ_m² = residual / (n − 2), not below what the resolution of the path makes of it
    let own = 2.0 * mean_s * RESOLUTION;
    let (least, residual) = (own * own, (mm - b * qm) / (count - 2.0));
    let variance = if residual > least { residual } else { least };
    // ∂D/∂a = 1 / 2D, ∂D/∂b = −b / 4D; a and b are correlated through q̄
    let by_mean = 1.0 / (2.0 * depth);
    let by_slope = -mean_q / (2.0 * depth) - b / (4.0 * depth);
    let scatter = variance * (by_mean * by_mean / count + by_slope * by_slope / qq);
    // An error δ common to all paths: ∂m/∂δ = 2 s.
    let shared = by_mean * 2.0 * mean_s + by_slope * 2.0 * qs / qq;
    let offset = shared * f64::from(budget.path.get());
    let velocity = depth * f64::from(budget.velocity);
    let element = 0.25 * f64::from(wavelength);
    let sum = scatter + (offset * offset + velocity * velocity) / 3.0 + element * element;
    // ∂y/∂b = 1/2, and ∂b/∂δ = 2 Σ(q − q̄)(s − s̄) / Σ(q − q̄)²
    let shift = qs / qq * f64::from(budget.path.get());
    let across = variance / (4.0 * qq) + shift * shift / 3.0 + element * element;
    Some(Walk {
        y: side.sign() * half as f32,
        u_y: math::sqrt_f64(4.0 * across)? as f32,
        depth: depth as f32,
        u_depth: math::sqrt_f64(4.0 * sum)? as f32,
        steps: count as u32,
        slope: (qs / qq) as f32,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paces(y: f32, depth: f32, shortened: f32) -> impl Iterator<Item = Pace> + Clone {
        (0..9u8).map(move |step| {
            let q = 12.0 + f32::from(step);
            let path = math::sqrt((q + y) * (q + y) + depth * depth).unwrap() - shortened;
            Pace { from_index: q, path }
        })
    }

    #[test]
    fn the_sides_mirror_each_other() {
        let budget = Budget::default();
        let [a, b] = [Side::A, Side::B].map(|side| walk(paces(1.5, 16.0, 0.0), side, 0.8, &budget).unwrap());
        assert!((a.y - 1.5).abs() < 1e-3 && a.y == -b.y && a.depth == b.depth);
    }

    #[test]
    fn a_path_error_common_to_all_is_within_the_uncertainty() {
        let seen = walk(paces(0.0, 16.0, 0.5), Side::A, 0.8, &Budget::default()).unwrap();
        assert!((seen.depth - 16.0).abs() < seen.u_depth, "{seen:?}");
    }

    #[test]
    fn an_echo_that_does_not_walk_like_a_point_fits_none() {
        // The path grows by more than the probe moves: no ray from a fixed point does that.
        let racing = (0..6u8).map(|step| {
            let step = f32::from(step);
            Pace { from_index: 20.0 + step, path: 24.0 + 2.0 * step }
        });
        assert_eq!(walk(racing, Side::A, 0.8, &Budget::default()), None);
    }

    #[test]
    fn a_point_in_the_surface_and_steps_at_one_place_give_no_depth() {
        let at = |q: f32, path: f32| Pace { from_index: q, path };
        // s = q + 2: y 2 mm, and no depth to the last bit.
        let along = [1.0, 2.0, 3.0, 4.0, 5.0].map(|q| at(q, q + 2.0));
        assert_eq!(walk(along.into_iter(), Side::A, 0.8, &Budget::default()), None);
        // The same seen from both sides of it, the farthest step first.
        let across = [-12.0f32, 2.0, 4.0, 6.0, 5.0].map(|q| at(q, (q + 2.0).abs()));
        assert_eq!(walk(across.into_iter(), Side::A, 0.8, &Budget::default()), None);
        let still = [30.0, 30.5, 31.0, 30.0, 30.5].map(|path| at(20.0, path));
        assert!(Sums::of(still.into_iter()).is_none());
    }

    #[test]
    fn sums_are_those_of_what_lies_off_the_means() {
        // q 1 to 5 and s 2 q: m = 3 q², their mean 33; those off the means are −30, −21, −6, 15, 42.
        let paces = [1.0, 2.0, 3.0, 4.0, 5.0].map(|q| Pace { from_index: q, path: 2.0 * q });
        let Sums { count, mean_q, qq, mean_m, qm, mm, mean_s, qs } = Sums::of(paces.into_iter()).unwrap();
        let found = [count, mean_q, qq, mean_m, qm, mm, mean_s, qs];
        for (found, expected) in found.into_iter().zip([5.0, 3.0, 10.0, 33.0, 180.0, 3366.0, 6.0, 20.0]) {
            assert!((found - expected).abs() < 1e-9, "{found} {expected}");
        }
    }

    /// The parts of U that small changes of the paths make, one by one and all alike, and those of velocity and element.
    fn by_changes(y: f32, depth: f32, wavelength: f32, budget: &Budget) -> (f32, f32) {
        let step = 0.02f32;
        let changed = |at: Option<usize>, by: f32| {
            let moved = paces(y, depth, 0.0).enumerate().map(move |(place, pace)| {
                let by = if at.is_none_or(|at| at == place) { by } else { 0.0 };
                Pace { path: pace.path + by, ..pace }
            });
            let found = walk(moved, Side::A, wavelength, budget).unwrap();
            (found.y, found.depth)
        };
        let slope = |at| {
            let (up, down) = (changed(at, step), changed(at, -step));
            ((up.0 - down.0) / (2.0 * step), (up.1 - down.1) / (2.0 * step))
        };
        let mean = paces(y, depth, 0.0).map(|pace| pace.path).sum::<f32>() / 9.0;
        let (of_y, of_depth) = slope(None);
        let offset = budget.path.get();
        let (element, velocity) = (0.25 * wavelength, depth * budget.velocity);
        let mut across = of_y * of_y * offset * offset / 3.0 + element * element;
        let mut down =
            (of_depth * of_depth * offset * offset + velocity * velocity) / 3.0 + element * element;
        for (place, pace) in paces(y, depth, 0.0).enumerate() {
            // The scatter is one of s², of 2 s̄ times the resolution, at every step.
            let (of_y, of_depth) = slope(Some(place));
            let own = RESOLUTION as f32 * mean / pace.path;
            across += of_y * of_y * own * own;
            down += of_depth * of_depth * own * own;
        }
        (2.0 * math::sqrt(across).unwrap(), 2.0 * math::sqrt(down).unwrap())
    }

    #[test]
    fn a_walk_is_as_uncertain_as_changes_of_its_paths_make_it() {
        let budget = Budget { velocity: 0.01, ..Budget::default() };
        for (y, depth, wavelength) in [(1.5, 16.0, 0.8), (-4.0, 9.0, 0.2), (0.0, 30.0, 1.5)] {
            let found = walk(paces(y, depth, 0.0), Side::A, wavelength, &budget).unwrap();
            let (u_y, u_depth) = by_changes(y, depth, wavelength, &budget);
            assert!((found.u_y / u_y - 1.0).abs() < 0.02, "{found:?} {u_y}");
            assert!((found.u_depth / u_depth - 1.0).abs() < 0.02, "{found:?} {u_depth}");
        }
    }
}
