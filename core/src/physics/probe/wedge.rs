//! What warmth does to a wedge: the plastic slows down, and the refracted angle rises.

use crate::physics::refraction::{RefractionError, ratio, remarked};
use crate::units::error::RangeError;
use crate::units::limits::{TEMPERATURE, WEDGE, WEDGE_SLOPE};
use crate::units::{Degrees, MillimetresPerMicrosecond};

/// How a wedge's velocity follows its temperature.
///
/// The slope is an input without a default: no published coefficient stands behind one, and plastics differ.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct WedgeTemperature {
    slope: f32,
    marked_at: f32,
    at: f32,
}

impl WedgeTemperature {
    /// The velocity's change per degree Celsius in mm/us (−0.1 to 0.1, negative for plastics), the temperature at
    /// which the marked angle holds, and the temperature of use, both in degrees Celsius (−100 to 400).
    ///
    /// # Errors
    /// [`RangeError`] naming the number that is out of its range.
    pub fn new(slope: f32, marked_at: f32, at: f32) -> Result<Self, RangeError> {
        Ok(Self {
            slope: WEDGE_SLOPE.check(slope)?,
            marked_at: TEMPERATURE.check(marked_at)?,
            at: TEMPERATURE.check(at)?,
        })
    }

    /// The wedge's velocity in use.
    ///
    /// c(T) = c(T₀) + slope · (T − T₀), a straight line between the two temperatures. Common practice, no source.
    ///
    /// # Errors
    /// [`RangeError`] when that leaves the velocities a wedge can have.
    pub fn velocity(
        &self,
        marked: MillimetresPerMicrosecond,
    ) -> Result<MillimetresPerMicrosecond, RangeError> {
        let velocity = marked.get() + self.slope * (self.at - self.marked_at);
        MillimetresPerMicrosecond::new(WEDGE.check(velocity)?)
    }

    /// The temperature at which the marked angle holds, degrees Celsius.
    #[must_use]
    pub const fn marked_at(&self) -> f32 {
        self.marked_at
    }

    /// The temperature of use, degrees Celsius.
    #[must_use]
    pub const fn at(&self) -> f32 {
        self.at
    }

    /// The same wedge used at another temperature.
    ///
    /// # Errors
    /// [`RangeError`] outside −100 to 400 degrees Celsius.
    pub fn used_at(self, at: f32) -> Result<Self, RangeError> {
        Ok(Self { at: TEMPERATURE.check(at)?, ..self })
    }

    /// The refracted angle in use of a beam marked at the other temperature. The part's velocity counts as unchanged.
    ///
    /// ```
    /// use halfskip::physics::probe::WedgeTemperature;
    /// use halfskip::units::{Degrees, MillimetresPerMicrosecond};
    /// // An invented slope that slows this wedge by 1 % over 13 degrees.
    /// let warm = WedgeTemperature::new(-0.0021, 20.0, 33.0).unwrap();
    /// let wedge = MillimetresPerMicrosecond::new(2.73).unwrap();
    /// let angle = warm.refracted(Degrees::new(70.0).unwrap(), wedge).unwrap();
    /// assert!((angle.get() - 71.66).abs() < 0.01);
    /// ```
    ///
    /// # Errors
    /// [`RefractionError::PastSecondCritical`] when the warm beam no longer exists, with the largest marked angle that
    /// would; [`RefractionError::Range`].
    pub fn refracted(
        &self,
        marked: Degrees,
        wedge: MillimetresPerMicrosecond,
    ) -> Result<Degrees, RefractionError> {
        // The angle in the wedge stays: sin b / c2 = sin a / c(T), so sin b = sin b₀ · c(T₀) / c(T)
        remarked(marked, ratio(wedge, self.velocity(wedge)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WEDGE_VELOCITY: MillimetresPerMicrosecond = MillimetresPerMicrosecond::constant(2.73);

    #[test]
    fn warmth_raises_the_angle_and_equal_temperatures_leave_it() {
        let sixty = Degrees::constant(60.0);
        let angle = |at| {
            let wedge = WedgeTemperature::new(-0.002, 20.0, at).unwrap();
            wedge.refracted(sixty, WEDGE_VELOCITY).unwrap().get()
        };
        assert!(angle(40.0) > 60.0 && angle(0.0) < 60.0);
        assert!((angle(20.0) - 60.0).abs() < 1e-5);
    }

    #[test]
    fn a_beam_that_warmth_cuts_off_is_refused_with_the_angle_that_still_works() {
        let hot = WedgeTemperature::new(-0.002, 20.0, 120.0).unwrap();
        let Err(RefractionError::PastSecondCritical { critical, .. }) =
            hot.refracted(Degrees::constant(80.0), WEDGE_VELOCITY)
        else {
            panic!("the beam still exists");
        };
        assert!(hot.refracted(critical, WEDGE_VELOCITY).unwrap().get() > 89.9);
    }

    #[test]
    fn a_slope_that_leaves_no_wedge_is_refused() {
        let cold = WedgeTemperature::new(-0.002, 20.0, 20.0).unwrap();
        assert!(cold.used_at(30.0).is_ok_and(|warm| (warm.at(), warm.marked_at()) == (30.0, 20.0)));
        assert!(cold.used_at(500.0).is_err());
        let melted = WedgeTemperature::new(-0.05, 20.0, 90.0).unwrap();
        assert!(melted.velocity(WEDGE_VELOCITY).is_err());
        assert!(WedgeTemperature::new(f32::NAN, 20.0, 20.0).is_err());
    }
}
