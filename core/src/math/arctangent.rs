//! The arctangent of a ratio, and with it the other inverse functions.
//!
//! With q the smaller of two sides over the larger, t = q, or (q − 1) / (q + 1) = tan(a − 45°) where q > tan 22.5°, and
//! z = t², |t| ≤ tan 22.5°:
//!
//! `arctan t = t + t z A(z)`
//!
//! A is the Chebyshev polynomial over 0 ≤ z ≤ tan² 22.5°: off by 2^-56 of the arctangent. The result is within 2 of its
//! last place; the tests measure it.

use core::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

use super::polynomial;

const A: [f64; 11] = [
    -0.333_333_333_333_333_3,
    0.199_999_999_999_955_2,
    -0.142_857_142_846_665_42,
    0.111_111_110_152_562_8,
    -0.090_909_045_781_206_73,
    0.076_921_831_907_528_24,
    -0.066_645_114_463_669_14,
    0.058_581_489_040_924_695,
    -0.050_854_496_927_941_18,
    0.039_231_657_001_184_27,
    -0.019_176_885_543_608_236,
];
const TAN_22_5: f64 = 0.414_213_562_373_095_05;

/// The angle of a right triangle in radians, −π to π; 0 or π, as the signs say, where both sides are 0; NaN where both are infinite or
/// one is not a number.
#[inline(never)]
pub(super) fn atan2(opposite: f64, adjacent: f64) -> f64 {
    let (up, along) = (opposite.abs(), adjacent.abs());
    let steep = up > along;
    let (low, high) = if steep { (along, up) } else { (up, along) };
    let q = if low == 0.0 && high == 0.0 { 0.0 } else { low / high };
    let (t, from) = if q > TAN_22_5 { ((q - 1.0) / (q + 1.0), FRAC_PI_4) } else { (q, 0.0) };
    let z = t * t;
    let angle = from + (t + t * z * polynomial(z, &A));
    let angle = if steep { FRAC_PI_2 - angle } else { angle };
    let angle = if adjacent.is_sign_negative() { PI - angle } else { angle };
    if opposite.is_sign_negative() { -angle } else { angle }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_whole_circle_is_within_two_of_its_last_place() {
        let sizes = || (1..f64::INFINITY.to_bits()).step_by(0x1d_3456_789a_bcde).map(f64::from_bits);
        let ratios = (0.001f64.to_bits()..1000f64.to_bits()).step_by(0x12_3456_789a).map(f64::from_bits);
        let pairs = sizes().flat_map(|up| sizes().step_by(7).map(move |along| (up, along)));
        for (up, along) in pairs.chain(ratios.map(|ratio| (ratio, 1.0))) {
            for (opposite, adjacent) in [(up, along), (-up, along), (up, -along), (-up, -along)] {
                let (got, exact) = (atan2(opposite, adjacent), opposite.atan2(adjacent));
                let place = exact.abs().next_up() - exact.abs();
                // The platform's own may be off by one.
                assert!((got - exact).abs() <= 3.0 * place, "{opposite:e} {adjacent:e}: {got} {exact}");
            }
        }
    }

    #[test]
    fn axes_and_diagonals_are_exact() {
        let infinite = f64::INFINITY;
        for (opposite, adjacent, angle) in [
            (0.0, 1.0, 0.0),
            (1.0, 1.0, FRAC_PI_4),
            (TAN_22_5, 1.0, core::f64::consts::FRAC_PI_8),
            (1.0, 0.0, FRAC_PI_2),
            (-1.0, 0.0, -FRAC_PI_2),
            (0.0, -1.0, PI),
            (0.0, 0.0, 0.0),
            (infinite, 1.0, FRAC_PI_2),
            (1.0, -infinite, PI),
        ] {
            assert_eq!(atan2(opposite, adjacent), angle);
        }
        assert!(atan2(infinite, infinite).is_nan() && atan2(f64::NAN, 1.0).is_nan());
        assert!(
            atan2(1.0, f64::NAN).is_nan() && atan2(f64::NAN, 0.0).is_nan() && atan2(0.0, f64::NAN).is_nan()
        );
    }
}
