//! True angle and index point, from side-drilled holes peaked one after the other.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | d | depth of a hole's centre below the scanned face | mm |
//! | y | surface distance from the marked index point to the point above the hole | mm |
//! | a | refracted angle, from the surface normal | deg |
//! | e | how far the true index point lies ahead of the marked one | mm |
//!
//! One hole gives `a = atan(y / d)` and trusts the mark. Two or more give the least-squares line `y = e + d tan a`
//! (geometry; common practice, no source \[R7\]), and more than two show by what is left over how well they were
//! peaked.

use core::fmt;

use crate::math;
use crate::math::line::{Line, repeated};
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};
use crate::units::limits::{ANGLE, DEPTH, DISTANCE};
use crate::units::{Degrees, Millimetres};

/// Why holes give no angle.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum AngleCheckError {
    /// No hole was peaked.
    NoHole,
    /// Two holes have the same depth.
    EqualDepths {
        /// The depth given twice.
        depth: Millimetres,
    },
    /// A depth, a distance or the resulting angle outside its range.
    Range(RangeError),
}

impl fmt::Display for AngleCheckError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoHole => f.write_str("no hole was peaked"),
            Self::EqualDepths { depth } => {
                write!(f, "two holes have the depth {} mm", fixed(depth.get()))
            }
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(AngleCheckError: Range(RangeError));

/// A measured angle, and what more than one hole tells.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct AngleCheck {
    angle: Degrees,
    index: Option<Millimetres>,
    largest: Option<Millimetres>,
}

impl AngleCheck {
    /// The angle from peaked holes, each (depth of its centre, surface distance).
    ///
    /// ```
    /// use halfskip::calibration::angle_check::AngleCheck;
    /// use halfskip::units::{Degrees, Millimetres};
    /// let hole = |depth, distance| (Millimetres::new(depth).unwrap(), Millimetres::new(distance).unwrap());
    /// let one = AngleCheck::fit(&[hole(15.0, 15.0)]).unwrap();
    /// assert_eq!((one.angle().get(), one.index()), (45.0, None));
    /// // The mark lies 1 mm behind the true index point.
    /// let two = AngleCheck::fit(&[hole(15.0, 16.0), hole(30.0, 31.0)]).unwrap();
    /// assert_eq!((two.angle().get(), two.index().map(Millimetres::get)), (45.0, Some(1.0)));
    /// assert!(AngleCheck::fit(&[hole(15.0, 16.0), hole(30.0, 12.0)]).is_err());
    /// ```
    ///
    /// # Errors
    /// [`AngleCheckError::NoHole`], [`AngleCheckError::EqualDepths`], [`AngleCheckError::Range`] for a depth outside
    /// [`DEPTH`], a distance outside [`DISTANCE`] or an angle outside [`ANGLE`], as of a distance that falls with
    /// depth.
    pub fn fit(holes: &[(Millimetres, Millimetres)]) -> Result<Self, AngleCheckError> {
        for (depth, distance) in holes {
            DEPTH.check(depth.get())?;
            DISTANCE.check(distance.get())?;
        }
        if let Some(depth) = repeated(holes.iter().map(|(depth, _)| depth.get())) {
            let depth = Millimetres::new(depth)?;
            return Err(AngleCheckError::EqualDepths { depth });
        }
        // In f64: the sums cancel, and a tenth of a millimetre left over has to be seen.
        let points =
            holes.iter().map(|(depth, distance)| (f64::from(depth.get()), f64::from(distance.get())));
        let Some(line) = Line::through(points.clone()) else {
            let (depth, distance) = points.clone().next().ok_or(AngleCheckError::NoHole)?;
            return Ok(Self {
                // a = atan(y / d)
                angle: angle(distance, depth)?,
                index: None,
                largest: None,
            });
        };
        let left_over = points.map(|(depth, distance)| (distance - line.at(depth)).abs() as f32);
        let largest = match holes.len() {
            2 => None,
            _ => Some(Millimetres::new(left_over.fold(0.0, math::larger))?),
        };
        Ok(Self {
            // y = e + d tan a
            angle: angle(line.slope(), 1.0)?,
            index: Some(Millimetres::new(line.at(0.0) as f32)?),
            largest,
        })
    }

    /// The refracted angle a.
    #[must_use]
    pub const fn angle(&self) -> Degrees {
        self.angle
    }

    /// e, how far the true index point lies ahead of the marked one; `None` from one hole, which cannot tell.
    #[must_use]
    pub const fn index(&self) -> Option<Millimetres> {
        self.index
    }

    /// The largest departure of a hole from the line, mm of surface distance without its sign; `None` for fewer than
    /// three holes, which leave nothing over.
    #[must_use]
    pub const fn largest_residual(&self) -> Option<Millimetres> {
        self.largest
    }

    /// How far a hole lies from the fitted line, mm of surface distance: `y − e − d tan a`, with e = 0 when unknown.
    ///
    /// # Errors
    /// [`RangeError`] when that is no length.
    pub fn residual(&self, hole: (Millimetres, Millimetres)) -> Result<Millimetres, RangeError> {
        let (depth, distance) = hole;
        let ahead = self.index.map_or(0.0, Millimetres::get);
        // y − e − d tan a
        Millimetres::new(distance.get() - ahead - depth.get() * math::tan(self.angle.get()))
    }

    /// How far the angle is from the nominal one, degrees; positive when the beam runs closer to the surface.
    #[must_use]
    pub fn deviation(&self, nominal: Degrees) -> f32 {
        self.angle.get() - nominal.get()
    }

    /// Whether the angle keeps within a tolerance of the nominal one.
    #[must_use]
    pub fn angle_verdict(&self, nominal: Degrees, tolerance: Degrees) -> bool {
        self.deviation(nominal).abs() <= tolerance.get()
    }

    /// Whether the true index point keeps within a tolerance of the mark; `None` from one hole, which cannot tell.
    #[must_use]
    pub fn index_verdict(&self, tolerance: Millimetres) -> Option<bool> {
        self.index.map(|index| index.get().abs() <= tolerance.get())
    }
}

fn angle(opposite: f64, adjacent: f64) -> Result<Degrees, RangeError> {
    Degrees::new(ANGLE.check(math::atan2(opposite, adjacent))?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn holes<const N: usize>(pairs: [(f32, f32); N]) -> [(Millimetres, Millimetres); N] {
        pairs.map(|(depth, distance)| (Millimetres::new(depth).unwrap(), Millimetres::new(distance).unwrap()))
    }

    #[test]
    fn a_wrong_mark_moves_the_angle_of_one_hole_but_not_of_two() {
        // 60 degrees with the mark 2 mm behind the true index point.
        let tan = math::tan(60.0);
        let (shallow, deep) = ((10.0, 2.0 + 10.0 * tan), (30.0, 2.0 + 30.0 * tan));
        let one = AngleCheck::fit(&holes([shallow])).unwrap();
        let two = AngleCheck::fit(&holes([deep, shallow])).unwrap();
        assert!(one.deviation(Degrees::constant(60.0)) > 2.0);
        assert!((two.angle().get() - 60.0).abs() < 1e-5);
        assert!((two.index().unwrap().get() - 2.0).abs() < 1e-5);
        assert_eq!(two.largest_residual(), None);
    }

    #[test]
    fn a_badly_peaked_hole_is_left_over() {
        let found = AngleCheck::fit(&holes([(10.0, 10.0), (20.0, 21.5), (30.0, 30.0)])).unwrap();
        assert!((found.largest_residual().unwrap().get() - 1.0).abs() < 1e-5);
        let [middle] = holes([(20.0, 21.5)]);
        assert!((found.residual(middle).unwrap().get() - 1.0).abs() < 1e-5);
        assert!((found.index().unwrap().get() - 0.5).abs() < 1e-5);
    }

    #[test]
    fn verdicts_include_the_tolerance_itself() {
        let found = AngleCheck::fit(&holes([(15.0, 16.0), (30.0, 31.0)])).unwrap();
        let [nominal, two, less] = [47.0, 2.0, 1.9].map(Degrees::constant);
        assert!(found.angle_verdict(nominal, two) && !found.angle_verdict(nominal, less));
        assert_eq!(found.index_verdict(Millimetres::constant(1.0)), Some(true));
        assert_eq!(found.index_verdict(Millimetres::constant(0.9)), Some(false));
        let one = AngleCheck::fit(&holes([(15.0, 16.0)])).unwrap();
        assert_eq!(one.index_verdict(Millimetres::constant(100.0)), None);
    }

    #[test]
    fn holes_without_an_angle_are_refused() {
        assert_eq!(AngleCheck::fit(&[]), Err(AngleCheckError::NoHole));
        let depth = Millimetres::constant(15.0);
        let twice = AngleCheck::fit(&holes([(15.0, 26.0), (15.0, 26.3), (30.0, 52.0)]));
        assert_eq!(twice, Err(AngleCheckError::EqualDepths { depth }));
        for refused in [[(15.0, 26.0), (30.0, 26.0)], [(15.0, 26.0), (30.0, 20.0)]] {
            let refused = AngleCheck::fit(&holes(refused));
            assert!(matches!(refused, Err(AngleCheckError::Range(_))));
        }
        let backwards = AngleCheck::fit(&holes([(15.0, -26.0)]));
        assert!(matches!(backwards, Err(AngleCheckError::Range(_))));
    }
}
