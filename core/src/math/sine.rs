//! Sine and cosine of an angle in degrees: the quarter turns come off in degrees, where that loses nothing, so that one
//! short series serves any angle and a right angle has a cosine of exactly 0.
//!
//! Measured on the boards, it takes 3 KB of flash where `sincos` of `libm`, which reduces any angle in radians, takes 8,
//! for up to a tenth more instructions.
//!
//! With n the whole number nearest to a / 90°, x + l = (a − 90° n) π / 180°, |x| ≤ π / 4, l what does not go into x, and
//! z = x²:
//!
//! `sin (x + l) = x + (x z S(z) + l)`, `cos (x + l) = 1 − z / 2 + (z² C(z) − x l)`
//!
//! and n quarter turns swap the two and turn their signs. S and C are the Chebyshev polynomials over 0 ≤ z ≤ π² / 16:
//! off by 2^-55 of the sine and 2^-59 of the cosine. Of an angle in `f32` either result is within one of its last place,
//! and the halves, sin 30° and cos 60°, are exact; the tests measure it.

/// π / 180 in two parts, the first with 29 digits: 24 digits of an angle times these are exact.
const DEGREE: (f64, f64) = (0.017_453_292_501_159_012, 1.878_428_345_157_943_8e-11);

const S: [f64; 6] = [
    -0.166_666_666_666_666_66,
    0.008_333_333_333_330_948,
    -0.000_198_412_698_367_585_74,
    2.755_731_610_255_148e-6,
    -2.505_113_184_480_5e-8,
    1.591_812_928_060_727_3e-10,
];
const C: [f64; 6] = [
    0.041_666_666_666_666_664,
    -0.001_388_888_888_888_739_8,
    2.480_158_729_876_568_6e-5,
    -2.755_731_727_172_919_5e-7,
    2.087_614_626_827_894_4e-9,
    -1.138_263_241_660_121_9e-11,
];

/// Angles beyond have no sine: no quantity and no path comes near.
const LARGEST: f64 = 1e9;
/// 1.5 · 2^52: a number added to it is rounded to a whole one, which its last digits then are.
const WHOLE: f64 = 6_755_399_441_055_744.0;

/// Sine and cosine; both NaN beyond a thousand million degrees.
#[inline(never)]
pub(super) fn sin_cos(degrees: f64) -> (f64, f64) {
    // A NaN is not below either.
    let degrees = if degrees.abs() < LARGEST { degrees } else { f64::NAN };
    let shifted = degrees * (1.0 / 90.0) + WHOLE;
    // a − 90° n is exact: both are multiples of the last place of a, and what is left is smaller than a.
    let rest = degrees - 90.0 * (shifted - WHOLE);
    let (most, least) = (rest * DEGREE.0, rest * DEGREE.1);
    let x = most + least;
    let l = (most - x) + least;
    let z = x * x;
    let sin = x + (x * z * polynomial(z, &S) + l);
    let (half, more) = (0.5 * z, z * z * polynomial(z, &C) - x * l);
    // 1 − z / 2 is short of what its rounding left.
    let most = 1.0 - half;
    let cos = most + (((1.0 - most) - half) + more);
    // 0 − sin has no negative zero.
    match shifted.to_bits() & 3 {
        0 => (sin, cos),
        1 => (cos, 0.0 - sin),
        2 => (0.0 - sin, 0.0 - cos),
        _ => (0.0 - cos, sin),
    }
}

/// The polynomial of z with these coefficients, the constant one first.
#[inline(never)]
fn polynomial(z: f64, coefficients: &[f64]) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * z + coefficient)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Angles of all sizes, of either sign.
    fn angles() -> impl Iterator<Item = f64> {
        let sizes = (1f32.to_bits() >> 1..1e6f32.to_bits()).step_by(10_007).map(f32::from_bits);
        sizes.flat_map(|size| [f64::from(size), -f64::from(size)])
    }

    #[test]
    fn quarter_turns_are_exact_and_have_no_negative_zero() {
        for turns in -1_000..1_000i32 {
            let exact = match turns.rem_euclid(4) {
                0 => (0.0, 1.0),
                1 => (1.0, 0.0),
                2 => (0.0, -1.0),
                _ => (-1.0, 0.0),
            };
            let (sin, cos) = sin_cos(90.0 * f64::from(turns));
            assert_eq!((sin.to_bits(), cos.to_bits()), (f64::to_bits(exact.0), f64::to_bits(exact.1)));
        }
    }

    #[test]
    fn the_halves_are_exact() {
        for turns in -10..10 {
            let turned = |angle: f64| sin_cos(angle + 360.0 * f64::from(turns));
            assert_eq!((turned(30.0).0, turned(60.0).1), (0.5, 0.5));
            assert_eq!((turned(210.0).0, turned(120.0).1), (-0.5, -0.5));
        }
    }

    #[test]
    fn turning_and_mirroring_change_no_digit() {
        for angle in angles() {
            let (sin, cos) = sin_cos(angle);
            assert_eq!(sin_cos(-angle), (-sin, cos), "{angle}");
            // Only where the sum is exact.
            if (angle + 90.0) - 90.0 == angle && angle + 90.0 - angle == 90.0 {
                assert_eq!(sin_cos(angle + 90.0), (cos, -sin), "{angle}");
            }
        }
    }

    #[test]
    fn sine_and_cosine_are_those_of_the_angle_in_radians() {
        for angle in angles().filter(|angle| angle.abs() < 360.0) {
            let (sin, cos) = sin_cos(angle);
            // The angle in radians is itself off by its last place.
            let (exact, off) = (angle.to_radians(), 2.3e-16 * (1.0 + angle.abs() / 57.0));
            assert!((sin - exact.sin()).abs() <= off && (cos - exact.cos()).abs() <= off, "{angle}");
        }
    }

    #[test]
    fn what_is_out_of_range_has_none() {
        for angle in [1e9, -1e9, 1e300, f64::INFINITY, f64::NEG_INFINITY, f64::NAN] {
            let (sin, cos) = sin_cos(angle);
            assert!(sin.is_nan() && cos.is_nan(), "{angle}");
        }
    }

    /// Derived: worked out with 60 digits and rounded once.
    #[test]
    fn these_cosines_are_the_nearest_numbers() {
        for (angle, cosine) in [
            (24.75, 0.908_143_173_825_081_3),
            (30.5, 0.861_629_160_441_525_7),
            (40.0, 0.766_044_443_118_978),
            (40.75, 0.757_564_984_384_049_6),
        ] {
            assert_eq!(sin_cos(angle).1, cosine, "{angle}");
        }
    }
}
