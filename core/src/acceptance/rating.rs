//! The weighted rating of an indication, in decibels: d = a − b − c. Lower is stronger, so lower is worse.
//!
//! | identifier | symbol | unit | meaning |
//! | --- | --- | --- | --- |
//! | `a` | a | dB | gain that brings the indication to the reference height |
//! | `b` | b | dB | gain that brings the reference reflector to the reference height |
//! | `c` | c | dB | attenuation factor of the sound path |
//! | `d` | d | dB | the rating |
//! | `per` | k | dB/in or dB/mm | attenuation a unit of path |
//! | `beyond` | s₀ | in or mm | path that is free of it |
//!
//! c = k (s − s₀), in the unit that the sheet names and in no other: 2 dB/in beyond 1 in and 0.08 dB/mm beyond 25 mm
//! round to different whole decibels for about a quarter of all paths. Source: \[R9\].

use crate::math;
use crate::units::error::{Range, RangeError};
use crate::units::limits;
use crate::units::{Decibels, Millimetres};

/// Millimetres in an inch, exactly.
const INCH: f64 = 25.4;

const PER: Range = Range { quantity: "attenuation a unit of path", unit: "dB", min: 0.000_1, max: 100.0 };
const BEYOND: Range = Range { quantity: "path free of attenuation", unit: "", min: 0.0, max: 1_000.0 };
const FACTOR: Range = Range { quantity: "attenuation factor c", unit: "dB", min: -300.0, max: 300.0 };
const RATING: Range = Range { quantity: "rating d", unit: "dB", min: -300.0, max: 300.0 };

/// The unit that a sheet counts the sound path in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum PathUnit {
    /// Inches.
    Inch,
    /// Millimetres.
    Millimetre,
}

/// Attenuation along the path, in one unit of path throughout.
///
/// ```
/// use halfskip::acceptance::rating::{Attenuation, PathUnit};
/// let inch = Attenuation::new(PathUnit::Inch, 2.0, 1.0).unwrap();
/// assert_eq!(inch.per(), 2.0);
/// assert!(Attenuation::new(PathUnit::Millimetre, f32::NAN, 25.0).is_err());
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "(PathUnit, f32, f32)", into = "(PathUnit, f32, f32)"))]
pub struct Attenuation {
    unit: PathUnit,
    per: f32,
    beyond: f32,
}

impl Attenuation {
    /// `per` decibels a `unit` of path, counted beyond the first `beyond` units.
    ///
    /// # Errors
    /// [`RangeError`] unless `per` is 0.0001 to 100 and `beyond` 0 to 1000.
    pub fn new(unit: PathUnit, per: f32, beyond: f32) -> Result<Self, RangeError> {
        Ok(Self { unit, per: PER.check(per)?, beyond: BEYOND.check(beyond)? })
    }

    /// The unit of path.
    #[must_use]
    pub const fn unit(self) -> PathUnit {
        self.unit
    }

    /// Decibels a unit of path.
    #[must_use]
    pub const fn per(self) -> f32 {
        self.per
    }

    /// The path, in units, that is free of attenuation.
    #[must_use]
    pub const fn beyond(self) -> f32 {
        self.beyond
    }
}

impl TryFrom<(PathUnit, f32, f32)> for Attenuation {
    type Error = RangeError;

    fn try_from((unit, per, beyond): (PathUnit, f32, f32)) -> Result<Self, RangeError> {
        Self::new(unit, per, beyond)
    }
}

impl From<Attenuation> for (PathUnit, f32, f32) {
    fn from(attenuation: Attenuation) -> Self {
        (attenuation.unit, attenuation.per, attenuation.beyond)
    }
}

/// How a figure becomes whole decibels.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Rounding {
    /// It stays as it is.
    None,
    /// floor(x + 0.5), of negative figures too.
    HalfUp,
    /// floor(x): of a rating, never the milder whole decibel.
    Floor,
}

/// What c is on a path shorter than the free part.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum ShorterPath {
    /// Negative, as the formula has it.
    Negative,
    /// Zero.
    Zero,
}

/// The rule of a weighted rating.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Weighted {
    /// The form of c.
    pub attenuation: Attenuation,
    /// Rounding of c.
    pub round: Rounding,
    /// Rounding of d.
    pub round_d: Rounding,
    /// c inside the free part of the path.
    pub shorter_path: ShorterPath,
}

/// A rating with all that went into it.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Rating {
    /// Gain that brings the indication to the reference height.
    pub a: Decibels,
    /// Gain that brings the reference reflector to the reference height.
    pub b: Decibels,
    /// Attenuation factor, rounded as the rule says.
    pub c: Decibels,
    /// The rating, rounded as the rule says.
    pub d: Decibels,
}

impl Rating {
    /// a − b − c in decibels: the rating before it is rounded.
    #[must_use]
    pub(crate) fn unrounded(&self) -> f32 {
        let [a, b, c] = [self.a, self.b, self.c].map(|part| f64::from(part.get()));
        (a - b - c) as f32
    }
}

impl Weighted {
    /// Rates an indication: `path` to it, `a` and `b` the gains that bring it and the reference reflector to one and
    /// the same reference height, any transfer correction already taken off `a`.
    ///
    /// A saturated echo gives only an `a` that is too high: its d is "at most", since lower is stronger.
    ///
    /// ```
    /// use halfskip::acceptance::rating::{Attenuation, PathUnit, Rounding, ShorterPath, Weighted};
    /// use halfskip::units::{Decibels, Millimetres};
    /// let rule = Weighted {
    ///     attenuation: Attenuation::new(PathUnit::Inch, 2.0, 1.0)?,
    ///     round: Rounding::HalfUp,
    ///     round_d: Rounding::None,
    ///     shorter_path: ShorterPath::Negative,
    /// };
    /// // 3 in of path: c = 2 (3 - 1) = 4, d = 48 - 40 - 4.
    /// let rating = rule.rate(Millimetres::new(76.2)?, Decibels::new(48.0)?, Decibels::new(40.0)?)?;
    /// assert_eq!((rating.c.get(), rating.d.get()), (4.0, 4.0));
    /// assert!(rule.rate(Millimetres::new(0.0)?, Decibels::new(48.0)?, Decibels::new(40.0)?).is_err());
    /// # Ok::<(), halfskip::units::error::RangeError>(())
    /// ```
    ///
    /// # Errors
    /// [`RangeError`] unless the path is 0.01 to 10 000 mm and c and d come out within ±300 dB.
    pub fn rate(&self, path: Millimetres, a: Decibels, b: Decibels) -> Result<Rating, RangeError> {
        let c = self.factor(path)?;
        let (a_db, b_db, c_db) = (a.get(), b.get(), c.get());
        // d = a − b − c
        let d = f64::from(a_db) - f64::from(b_db) - f64::from(c_db);
        let size = f64::from(a_db.abs()) + f64::from(b_db.abs()) + f64::from(c_db.abs());
        let d = Decibels::new(RATING.check(rounded(d, size, self.round_d))?)?;
        Ok(Rating { a, b, c, d })
    }

    /// The attenuation factor c of a path.
    ///
    /// # Errors
    /// [`RangeError`] unless the path is 0.01 to 10 000 mm and c comes out within ±300 dB.
    pub fn factor(&self, path: Millimetres) -> Result<Decibels, RangeError> {
        let path = f64::from(limits::PATH.check(path.get())?);
        let Attenuation { unit, per, beyond } = self.attenuation;
        // f64, because a path typed in inches must come back to the same inches before it meets a rounding edge.
        let s = match unit {
            PathUnit::Inch => path / INCH,
            PathUnit::Millimetre => path,
        };
        let (k, s0) = (f64::from(per), f64::from(beyond));
        // c = k (s − s₀)
        let c = k * (s - s0);
        let c = match self.shorter_path {
            ShorterPath::Zero if s < s0 => 0.0,
            _ => c,
        };
        Decibels::new(FACTOR.check(rounded(c, k * (s + s0), self.round))?)
    }
}

/// Rounds `x`, a result of terms that add up to `size`, to whole decibels.
///
/// Each term was an `f32` once and may sit half a last bit below the figure that was typed. A result that close to
/// an edge is on it: 0.08 (31.25 − 25) is 0.5 and rounds up, whatever binary made of 0.08.
fn rounded(x: f64, size: f64, rounding: Rounding) -> f32 {
    let last_bit = size * f64::from(f32::EPSILON);
    match rounding {
        Rounding::None => x as f32,
        Rounding::HalfUp => math::floor((x + 0.5 + last_bit) as f32),
        Rounding::Floor => math::floor((x + last_bit) as f32),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rule(unit: PathUnit, per: f32, beyond: f32) -> Weighted {
        Weighted {
            attenuation: Attenuation::new(unit, per, beyond).unwrap(),
            round: Rounding::HalfUp,
            round_d: Rounding::None,
            shorter_path: ShorterPath::Negative,
        }
    }

    fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    /// Derived: 2 (57/25.4 − 1) = 2.488, 0.08 (57 − 25) = 2.56.
    #[test]
    fn the_two_forms_part_at_57_mm() {
        assert_eq!(rule(PathUnit::Inch, 2.0, 1.0).factor(mm(57.0)).unwrap().get(), 2.0);
        assert_eq!(rule(PathUnit::Millimetre, 0.08, 25.0).factor(mm(57.0)).unwrap().get(), 3.0);
    }

    /// Every quarter inch of path is a tie of the inch form or a whole decibel, every 6.25 mm one of the metric form.
    #[test]
    fn a_tie_rounds_up_on_every_path_of_the_grid() {
        let inch = rule(PathUnit::Inch, 2.0, 1.0);
        let metric = rule(PathUnit::Millimetre, 0.08, 25.0);
        for n in 1..=60u16 {
            let step = f64::from(n);
            let half_up = |x: f64| (x + 0.5).floor() as f32;
            let path = (step * 0.25 * 25.4) as f32;
            assert_eq!(inch.factor(mm(path)).unwrap().get(), half_up(step * 0.5 - 2.0), "{n}");
            let path = (step * 6.25) as f32;
            assert_eq!(metric.factor(mm(path)).unwrap().get(), half_up(step * 0.5 - 2.0), "{n}");
        }
    }

    #[test]
    fn a_path_just_short_of_a_tie_rounds_down() {
        // 107.9499 mm is 4.249996 in: c = 6.499992.
        assert_eq!(rule(PathUnit::Inch, 2.0, 1.0).factor(mm(107.9499)).unwrap().get(), 6.0);
    }

    #[test]
    fn negative_factors_round_half_up_too_unless_they_are_zero_by_rule() {
        // 0.25 in: c = −1.5.
        let mut inch = rule(PathUnit::Inch, 2.0, 1.0);
        assert_eq!(inch.factor(mm(6.35)).unwrap().get(), -1.0);
        inch.shorter_path = ShorterPath::Zero;
        assert_eq!(inch.factor(mm(6.35)).unwrap().get(), 0.0);
        // 3 in: c = 2 (3 − 1).
        assert_eq!(inch.factor(mm(76.2)).unwrap().get(), 4.0);
    }

    #[test]
    fn a_floored_rating_is_never_the_milder_one() {
        let mut inch = rule(PathUnit::Inch, 2.0, 1.0);
        inch.round_d = Rounding::Floor;
        let d = |a: f32, b: f32| {
            let (a, b) = (Decibels::constant(a), Decibels::constant(b));
            inch.rate(mm(76.2), a, b).unwrap().d.get()
        };
        assert_eq!(d(50.9, 40.0), 6.0);
        let rating = inch.rate(mm(76.2), Decibels::constant(50.9), Decibels::constant(40.0)).unwrap();
        assert!((rating.unrounded() - 6.9).abs() < 1e-5, "{rating:?}");
        // 50.3 − 40.3 in f32 falls short of 10; it is 10.
        assert_eq!(d(50.3, 40.3), 6.0);
        assert_eq!(d(42.5, 40.0), -2.0);
    }

    #[test]
    fn a_rating_is_on_an_edge_by_the_last_bits_of_its_terms_and_no_further() {
        let mut rule = rule(PathUnit::Millimetre, 1.0, 0.0);
        rule.round_d = Rounding::Floor;
        let d = |a: f32, b: f32, c: f32| {
            rule.rate(mm(c), Decibels::constant(a), Decibels::constant(b)).unwrap().d.get()
        };
        // In f32 the differences fall short by 3.8e-6 and 3.1e-6.
        assert_eq!((d(63.3, 64.3, 4.0), d(64.2, 0.2, 60.0)), (-5.0, 4.0));
        assert_eq!(d(79.9999, 40.0, 40.0), -1.0);
        // 0.08 (31.24996 − 25) + 0.5 = 0.999997
        let metric = self::rule(PathUnit::Millimetre, 0.08, 25.0);
        assert_eq!((metric.factor(mm(31.24996)).unwrap().get(), metric.attenuation.beyond()), (0.0, 25.0));
    }
}
