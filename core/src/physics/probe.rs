//! The probe: its element, its wedge, and what both make of the beam before the part does.
//!
//! What is not known stays unknown: without the wedge's velocity and path nobody can say how much of the near field is
//! left in the part, and [`Probe::near_field`] answers `None`.

mod element;
mod near_field;
mod wedge;

pub use element::Element;
pub use near_field::{
    NearField, near_field_rectangular, near_field_round, near_field_round_short, wavelength,
};
pub use wedge::WedgeTemperature;

use core::fmt;

use crate::math;
use crate::physics::refraction::{self, RefractionError, ratio};
use crate::units::error::{Range, RangeError, comes_from};
use crate::units::limits::{ANGLE, FREQUENCY, FRONT, WEDGE, WEDGE_PATH};
use crate::units::{Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};

const REFRACTED: Range = Range { quantity: "refracted angle", ..ANGLE };

/// What is known of a probe.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ProbeSpec {
    /// Nominal refracted angle in the job's material, 1 to 89 degrees.
    pub angle: Degrees,
    /// Frequency, 0.2 to 25 MHz.
    pub frequency: Megahertz,
    /// Element, 1 to 50 mm.
    pub element: Element,
    /// Index point to the probe's nose, 0 to 200 mm.
    pub front: Option<Millimetres>,
    /// Longitudinal velocity of the wedge at the temperature of the nominal angle, 0.5 to 10 mm/us.
    pub wedge: Option<MillimetresPerMicrosecond>,
    /// Path in the wedge along the axis, 0 to 200 mm.
    pub wedge_path: Option<Millimetres>,
    /// How the wedge follows its temperature.
    pub temperature: Option<WedgeTemperature>,
}

/// Why a spec is no probe.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum ProbeError {
    /// A number outside its range.
    Range(RangeError),
    /// A temperature behaviour, but no wedge velocity that it could change.
    TemperatureWithoutWedge,
    /// The beam does not exist at the temperature of use.
    Refraction(RefractionError),
}

impl fmt::Display for ProbeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(error) => error.fmt(f),
            Self::TemperatureWithoutWedge => {
                f.write_str("a wedge temperature needs the wedge's velocity as well")
            }
            Self::Refraction(error) => error.fmt(f),
        }
    }
}

comes_from!(ProbeError: Range(RangeError), Refraction(RefractionError));

/// A checked probe.
///
/// ```
/// use halfskip::physics::probe::{Element, Probe, ProbeSpec};
/// use halfskip::units::{Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};
/// let spec = ProbeSpec {
///     angle: Degrees::new(60.0).unwrap(),
///     frequency: Megahertz::new(4.0).unwrap(),
///     element: Element::Round { diameter: Millimetres::new(9.0).unwrap() },
///     front: None,
///     wedge: Some(MillimetresPerMicrosecond::new(2.73).unwrap()),
///     wedge_path: Some(Millimetres::new(8.0).unwrap()),
///     temperature: None,
/// };
/// let probe = Probe::new(spec).unwrap();
/// let left = probe.near_field(MillimetresPerMicrosecond::new(3.24).unwrap()).unwrap().unwrap();
/// assert!((left.in_plane.get() - 9.76).abs() < 0.005);
///
/// let upright = ProbeSpec { angle: Degrees::new(0.0).unwrap(), ..spec };
/// assert_eq!(
///     Probe::new(upright).unwrap_err().to_string(),
///     "refracted angle 0 deg is outside 1 to 89 deg"
/// );
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Probe {
    spec: ProbeSpec,
    refracted: Degrees,
    wedge: Option<MillimetresPerMicrosecond>,
}

impl Probe {
    /// Checks a spec, and works out the angle and the wedge's velocity in use.
    ///
    /// # Errors
    /// [`ProbeError`] naming the number, or that warmth cuts the beam off.
    pub fn new(spec: ProbeSpec) -> Result<Self, ProbeError> {
        REFRACTED.check(spec.angle.get())?;
        FREQUENCY.check(spec.frequency.get())?;
        spec.element.check()?;
        for (value, range) in [(spec.front, FRONT), (spec.wedge_path, WEDGE_PATH)] {
            if let Some(value) = value {
                range.check(value.get())?;
            }
        }
        if let Some(wedge) = spec.wedge {
            WEDGE.check(wedge.get())?;
        }
        let (refracted, wedge) = match (spec.temperature, spec.wedge) {
            (None, wedge) => (spec.angle, wedge),
            (Some(_), None) => return Err(ProbeError::TemperatureWithoutWedge),
            (Some(temperature), Some(wedge)) => {
                let angle = temperature.refracted(spec.angle, wedge)?;
                (Degrees::new(REFRACTED.check(angle.get())?)?, Some(temperature.velocity(wedge)?))
            }
        };
        Ok(Self { spec, refracted, wedge })
    }

    /// The spec it was made from.
    #[must_use]
    pub const fn spec(&self) -> &ProbeSpec {
        &self.spec
    }

    /// The nominal refracted angle.
    #[must_use]
    pub const fn nominal(&self) -> Degrees {
        self.spec.angle
    }

    /// The refracted angle at the temperature of use; the nominal one when no temperature was given.
    #[must_use]
    pub const fn refracted(&self) -> Degrees {
        self.refracted
    }

    /// Frequency.
    #[must_use]
    pub const fn frequency(&self) -> Megahertz {
        self.spec.frequency
    }

    /// Element.
    #[must_use]
    pub const fn element(&self) -> Element {
        self.spec.element
    }

    /// Index point to nose, where it is known.
    #[must_use]
    pub const fn front(&self) -> Option<Millimetres> {
        self.spec.front
    }

    /// The wedge's velocity at the temperature of use, where it is known.
    #[must_use]
    pub const fn wedge(&self) -> Option<MillimetresPerMicrosecond> {
        self.wedge
    }

    /// The factor on the sine of an angle that was measured at a temperature, degrees Celsius, to bring it to that of use:
    /// w(T) / w(use), w the wedge's velocity. 1 where the wedge's behaviour is not known.
    ///
    /// # Errors
    /// [`RangeError`] for a temperature, or a velocity of the wedge, outside its range.
    pub fn warmth(&self, measured_at: f32) -> Result<f64, RangeError> {
        let (Some(temperature), Some(marked), Some(used)) =
            (self.spec.temperature, self.spec.wedge, self.wedge)
        else {
            return Ok(1.0);
        };
        // sin a / w⁻¹ stays: sin a = sin a_T · w(T) / w(use)
        Ok(ratio(temperature.used_at(measured_at)?.velocity(marked)?, used))
    }

    /// An angle that was measured at a temperature, brought to the one that the nominal angle holds at; as measured where
    /// the wedge's behaviour is not known.
    ///
    /// # Errors
    /// [`RefractionError`] when there is no beam at that temperature.
    ///
    /// ```
    /// use halfskip::physics::probe::{Element, Probe, ProbeSpec, WedgeTemperature};
    /// use halfskip::units::{Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};
    /// // An invented slope: at 60 degrees Celsius the wedge runs at 2.73 − 0.08 = 2.65 mm/us.
    /// let probe = Probe::new(ProbeSpec {
    ///     angle: Degrees::new(60.0).unwrap(),
    ///     frequency: Megahertz::new(4.0).unwrap(),
    ///     element: Element::Round { diameter: Millimetres::new(9.0).unwrap() },
    ///     front: None,
    ///     wedge: Some(MillimetresPerMicrosecond::new(2.73).unwrap()),
    ///     wedge_path: None,
    ///     temperature: Some(WedgeTemperature::new(-0.002, 20.0, 60.0).unwrap()),
    /// })
    /// .unwrap();
    /// // asin(sin 63.2° · 2.65 / 2.73)
    /// let marked = probe.as_marked(Degrees::new(63.2).unwrap(), 60.0).unwrap();
    /// assert!((marked.get() - 60.05).abs() < 0.01);
    /// assert!((probe.warmth(20.0).unwrap() - 2.73 / 2.65).abs() < 1e-6);
    /// assert!(probe.warmth(1000.0).is_err());
    /// ```
    pub fn as_marked(&self, measured: Degrees, measured_at: f32) -> Result<Degrees, RefractionError> {
        let (Some(temperature), Some(marked)) = (self.spec.temperature, self.spec.wedge) else {
            return Ok(measured);
        };
        // sin a = sin a_T · w(T) / w(marked)
        refraction::remarked(measured, ratio(temperature.used_at(measured_at)?.velocity(marked)?, marked))
    }

    /// The beam's angle in the wedge; `None` when the wedge's velocity is not known.
    ///
    /// # Errors
    /// [`RefractionError::BeyondGrazing`] when this wedge cannot make that angle in this part.
    pub fn incident(&self, shear: MillimetresPerMicrosecond) -> Result<Option<Degrees>, RefractionError> {
        match self.wedge {
            Some(wedge) => refraction::incident(self.refracted, wedge, shear).map(Some),
            None => Ok(None),
        }
    }

    /// What is left of the near field in the part, by the short form D² / 4λ, in and across the plane of incidence;
    /// `None` unless the wedge's velocity and path are both known.
    ///
    /// # Errors
    /// [`RefractionError::BeyondGrazing`] when this wedge cannot make the angle in this part.
    pub fn near_field(&self, shear: MillimetresPerMicrosecond) -> Result<Option<NearField>, RefractionError> {
        let (Some(incident), Some(wedge), Some(path)) =
            (self.incident(shear)?, self.wedge, self.spec.wedge_path)
        else {
            return Ok(None);
        };
        // q = cos(refracted) / cos(incident)
        let q = math::sin_cos_f64(self.refracted.get()).1 / math::sin_cos_f64(incident.get()).1;
        let used = f64::from(path.get()) * ratio(wedge, shear);
        let wavelength = wavelength(shear, self.spec.frequency);
        Ok(Some(near_field::near_field_left(&self.spec.element, wavelength, q as f32, used as f32)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHEAR: MillimetresPerMicrosecond = MillimetresPerMicrosecond::constant(3.24);
    const SPEC: ProbeSpec = ProbeSpec {
        angle: Degrees::constant(60.0),
        frequency: Megahertz::constant(4.0),
        element: Element::Round { diameter: Millimetres::constant(9.0) },
        front: None,
        wedge: Some(MillimetresPerMicrosecond::constant(2.73)),
        wedge_path: Some(Millimetres::constant(8.0)),
        temperature: None,
    };

    fn left(spec: ProbeSpec) -> Option<NearField> {
        Probe::new(spec).unwrap().near_field(SHEAR).unwrap()
    }

    /// Derived: travel times of rays beside the axis give the same lengths.
    #[test]
    fn the_near_field_left_shrinks_with_the_angle() {
        for (angle, expected) in [(45.0, 14.15), (60.0, 9.76), (70.0, 5.73)] {
            let near_field = left(ProbeSpec { angle: Degrees::new(angle).unwrap(), ..SPEC }).unwrap();
            assert!((near_field.in_plane.get() - expected).abs() <= 0.006, "{angle}");
            // Across the plane nothing is foreshortened: D² f / 4 c − w c_w / c_p.
            assert!((near_field.across.get() - (25.0 - 8.0 * 2.73 / 3.24)).abs() < 1e-4);
        }
    }

    #[test]
    fn a_wedge_as_long_as_its_own_near_field_leaves_nothing_and_a_longer_one_no_less() {
        // D² f / 4 c_wedge
        let whole = 81.0 * 4.0 / (4.0 * 2.73);
        for (path, largest) in [(whole, 1e-5), (whole + 5.0, 0.0)] {
            let wedge_path = Some(Millimetres::new(path).unwrap());
            let near_field = left(ProbeSpec { wedge_path, ..SPEC }).unwrap();
            assert!(near_field.in_plane.get() <= largest && near_field.in_plane.get() >= 0.0);
            assert!(near_field.across.get() <= largest && near_field.across.get() >= 0.0);
        }
    }

    #[test]
    fn what_is_not_known_of_the_wedge_leaves_the_near_field_unknown() {
        assert_eq!(left(ProbeSpec { wedge_path: None, ..SPEC }), None);
        assert_eq!(left(ProbeSpec { wedge: None, ..SPEC }), None);
    }

    #[test]
    fn a_temperature_changes_angle_and_velocity_together_and_needs_a_wedge() {
        let temperature = Some(WedgeTemperature::new(-0.002, 20.0, 40.0).unwrap());
        let warm = Probe::new(ProbeSpec { temperature, ..SPEC }).unwrap();
        let cold = Probe::new(SPEC).unwrap();
        assert!(warm.refracted() > warm.nominal());
        let (warm, cold) = (warm.incident(SHEAR).unwrap().unwrap(), cold.incident(SHEAR).unwrap().unwrap());
        assert!((warm.get() - cold.get()).abs() < 1e-4, "the wedge itself does not turn");
        assert_eq!(
            Probe::new(ProbeSpec { temperature, wedge: None, ..SPEC }),
            Err(ProbeError::TemperatureWithoutWedge)
        );
    }
}
