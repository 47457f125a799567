//! Far-field laws: how echoes of simple reflectors compare, and how they fall with distance.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | s | sound path | mm |
//! | λ | wavelength | mm |
//! | d | diameter: of a disc facing the beam, or of a side-drilled hole (a long cylinder across it) | mm |
//!
//! At equal path, echo heights compare as
//!
//! - disc to large back wall: `π d² / (2 λ s)`
//! - long cylinder to large back wall: `√(d / (2 s))`, stated for s much larger than d
//! - so a side-drilled hole equals a disc of `√(√2 / π) · √(λ √(d s)) ≈ 0.67 √(λ √(d s))`
//!
//! and with distance they fall as 1/s (wall), 1/s^1.5 (cylinder) and 1/s² (disc), attenuation apart. The laws are
//! those of distance-gain-size practice, cited from memory of ISO 16811 \[R2\]; the equal disc follows from the first
//! two. They hold beyond about three near-field lengths of the probe, which is the caller's to know; a path so
//! short that the reflector would return more than a wall is refused.

use core::fmt;

use crate::math;
use crate::physics::decibels::{DecibelsError, decibels_to_ratio, ratio_to_decibels};
use crate::units::decimal::fixed;
use crate::units::error::{Range, RangeError, comes_from};
use crate::units::limits::PATH;
use crate::units::{Decibels, Millimetres};

/// Diameters and wavelengths the laws are asked about.
const SIZE: Range = Range { quantity: "diameter", unit: "mm", min: 0.001, max: 1_000.0 };
const WAVELENGTH: Range = Range { quantity: "wavelength", ..SIZE };

/// Why a law does not apply.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum LawError {
    /// At so short a path the reflector would return as much as a wall, or more.
    TooNear {
        /// The path asked for.
        path: Millimetres,
        /// The path where the law reaches the wall's echo, mm.
        wall: f32,
    },
    /// A path, a size or a result outside its range.
    Range(RangeError),
}

impl fmt::Display for LawError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooNear { path, wall } => write!(
                f,
                "path {} mm is too short for a far-field law: at {} mm the reflector would equal a wall",
                fixed(path.get()),
                fixed(*wall)
            ),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(LawError: Range(RangeError));

/// The shapes whose fall with distance is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub enum Reflector {
    /// A wall larger than the beam, or a through-transmission shot: 1/s, 6 dB per doubling.
    BackWall,
    /// A long cylinder across the beam, such as a side-drilled hole: 1/s^1.5, 9 dB per doubling.
    SideDrilledHole,
    /// A disc facing the beam, smaller than it: 1/s², 12 dB per doubling.
    Disc,
}

impl Reflector {
    /// How far the echo falls from one path to another by spreading alone, `n · 20 log10(s2 / s1)`; negative towards
    /// the probe.
    ///
    /// ```
    /// use halfskip::physics::far_field::Reflector;
    /// use halfskip::units::Millimetres;
    /// let [near, far] = [30.0, 300.0].map(|path| Millimetres::new(path).unwrap());
    /// assert_eq!(Reflector::BackWall.fall(near, far).unwrap().get(), 20.0);
    /// assert_eq!(Reflector::SideDrilledHole.fall(near, far).unwrap().get(), 30.0);
    /// assert_eq!(Reflector::Disc.fall(near, far).unwrap().get(), 40.0);
    /// assert!(Reflector::Disc.fall(Millimetres::new(0.0).unwrap(), far).is_err());
    /// ```
    ///
    /// # Errors
    /// [`LawError::Range`] for a path outside [`PATH`].
    pub fn fall(self, from: Millimetres, to: Millimetres) -> Result<Decibels, LawError> {
        let power = match self {
            Self::BackWall => 1.0,
            Self::SideDrilledHole => 1.5,
            Self::Disc => 2.0,
        };
        // fall = n · 20 log10(s2 / s1)
        let once = decibels(PATH.check(to.get())? / PATH.check(from.get())?)?;
        Ok(Decibels::new(power * once.get())?)
    }
}

/// A disc's echo over that of a large back wall at the same path, `20 log10(π d² / (2 λ s))`: negative.
///
/// # Errors
/// [`LawError::TooNear`] where the disc would return more than the wall, [`LawError::Range`].
pub fn disc_to_back_wall(
    diameter: Millimetres,
    wavelength: Millimetres,
    path: Millimetres,
) -> Result<Decibels, LawError> {
    let (d, s) = (SIZE.check(diameter.get())?, PATH.check(path.get())?);
    let lambda = WAVELENGTH.check(wavelength.get())?;
    let wall = core::f32::consts::FRAC_PI_2 * d * d / lambda;
    if s < wall {
        return Err(LawError::TooNear { path, wall });
    }
    // 20 log10(π d² / (2 λ s))
    decibels(wall / s)
}

/// A side-drilled hole's echo over that of a large back wall at the same path, `20 log10(√(d / (2 s)))`: negative.
///
/// # Errors
/// [`LawError::TooNear`] for a path not longer than the hole is wide, [`LawError::Range`].
pub fn hole_to_back_wall(diameter: Millimetres, path: Millimetres) -> Result<Decibels, LawError> {
    let (d, s) = far_from_hole(diameter, path)?;
    // 20 log10(√(d / (2 s))) = 10 log10(d / (2 s))
    let twice = decibels(d / (2.0 * s))?;
    Ok(Decibels::new(twice.get() / 2.0)?)
}

/// The diameter of the disc that echoes like a side-drilled hole at the same path, `√(√2 / π) · √(λ √(d s))`.
///
/// ```
/// use halfskip::physics::far_field::{disc_to_back_wall, equal_disc, hole_to_back_wall};
/// use halfskip::units::Millimetres;
/// let [hole, wavelength, path] = [3.0, 0.8, 100.0].map(|mm| Millimetres::new(mm).unwrap());
/// let disc = equal_disc(hole, wavelength, path).unwrap();
/// let by_disc = disc_to_back_wall(disc, wavelength, path).unwrap().get();
/// let by_hole = hole_to_back_wall(hole, path).unwrap().get();
/// assert!((by_disc - by_hole).abs() < 1e-4);
/// assert!(equal_disc(hole, wavelength, hole).is_err());
/// ```
///
/// # Errors
/// [`LawError::TooNear`] for a path not longer than the hole is wide, [`LawError::Range`].
pub fn equal_disc(
    hole: Millimetres,
    wavelength: Millimetres,
    path: Millimetres,
) -> Result<Millimetres, LawError> {
    let (d, s) = far_from_hole(hole, path)?;
    let lambda = WAVELENGTH.check(wavelength.get())?;
    // D² = (√2 / π) λ √(d s)
    let square = core::f32::consts::SQRT_2 / core::f32::consts::PI * lambda * root(d * s);
    Ok(Millimetres::new(root(square))?)
}

/// The diameter of the disc that echoes `difference` dB above a known disc at another path,
/// `d0 (s / s0) 10^(difference / 40)`, both in the far field and attenuation apart.
///
/// ```
/// use halfskip::physics::far_field::equivalent_disc;
/// use halfskip::units::{Decibels, Millimetres};
/// let [known, at, there] = [2.0, 200.0, 100.0].map(|mm| Millimetres::new(mm).unwrap());
/// // Half the path and 20 dB more: half the diameter times the square root of ten.
/// let found = equivalent_disc(known, at, there, Decibels::new(20.0).unwrap()).unwrap();
/// assert!((found.get() - 3.162_277_7).abs() < 1e-5);
/// assert!(equivalent_disc(known, at, there, Decibels::new(300.0).unwrap()).is_err());
/// ```
///
/// # Errors
/// [`LawError::Range`] for a path or size outside its range, the result among them.
pub fn equivalent_disc(
    known: Millimetres,
    known_path: Millimetres,
    path: Millimetres,
    difference: Decibels,
) -> Result<Millimetres, LawError> {
    let ratio = PATH.check(path.get())? / PATH.check(known_path.get())?;
    let half = Decibels::new(difference.get() / 2.0)?;
    // d = d0 (s / s0) 10^(Δ / 40)
    let diameter = SIZE.check(known.get())? * ratio * decibels_to_ratio(half);
    Ok(Millimetres::new(SIZE.check(diameter)?)?)
}

fn far_from_hole(diameter: Millimetres, path: Millimetres) -> Result<(f32, f32), LawError> {
    let (d, s) = (SIZE.check(diameter.get())?, PATH.check(path.get())?);
    if s <= d {
        return Err(LawError::TooNear { path, wall: d / 2.0 });
    }
    Ok((d, s))
}

/// A ratio of checked positive numbers has a level; the error is there so that nothing can panic.
fn decibels(ratio: f32) -> Result<Decibels, LawError> {
    ratio_to_decibels(ratio).map_err(|error| match error {
        DecibelsError::Range(error) => LawError::Range(error),
        _ => LawError::Range(RangeError {
            quantity: "ratio of echoes",
            unit: "",
            value: ratio,
            min: 0.0,
            max: f32::MAX,
        }),
    })
}

/// The root of a product of checked positive numbers.
fn root(square: f32) -> f32 {
    math::sqrt(square).unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: f32) -> Millimetres {
        Millimetres::constant(length)
    }

    #[test]
    fn falls_add_up_and_turn_round() {
        for reflector in [Reflector::BackWall, Reflector::SideDrilledHole, Reflector::Disc] {
            let fall = |from, to| reflector.fall(mm(from), mm(to)).unwrap().get();
            assert!((fall(20.0, 50.0) + fall(50.0, 130.0) - fall(20.0, 130.0)).abs() < 1e-5);
            assert!((fall(20.0, 50.0) + fall(50.0, 20.0)).abs() < 1e-5);
        }
    }

    #[test]
    fn ratios_to_the_wall_fall_as_the_laws_of_distance_say() {
        let [near, far] = [50.0, 200.0].map(mm);
        let wall = Reflector::BackWall.fall(near, far).unwrap().get();
        let disc = |path| disc_to_back_wall(mm(2.0), mm(0.8), path).unwrap().get();
        let by_disc = Reflector::Disc.fall(near, far).unwrap().get();
        assert!((disc(near) - disc(far) + wall - by_disc).abs() < 1e-4);
        let hole = |path| hole_to_back_wall(mm(3.0), path).unwrap().get();
        let by_hole = Reflector::SideDrilledHole.fall(near, far).unwrap().get();
        assert!((hole(near) - hole(far) + wall - by_hole).abs() < 1e-4);
    }

    #[test]
    fn no_reflector_returns_more_than_a_wall() {
        // π · 10² / (2 · 0.8) = 196 mm.
        let near = disc_to_back_wall(mm(10.0), mm(0.8), mm(190.0));
        assert!(matches!(near, Err(LawError::TooNear { .. })));
        assert!(disc_to_back_wall(mm(10.0), mm(0.8), mm(200.0)).unwrap().get() < 0.0);
        let near = hole_to_back_wall(mm(3.0), mm(3.0));
        assert!(matches!(near, Err(LawError::TooNear { .. })));
    }

    #[test]
    fn a_disc_is_equivalent_to_itself() {
        let same = equivalent_disc(mm(3.0), mm(80.0), mm(80.0), Decibels::constant(0.0));
        assert_eq!(same, Ok(mm(3.0)));
    }

    #[test]
    fn a_disc_as_large_as_a_wall_returns_as_much() {
        // π · 4² / (2 · 2)
        let as_far = mm(core::f32::consts::FRAC_PI_2 * 4.0 * 4.0 / 2.0);
        assert_eq!(disc_to_back_wall(mm(4.0), mm(2.0), as_far), Ok(Decibels::constant(0.0)));
        let error = decibels(1e30).unwrap_err();
        assert!(matches!(error, LawError::Range(error) if error.value == 600.0), "{error:?}");
    }
}
