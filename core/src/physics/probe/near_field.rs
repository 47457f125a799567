//! Wavelength and near field: how far from the element the sound settles into one beam.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | f, c, λ | frequency, velocity, wavelength λ = c / f | MHz, mm/us, mm |
//! | D | diameter of a round element | mm |
//! | L | a side of a rectangular one | mm |
//! | N | near-field length, the last maximum on the axis | mm |
//! | K | shape factor of a rectangle, 0.99 to 1.37 | – |
//!
//! Formulas for the round element: \[R4\].

use super::Element;
use crate::math;
use crate::units::error::{Range, RangeError};
use crate::units::{Megahertz, Millimetres, MillimetresPerMicrosecond};

const POSITIVE: Range = Range { quantity: "dimension", unit: "mm", min: 0.001, max: 1000.0 };

/// λ = c / f.
///
/// ```
/// use halfskip::physics::probe::wavelength;
/// use halfskip::units::{Megahertz, MillimetresPerMicrosecond};
/// let shear = MillimetresPerMicrosecond::new(3.24).unwrap();
/// assert!((wavelength(shear, Megahertz::new(4.0).unwrap()).get() - 0.81).abs() < 1e-6);
/// ```
#[must_use]
pub fn wavelength(velocity: MillimetresPerMicrosecond, frequency: Megahertz) -> Millimetres {
    // 0.001 to 200 mm: the two ranges leave no quotient that a length cannot hold.
    Millimetres::new(velocity.get() / frequency.get()).unwrap_or(const { Millimetres::constant(0.0) })
}

/// Near field of a round element, N = (D² − λ²) / 4λ.
///
/// An element no wider than a wavelength has none: 0 mm.
///
/// ```
/// use halfskip::physics::probe::{near_field_round, near_field_round_short};
/// use halfskip::units::Millimetres;
/// let (diameter, wavelength) = (Millimetres::new(20.0).unwrap(), Millimetres::new(2.0).unwrap());
/// assert_eq!(near_field_round(diameter, wavelength).unwrap().get(), 49.5);
/// assert_eq!(near_field_round_short(diameter, wavelength).unwrap().get(), 50.0);
/// assert!(near_field_round(diameter, Millimetres::new(0.0).unwrap()).is_err());
/// ```
///
/// # Errors
/// [`RangeError`] when a dimension is not positive, or the result longer than a length can be.
pub fn near_field_round(diameter: Millimetres, wavelength: Millimetres) -> Result<Millimetres, RangeError> {
    let (d, lambda) = (POSITIVE.check(diameter.get())?, POSITIVE.check(wavelength.get())?);
    // N = (D² − λ²) / 4λ, as a product so that nothing cancels near D = λ
    let length = (d - lambda) * (d + lambda) / (4.0 * lambda);
    Millimetres::new(math::larger(0.0, length))
}

/// The usual short form for a round element, N = D² / 4λ = D² f / 4c; a quarter of a wavelength longer.
///
/// # Errors
/// As [`near_field_round`].
pub fn near_field_round_short(
    diameter: Millimetres,
    wavelength: Millimetres,
) -> Result<Millimetres, RangeError> {
    let (d, lambda) = (POSITIVE.check(diameter.get())?, POSITIVE.check(wavelength.get())?);
    Millimetres::new(d * d / (4.0 * lambda))
}

/// Near field of a rectangular element, N = K L² / 4λ with the longer side L.
///
/// K is 1.367 for a square, 1.014 at sides 1 : 2, 0.987 for a strip. Derived here, no published source: with the Fresnel
/// integral F(w) = ∫₀ʷ exp(i π u² / 2) du the pressure on the axis at distance z is proportional to |F(w₁)| |F(w₂)|,
/// where w = (L / 2) √(2 / λz) for each side. K is 4λ / L² times the largest z at which that product has a maximum.
///
/// ```
/// use halfskip::physics::probe::near_field_rectangular;
/// use halfskip::units::Millimetres;
/// let mm = |value| Millimetres::new(value).unwrap();
/// let square = near_field_rectangular(mm(20.0), mm(20.0), mm(2.0)).unwrap();
/// assert!((square.get() - 68.4).abs() < 0.05);
/// assert_eq!(
///     near_field_rectangular(mm(8.0), mm(20.0), mm(2.0)),
///     near_field_rectangular(mm(20.0), mm(8.0), mm(2.0))
/// );
/// ```
///
/// # Errors
/// As [`near_field_round`].
pub fn near_field_rectangular(
    one_side: Millimetres,
    other_side: Millimetres,
    wavelength: Millimetres,
) -> Result<Millimetres, RangeError> {
    let (one, other) = (POSITIVE.check(one_side.get())?, POSITIVE.check(other_side.get())?);
    let lambda = POSITIVE.check(wavelength.get())?;
    let long = math::larger(one, other);
    Millimetres::new(rectangle_factor(one, other) * long * long / (4.0 * lambda))
}

/// K, straight between steps of 0.1 in short / long side, which stays within 0.004 of the root.
pub(super) fn rectangle_factor(one_side: f32, other_side: f32) -> f32 {
    let (short, long) = (math::smaller(one_side, other_side), math::larger(one_side, other_side));
    let tenths = 10.0 * short / long;
    let [mut below, ..] = FACTORS;
    for (step, &above) in FACTORS.iter().enumerate() {
        let beyond = step as f32 - tenths;
        if beyond >= 0.0 {
            return above + (below - above) * beyond;
        }
        below = above;
    }
    below
}

/// K at short / long side 0, 0.1, … 1: the roots of d/dz |F(w₁)| |F(w₂)| = 0, found with 30 digits.
const FACTORS: [f32; 11] = [
    0.987_475, 0.987_517, 0.988_148, 0.990_881, 0.998_218, 1.013_599, 1.041_266, 1.086_011, 1.152_715,
    1.245_606, 1.367_432,
];

/// What is left of the near field in the part, in each plane of the beam.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct NearField {
    /// In the plane of incidence.
    pub in_plane: Millimetres,
    /// Across it.
    pub across: Millimetres,
}

/// What is left of the near field in the part behind a wedge.
///
/// | symbol | meaning |
/// | --- | --- |
/// | q | cos(refracted) / cos(incident) |
/// | w | wedge path on the axis |
/// | r | wedge velocity / part velocity |
///
/// In the plane of incidence the element counts as D q and the wedge path as w r q²; across it as D and w r. Both follow
/// from the travel times of rays beside the axis. What the wedge has used up leaves 0, never less.
pub(super) fn near_field_left(
    element: &Element,
    wavelength: Millimetres,
    q: f32,
    wedge: f32,
) -> Result<NearField, RangeError> {
    let (in_plane, across) = (element.in_plane().get() * q, element.across().get());
    let factor = match element {
        Element::Round { .. } => 1.0,
        // Common practice, no source: the shape is that of the foreshortened element.
        Element::Rectangular { .. } => rectangle_factor(in_plane, across),
    };
    let left = |dimension: f32, used: f32| {
        // K (D q)² / 4λ − w r q²
        let left = factor * dimension * dimension / (4.0 * wavelength.get()) - used;
        Millimetres::new(math::larger(left, 0.0))
    };
    Ok(NearField { in_plane: left(in_plane, wedge * q * q)?, across: left(across, wedge)? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_element_of_one_wavelength_has_no_near_field() {
        let two = Millimetres::constant(2.0);
        assert_eq!(near_field_round(two, two).unwrap().get(), 0.0);
        let small = Millimetres::constant(1.0);
        assert_eq!(near_field_round(small, two).unwrap().get(), 0.0);
    }

    #[test]
    fn the_rectangle_factor_meets_its_table_and_its_own_definition_between() {
        assert_eq!(rectangle_factor(9.0, 9.0), 1.367_432);
        assert_eq!(rectangle_factor(5.0, 10.0), 1.013_599);
        // Roots of the same equation half way between two steps.
        for (ratio, factor) in [(0.95, 1.302_80), (0.85, 1.195_67), (0.55, 1.025_61), (0.05, 0.987_478)] {
            assert!((rectangle_factor(ratio, 1.0) - factor).abs() < 0.004);
        }
    }
}
