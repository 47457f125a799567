//! All mathematics beyond the four operations, the same bits on every target.
//!
//! Elementary functions come from `libm`, which computes them in software the same way everywhere; this is the only file
//! that names it. Of our own are the [sine and cosine of degrees](sin_cos) and the [decimal logarithm](log10), which the
//! heads of their files give the measured reasons for.
//!
//! Angles enter and leave in degrees: radians exist nowhere else. Trigonometry of a fixed set-up runs in `f64` and is
//! rounded once, because `f32` degrees turned into `f32` radians would already cost the accuracy that is promised
//! (error of a result at most 1e-6 of its largest term).

pub(crate) mod line;
mod log;
mod sine;

const DEGREE: f64 = core::f64::consts::PI / 180.0;

/// Sine and cosine of an angle in degrees, each rounded once to `f32`.
#[must_use]
pub fn sin_cos(degrees: f32) -> (f32, f32) {
    let (sin, cos) = sin_cos_f64(degrees);
    (sin as f32, cos as f32)
}

/// Sine and cosine of an angle in degrees, in `f64`, for fits and ratios that are rounded later.
#[must_use]
pub fn sin_cos_f64(degrees: f32) -> (f64, f64) {
    sine::sin_cos(f64::from(degrees))
}

/// Tangent of an angle in degrees; infinite at 90 degrees.
#[must_use]
pub fn tan(degrees: f32) -> f32 {
    let (sin, cos) = sin_cos_f64(degrees);
    (sin / cos) as f32
}

/// The angle in degrees whose sine is `sine`; `None` outside −1 to 1.
#[must_use]
pub fn asin(sine: f64) -> Option<f32> {
    (-1.0..=1.0).contains(&sine).then(|| atan2(sine, other_side(sine)))
}

/// The angle in degrees whose cosine is `cosine`; `None` outside −1 to 1.
#[must_use]
pub fn acos(cosine: f64) -> Option<f32> {
    (-1.0..=1.0).contains(&cosine).then(|| atan2(other_side(cosine), cosine))
}

/// √(1 − side²), the third side of a right triangle of hypotenuse 1.
fn other_side(side: f64) -> f64 {
    sqrt_f64((1.0 - side) * (1.0 + side)).unwrap_or(0.0)
}

/// The angle in degrees of a right triangle, `atan2(opposite, adjacent)`.
#[must_use]
pub fn atan2(opposite: f64, adjacent: f64) -> f32 {
    (libm::atan2(opposite, adjacent) / DEGREE) as f32
}

/// The arc that a radius sweeps over the angle of a right triangle, `radius · atan2(opposite, adjacent)`, in `f64`.
#[must_use]
pub fn arc(radius: f64, opposite: f64, adjacent: f64) -> f64 {
    radius * libm::atan2(opposite, adjacent)
}

/// Sine and cosine of the angle that an arc subtends at its radius, in `f64`.
#[must_use]
pub fn sin_cos_of_arc(arc: f64, radius: f64) -> (f64, f64) {
    sine::sin_cos(arc / radius / DEGREE)
}

/// One degree in radians, for derivatives with respect to an angle.
pub const RADIANS_PER_DEGREE: f32 = DEGREE as f32;

/// Square root; `None` of a negative number.
#[must_use]
pub fn sqrt(value: f32) -> Option<f32> {
    (value >= 0.0).then(|| libm::sqrtf(value))
}

/// Square root in `f64`, for fits; `None` of a negative number.
#[must_use]
pub fn sqrt_f64(value: f64) -> Option<f64> {
    (value >= 0.0).then(|| libm::sqrt(value))
}

/// Decimal logarithm; `None` unless the value is positive.
#[must_use]
pub fn log10(value: f32) -> Option<f32> {
    (value > 0.0).then(|| log::log10(value))
}

/// Ten to the power of `exponent`.
#[must_use]
pub fn exp10(exponent: f32) -> f32 {
    libm::powf(10.0, exponent)
}

/// The smallest whole number not below `value`.
#[must_use]
pub fn ceil(value: f32) -> f32 {
    libm::ceilf(value)
}

/// The largest whole number not above `value`.
#[must_use]
pub fn floor(value: f32) -> f32 {
    libm::floorf(value)
}

/// The smaller of two numbers; the first where they compare equal, so that signed zeros keep their order.
#[must_use]
pub fn smaller(first: f32, second: f32) -> f32 {
    if second < first { second } else { first }
}

/// The larger of two numbers; the first where they compare equal, so that signed zeros keep their order.
#[must_use]
pub fn larger(first: f32, second: f32) -> f32 {
    if second > first { second } else { first }
}

/// The item with the largest key; the first of those whose keys compare equal.
///
/// ```
/// let echoes = [("a", -6.0), ("b", 2.5), ("c", 2.5)];
/// let strongest = halfskip::math::largest_by(echoes.into_iter(), |(_, level)| *level);
/// assert_eq!(strongest, Some(("b", 2.5)));
/// ```
#[must_use]
pub fn largest_by<T, K: PartialOrd>(items: impl Iterator<Item = T>, key: impl Fn(&T) -> K) -> Option<T> {
    items.reduce(|held, other| if key(&other) > key(&held) { other } else { held })
}

/// The item with the smallest key; the first of those whose keys compare equal.
///
/// ```
/// let places = [("a", 3.5), ("b", 0.5), ("c", 0.5)];
/// let nearest = halfskip::math::smallest_by(places.into_iter(), |(_, off)| *off);
/// assert_eq!(nearest, Some(("b", 0.5)));
/// ```
#[must_use]
pub fn smallest_by<T, K: PartialOrd>(items: impl Iterator<Item = T>, key: impl Fn(&T) -> K) -> Option<T> {
    items.reduce(|held, other| if key(&other) < key(&held) { other } else { held })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_items_with_equal_keys_the_first_is_kept() {
        let items = || [(0, 1.0), (1, 3.0), (2, -2.0), (3, 3.0), (4, -2.0), (5, 0.0)].into_iter();
        assert_eq!(largest_by(items(), |item| item.1), Some((1, 3.0)));
        assert_eq!(smallest_by(items(), |item| item.1), Some((2, -2.0)));
        // Signed zeros compare equal too.
        assert_eq!(
            largest_by([-0.0f32, 0.0].into_iter(), |item| *item).map(f32::to_bits),
            Some((-0.0f32).to_bits())
        );
        assert_eq!(smallest_by([0.0f32, -0.0].into_iter(), |item| *item).map(f32::to_bits), Some(0));
        assert_eq!(
            (largest_by([].into_iter(), |item: &f32| *item), smallest_by([].into_iter(), |item: &f32| *item)),
            (None, None)
        );
    }

    #[test]
    fn sine_of_thirty_degrees_is_one_half() {
        assert_eq!(sin_cos(30.0).0, 0.5);
        assert_eq!(sin_cos(60.0).1, 0.5);
    }

    #[test]
    fn nothing_is_computed_where_nothing_exists() {
        assert_eq!(asin(1.000_001), None);
        assert_eq!(sqrt(-1e-30), None);
        assert_eq!(log10(0.0), None);
        assert_eq!(sqrt(f32::NAN), None);
    }
}
