//! How strong a corner echo is at one beam angle beside another: what tells a corner from a rounded root.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | b | angle of incidence of a shear wave at a free surface, from its normal | deg |
//! | k | longitudinal over shear velocity | – |
//! | p | angle of the longitudinal wave made there, sin p = k sin b | deg |
//! | R | part of the shear wave's amplitude that is reflected as a shear wave | – |
//!
//! R = (sin 2b sin 2p − k² cos² 2b) / (sin 2b sin 2p + k² cos² 2b), and |R| = 1 where sin p > 1: elasticity of a plane
//! wave at a free surface \[R14\].
//!
//! A beam of refracted angle a meets a horizontal face at a and an upright one at 90 − a. In steel the first reflects
//! all of it for every usual probe; the second all of it at 45 degrees, next to nothing near 60, half at 70.

use crate::math;

/// |R| of a shear wave at a free surface.
///
/// ```
/// use halfskip::character::shear_reflected;
/// // Steel, 5.92 and 3.255 mm/us: all at 45 degrees, a tenth at 30.
/// let steel = 5.92 / 3.255;
/// assert_eq!(shear_reflected(45.0, steel), 1.0);
/// assert!((shear_reflected(30.0, steel) - 0.12).abs() < 0.01);
/// ```
#[must_use]
pub fn shear_reflected(incidence: f32, velocity_ratio: f32) -> f32 {
    let (sin_b, cos_b) = math::sin_cos(incidence);
    let sin_p = velocity_ratio * sin_b;
    let Some(cos_p) = math::sqrt(1.0 - sin_p * sin_p) else { return 1.0 };
    // sin 2b sin 2p, k² cos² 2b
    let converted = 4.0 * sin_b * cos_b * sin_p * cos_p;
    let cos_2b = cos_b * cos_b - sin_b * sin_b;
    let kept = velocity_ratio * velocity_ratio * cos_2b * cos_2b;
    ((converted - kept) / (converted + kept)).abs()
}

/// Steps of the beam that a corner's strength is averaged over, deg off the axis; the echo there is 6 dB down at 6
/// degrees. Common practice, no source \[R7\].
const RAYS: [f32; 9] = [-8.0, -6.0, -4.0, -2.0, 0.0, 2.0, 4.0, 6.0, 8.0];

/// Strength of a corner echo of a beam at `angle`, dB under one that is reflected whole.
///
/// The mean of |R| over the beam at an upright face: `Σ w |R(90 − a − d)| / Σ w`.
#[must_use]
pub fn corner_strength(angle: f32, velocity_ratio: f32) -> f32 {
    let (mut sum, mut weights) = (0.0f32, 0.0f32);
    for off in RAYS {
        let incidence = 90.0 - angle - off;
        if incidence <= 0.0 {
            continue;
        }
        let weight = math::exp10(-6.0 * off * off / (36.0 * 20.0));
        sum += weight * shear_reflected(incidence, velocity_ratio);
        weights += weight;
    }
    math::log10(sum / weights).map_or(0.0, |decades| 20.0 * decades)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Derived: both stresses of the three waves vanish at the surface; Cramer's rule on the two equations.
    #[test]
    fn the_coefficient_solves_the_boundary_conditions() {
        let k = 1.82f32;
        for b in [5.0f32, 15.0, 25.0, 32.0] {
            let (sin_b, cos_b) = math::sin_cos(b);
            let sin_p = k * sin_b;
            let cos_p = math::sqrt(1.0 - sin_p * sin_p).unwrap();
            let (sin_2b, cos_2b) = (2.0 * sin_b * cos_b, 1.0 - 2.0 * sin_b * sin_b);
            // Amplitudes S (reflected shear) and P of displacement, incident shear 1:
            // normal:     k cos 2b P − sin 2b S = −sin 2b … tangential: 2 sin b cos p P + cos 2b S = cos 2b, per wave number.
            let (a11, a12, r1) = (k * cos_2b, -sin_2b, sin_2b);
            let (a21, a22, r2) = (2.0 * sin_b * cos_p, cos_2b, cos_2b);
            let s = (a11 * r2 - a21 * r1) / (a11 * a22 - a12 * a21);
            assert!((s.abs() - shear_reflected(b, k)).abs() < 1e-3, "{b}: {s}");
        }
    }

    #[test]
    fn a_corner_at_45_degrees_is_reflected_whole() {
        // Every ray of the beam meets both faces past 33 degrees, where no longitudinal wave is made.
        assert!(corner_strength(45.0, 1.82).abs() < 1e-5);
    }

    #[test]
    fn a_corner_is_weak_near_60_degrees_and_comes_back_at_70() {
        let [at_45, at_60, at_70] = [45.0, 60.0, 70.0].map(|angle| corner_strength(angle, 1.82));
        assert!(at_60 < at_45 - 5.0 && at_70 > at_60 && at_70 < at_45, "{at_45} {at_60} {at_70}");
    }
}
