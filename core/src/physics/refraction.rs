//! Refraction at the wedge: which way the beam goes on, and where it stops to exist.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | a1, c1 | angle from the normal and longitudinal velocity in the wedge | deg, mm/us |
//! | a2, c2 | the same in the part, for the wave asked about | deg, mm/us |
//!
//! Snell's law, sin a2 / c2 = sin a1 / c1 \[R4\], holds for each wave that leaves the interface. Past the *first*
//! critical angle no longitudinal wave enters the part, past the *second* no shear wave. A critical angle exists only
//! where the part is the faster of the two. All work is `f64` and rounded once: close to a critical angle the refracted
//! angle moves fast.

mod error;

pub use error::RefractionError;

use crate::math;
use crate::physics::material::Material;
use crate::units::error::{Range, RangeError};
use crate::units::{Degrees, MillimetresPerMicrosecond};

const INCIDENT: Range = Range { quantity: "incident angle", unit: "deg", min: 0.0, max: 90.0 };

const REFRACTED: Range = Range { quantity: "refracted angle", ..INCIDENT };

/// What Snell's law makes of an angle, or the largest angle it still takes.
pub(crate) enum Snell {
    /// The angle on the far side.
    Angle(Degrees),
    /// None; the angle is past this one.
    Past(Degrees),
}

/// sin a2 = ratio · sin a1, for a1 from −90 to 90 degrees and a positive ratio c2 / c1.
///
/// A critical angle is itself rounded to `f32`; up to that rounded value the beam counts as grazing, so that the angle
/// which an error names is always one that is taken.
pub(crate) fn snell(angle: Degrees, ratio: f64) -> Result<Snell, RangeError> {
    // sin a2 = (c2 / c1) sin a1
    let sine = math::sin_cos_f64(angle.get()).0 * ratio;
    if let Some(refracted) = math::asin(sine) {
        return Ok(Snell::Angle(Degrees::new(refracted)?));
    }
    // critical: sin a1 = c1 / c2
    let critical = Degrees::new(math::asin(1.0 / ratio).unwrap_or(90.0))?;
    if angle.get().abs() > critical.get() {
        return Ok(Snell::Past(critical));
    }
    Ok(Snell::Angle(Degrees::new(if sine < 0.0 { -90.0 } else { 90.0 })?))
}

pub(crate) fn ratio(to: MillimetresPerMicrosecond, from: MillimetresPerMicrosecond) -> f64 {
    f64::from(to.get()) / f64::from(from.get())
}

/// The refracted shear angle of a beam that meets the interface at `incident` in the wedge.
///
/// Below the first critical angle a longitudinal wave travels beside it: see [`lowest_shear_alone`].
///
/// ```
/// use halfskip::physics::material::preset;
/// use halfskip::physics::refraction::{RefractionError, refracted_shear};
/// use halfskip::units::{Degrees, MillimetresPerMicrosecond};
/// let wedge = MillimetresPerMicrosecond::new(2.73).unwrap();
/// let steel = preset("steel").unwrap().material;
/// let angle = |degrees| refracted_shear(Degrees::new(degrees).unwrap(), wedge, &steel);
/// assert!((angle(46.6).unwrap().get() - 60.0).abs() < 0.05);
/// assert!(matches!(angle(60.0), Err(RefractionError::PastSecondCritical { .. })));
/// ```
///
/// # Errors
/// [`RefractionError::PastSecondCritical`]; [`RefractionError::Range`] outside 0 to 90 degrees.
pub fn refracted_shear(
    incident: Degrees,
    wedge: MillimetresPerMicrosecond,
    material: &Material,
) -> Result<Degrees, RefractionError> {
    INCIDENT.check(incident.get())?;
    match snell(incident, ratio(material.shear(), wedge))? {
        Snell::Angle(refracted) => Ok(refracted),
        Snell::Past(critical) => Err(RefractionError::PastSecondCritical { angle: incident, critical }),
    }
}

/// The refracted longitudinal angle of the same beam.
///
/// # Errors
/// [`RefractionError::PastFirstCritical`], [`RefractionError::NoLongitudinalVelocity`]; [`RefractionError::Range`]
/// outside 0 to 90 degrees.
pub fn refracted_longitudinal(
    incident: Degrees,
    wedge: MillimetresPerMicrosecond,
    material: &Material,
) -> Result<Degrees, RefractionError> {
    INCIDENT.check(incident.get())?;
    let longitudinal = longitudinal(material)?;
    match snell(incident, ratio(longitudinal, wedge))? {
        Snell::Angle(refracted) => Ok(refracted),
        Snell::Past(critical) => Err(RefractionError::PastFirstCritical { angle: incident, critical }),
    }
}

/// The angle a wedge must give the beam for a wanted refracted shear angle.
///
/// # Errors
/// [`RefractionError::BeyondGrazing`] when the wedge is faster than the shear wave and the angle too large for it;
/// [`RefractionError::Range`] outside 0 to 90 degrees.
pub fn incident(
    refracted: Degrees,
    wedge: MillimetresPerMicrosecond,
    shear: MillimetresPerMicrosecond,
) -> Result<Degrees, RefractionError> {
    REFRACTED.check(refracted.get())?;
    match snell(refracted, ratio(wedge, shear))? {
        Snell::Angle(incident) => Ok(incident),
        Snell::Past(largest) => Err(RefractionError::BeyondGrazing { angle: refracted, largest }),
    }
}

/// The first critical angle in the wedge: past it no longitudinal wave enters the part.
///
/// # Errors
/// [`RefractionError::NoCriticalAngle`], [`RefractionError::NoLongitudinalVelocity`].
pub fn first_critical(
    wedge: MillimetresPerMicrosecond,
    material: &Material,
) -> Result<Degrees, RefractionError> {
    critical(wedge, longitudinal(material)?)
}

/// The second critical angle in the wedge: past it no shear wave enters the part.
///
/// # Errors
/// [`RefractionError::NoCriticalAngle`].
pub fn second_critical(
    wedge: MillimetresPerMicrosecond,
    material: &Material,
) -> Result<Degrees, RefractionError> {
    critical(wedge, material.shear())
}

/// The lowest refracted shear angle that exists without a longitudinal wave beside it: the one at the first critical
/// angle. It is never 0, and near 33 degrees in steel; it does not depend on the wedge, as long as that is the slower.
///
/// ```
/// use halfskip::physics::material::preset;
/// use halfskip::physics::refraction::lowest_shear_alone;
/// use halfskip::units::MillimetresPerMicrosecond;
/// let wedge = MillimetresPerMicrosecond::new(2.73).unwrap();
/// let lowest = lowest_shear_alone(wedge, &preset("steel").unwrap().material).unwrap();
/// assert!((lowest.get() - 33.4).abs() < 0.05);
/// ```
///
/// # Errors
/// [`RefractionError::NoCriticalAngle`], [`RefractionError::NoLongitudinalVelocity`].
pub fn lowest_shear_alone(
    wedge: MillimetresPerMicrosecond,
    material: &Material,
) -> Result<Degrees, RefractionError> {
    let longitudinal = longitudinal(material)?;
    critical(wedge, longitudinal)?;
    // sin a1 = c1 / cL put into sin a2 = (cS / c1) sin a1 leaves sin a2 = cS / cL
    critical(material.shear(), longitudinal)
}

/// The angle of a probe marked for one material when it is used on another.
///
/// ```
/// use halfskip::physics::refraction::on_another_material;
/// use halfskip::units::{Degrees, MillimetresPerMicrosecond};
/// let (steel, copper) = (MillimetresPerMicrosecond::new(3.255).unwrap(), MillimetresPerMicrosecond::new(2.26).unwrap());
/// let sixty = Degrees::new(60.0).unwrap();
/// assert!((on_another_material(sixty, steel, copper).unwrap().get() - 36.96).abs() < 0.01);
/// // The other way round no shear wave would enter.
/// assert!(on_another_material(sixty, copper, steel).is_err());
/// ```
///
/// # Errors
/// [`RefractionError::PastSecondCritical`] with the largest marked angle that still works;
/// [`RefractionError::Range`] outside 0 to 90 degrees.
pub fn on_another_material(
    marked: Degrees,
    marked_for: MillimetresPerMicrosecond,
    used_on: MillimetresPerMicrosecond,
) -> Result<Degrees, RefractionError> {
    // The wedge's angle and velocity are the same on both, so they drop out: sin b2 / c2 = sin b1 / c1.
    remarked(marked, ratio(used_on, marked_for))
}

/// The angle of a marked beam after a factor on its sine.
pub(crate) fn remarked(marked: Degrees, factor: f64) -> Result<Degrees, RefractionError> {
    REFRACTED.check(marked.get())?;
    match snell(marked, factor)? {
        Snell::Angle(angle) => Ok(angle),
        Snell::Past(critical) => Err(RefractionError::PastSecondCritical { angle: marked, critical }),
    }
}

/// sin a1 = c1 / c2.
fn critical(
    wedge: MillimetresPerMicrosecond,
    part: MillimetresPerMicrosecond,
) -> Result<Degrees, RefractionError> {
    if part <= wedge {
        return Err(RefractionError::NoCriticalAngle { wedge, part });
    }
    let angle = math::asin(ratio(wedge, part)).ok_or(RefractionError::NoCriticalAngle { wedge, part })?;
    Ok(Degrees::new(angle)?)
}

fn longitudinal(material: &Material) -> Result<MillimetresPerMicrosecond, RefractionError> {
    material.longitudinal().ok_or(RefractionError::NoLongitudinalVelocity)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::material::preset;

    const WEDGE: MillimetresPerMicrosecond = MillimetresPerMicrosecond::constant(2.73);

    fn degrees(value: f32) -> Degrees {
        Degrees::new(value).unwrap()
    }

    #[test]
    fn the_critical_angle_itself_is_taken_and_the_next_number_is_not() {
        let steel = preset("steel").unwrap().material;
        let second = second_critical(WEDGE, &steel).unwrap();
        assert!(refracted_shear(second, WEDGE, &steel).unwrap().get() > 89.9);
        let past = degrees(second.get().next_up());
        assert_eq!(
            refracted_shear(past, WEDGE, &steel),
            Err(RefractionError::PastSecondCritical { angle: past, critical: second })
        );
        let first = first_critical(WEDGE, &steel).unwrap();
        assert!(refracted_longitudinal(first, WEDGE, &steel).is_ok());
        let past = degrees(first.get().next_up());
        assert!(matches!(
            refracted_longitudinal(past, WEDGE, &steel),
            Err(RefractionError::PastFirstCritical { critical, .. }) if critical == first
        ));
    }

    #[test]
    fn the_wedge_angle_undoes_the_refracted_angle() {
        let steel = preset("steel").unwrap().material;
        for angle in [1.0, 35.0, 45.0, 60.0, 70.0, 80.0] {
            let there = incident(degrees(angle), WEDGE, steel.shear()).unwrap();
            let back = refracted_shear(there, WEDGE, &steel).unwrap();
            assert!((back.get() - angle).abs() <= 2e-6 * angle);
        }
    }

    #[test]
    fn a_slow_part_has_no_critical_angle_but_a_largest_refracted_one() {
        let copper = preset("copper").unwrap().material;
        assert!(matches!(second_critical(WEDGE, &copper), Err(RefractionError::NoCriticalAngle { .. })));
        assert!(first_critical(WEDGE, &copper).is_ok());
        let Err(RefractionError::BeyondGrazing { largest, .. }) =
            incident(degrees(70.0), WEDGE, copper.shear())
        else {
            panic!("70 degrees cannot be reached in copper");
        };
        assert_eq!(refracted_shear(degrees(90.0), WEDGE, &copper).unwrap(), largest);
    }

    #[test]
    fn what_is_not_known_or_not_an_incidence_is_said() {
        let half_known = Material::new(WEDGE, None, None).unwrap();
        assert_eq!(first_critical(WEDGE, &half_known), Err(RefractionError::NoLongitudinalVelocity));
        assert_eq!(
            std::format!("{}", refracted_shear(degrees(-5.0), WEDGE, &half_known).unwrap_err()),
            "incident angle -5 deg is outside 0 to 90 deg"
        );
    }

    #[test]
    fn a_critical_angle_grazes_forward_or_backward_as_the_beam_runs() {
        for step in 0..200u16 {
            let ratio = 1.05 + f64::from(step) / 100.0;
            let critical = math::asin(1.0 / ratio).unwrap();
            for (sign, grazing) in [(1.0, 90.0), (-1.0, -90.0)] {
                let Ok(Snell::Angle(found)) = snell(degrees(sign * critical), ratio) else {
                    panic!("{ratio}: taken")
                };
                assert!((found.get() - grazing).abs() < 0.1, "{ratio}: {found:?}");
            }
        }
    }
}
