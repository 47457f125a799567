//! Beam spread: where the edges of the beam run for a named drop.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | g | half-angle of the beam, axis to edge | deg |
//! | λ, D | wavelength, dimension of the element in that plane | mm |
//! | k | constant of the drop and the element's shape, [`EdgeDrop`] | – |
//!
//! sin g = k λ / D \[R4\], a law of the far field. The edges of an angle probe are not symmetrical: the beam spreads in
//! the wedge about the angle of incidence, and each edge is refracted by itself, the upper one more.

mod drop;

pub use drop::{Direction, EdgeDrop};

use crate::math;
use crate::physics::probe::{Probe, wavelength};
use crate::physics::refraction::{RefractionError, Snell, ratio, snell};
use crate::units::error::RangeError;
use crate::units::{Degrees, Millimetres, MillimetresPerMicrosecond};

/// Half-angle of the beam, sin g = k λ / D.
///
/// `None` when k λ / D exceeds 1: the element is too small to have an edge at that level, at any angle.
///
/// ```
/// use halfskip::physics::beam::{EdgeDrop, spread};
/// use halfskip::units::Millimetres;
/// let mm = |value| Millimetres::new(value).unwrap();
/// let half_angle = spread(EdgeDrop::PULSE_ECHO_6.round(), mm(1.475), mm(12.0)).unwrap();
/// assert!((half_angle.get() - 3.6).abs() < 0.05);
/// assert_eq!(spread(EdgeDrop::PULSE_ECHO_6.round(), mm(3.0), mm(1.0)), None);
/// ```
#[must_use]
pub fn spread(factor: f32, wavelength: Millimetres, dimension: Millimetres) -> Option<Degrees> {
    if dimension.get() <= 0.0 {
        return None;
    }
    // sin g = k λ / D
    let sine = f64::from(factor) * f64::from(wavelength.get()) / f64::from(dimension.get());
    math::asin(sine).and_then(|angle| Degrees::new(angle).ok())
}

/// One edge of the beam in the plane of incidence.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Edge {
    /// Its refracted angle from the normal; negative when it points behind the probe.
    At(Degrees),
    /// None: past the critical angle, the beam reaches along the surface before it falls by the drop.
    Grazing,
}

impl Edge {
    /// The angle, where there is one.
    #[must_use]
    pub const fn angle(self) -> Option<Degrees> {
        match self {
            Self::At(angle) => Some(angle),
            Self::Grazing => None,
        }
    }
}

/// Both edges in the plane of incidence.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct InPlane {
    /// The steeper one, which meets the far face first.
    pub lower: Edge,
    /// The flatter one, nearer to the scanned face.
    pub upper: Edge,
}

/// The beam's edges for one drop.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Edges {
    /// The axis they lie about, from the normal.
    pub axis: Degrees,
    /// The edges in the plane of incidence; `None` when the wedge's velocity is not known.
    pub in_plane: Option<InPlane>,
    /// Half-angle across the plane of incidence; `None` when the element is too small to have an edge there.
    pub across: Option<Degrees>,
}

/// The edges of a probe's beam about its axis in a part of that shear velocity.
///
/// `axis` is the measured refracted angle, or [`Probe::refracted`] before there is one.
///
/// ```
/// use halfskip::physics::beam::{EdgeDrop, edges};
/// use halfskip::physics::probe::{Element, Probe, ProbeSpec};
/// use halfskip::units::{Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};
/// let probe = Probe::new(ProbeSpec {
///     angle: Degrees::new(60.0).unwrap(),
///     frequency: Megahertz::new(4.0).unwrap(),
///     element: Element::Round { diameter: Millimetres::new(9.0).unwrap() },
///     front: None,
///     wedge: Some(MillimetresPerMicrosecond::new(2.73).unwrap()),
///     wedge_path: None,
///     temperature: None,
/// })
/// .unwrap();
/// let shear = MillimetresPerMicrosecond::new(3.24).unwrap();
/// let beam = edges(probe.refracted(), &probe, shear, EdgeDrop::PULSE_ECHO_6).unwrap();
/// let sides = beam.in_plane.unwrap();
/// let (lower, upper) = (sides.lower.angle().unwrap(), sides.upper.angle().unwrap());
/// assert!(upper.get() - 60.0 > 60.0 - lower.get());
/// ```
///
/// # Errors
/// [`RefractionError::BeyondGrazing`] when this wedge cannot make that angle in this part; [`RefractionError::Range`]
/// outside 0 to 90 degrees.
pub fn edges(
    axis: Degrees,
    probe: &Probe,
    shear: MillimetresPerMicrosecond,
    drop: EdgeDrop,
) -> Result<Edges, RefractionError> {
    let element = probe.element();
    let factor = drop.factor(&element);
    // Refraction keeps the part of the wave vector across the plane of incidence, so the wedge drops out there.
    let across = spread(factor, wavelength(shear, probe.frequency()), element.across());
    let Some(wedge) = probe.wedge() else {
        return Ok(Edges { axis, in_plane: None, across });
    };
    let incident = crate::physics::refraction::incident(axis, wedge, shear)?;
    let half_angle = spread(factor, wavelength(wedge, probe.frequency()), element.in_plane());
    let edge = |sign: f32| match half_angle {
        Some(half_angle) => refract_edge(incident.get() + sign * half_angle.get(), ratio(shear, wedge)),
        None => Ok(Edge::Grazing),
    };
    Ok(Edges { axis, in_plane: Some(InPlane { lower: edge(-1.0)?, upper: edge(1.0)? }), across })
}

fn refract_edge(in_wedge: f32, ratio: f64) -> Result<Edge, RangeError> {
    // A ray more than 90 degrees off the normal never meets the interface.
    if in_wedge.abs() > 90.0 {
        return Ok(Edge::Grazing);
    }
    Ok(match snell(Degrees::new(in_wedge)?, ratio)? {
        Snell::Angle(angle) => Edge::At(angle),
        Snell::Past(_) => Edge::Grazing,
    })
}

/// Distance from axis to edge, square to the axis, at a sound path: s tan(|edge − axis|).
///
/// The edge counts as starting at the index point, which is fair beyond the near field and narrow close to the probe.
/// Common practice, no source. `None` where edge and axis are 90 degrees or more apart.
///
/// ```
/// use halfskip::physics::beam::half_width;
/// use halfskip::units::{Degrees, Millimetres};
/// let degrees = |value| Degrees::new(value).unwrap();
/// let width = half_width(Millimetres::new(40.0).unwrap(), degrees(60.0), degrees(65.0)).unwrap();
/// assert!((width.get() - 3.4995).abs() < 1e-3);
/// assert_eq!(half_width(Millimetres::new(40.0).unwrap(), degrees(60.0), degrees(-30.0)), None);
/// ```
#[must_use]
pub fn half_width(path: Millimetres, axis: Degrees, edge: Degrees) -> Option<Millimetres> {
    let apart = (edge.get() - axis.get()).abs();
    if apart >= 90.0 {
        return None;
    }
    Millimetres::new(path.get() * math::tan(apart)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::probe::{Element, ProbeSpec};
    use crate::units::Megahertz;

    const SHEAR: MillimetresPerMicrosecond = MillimetresPerMicrosecond::constant(3.24);

    fn probe(angle: f32, diameter: f32) -> Probe {
        Probe::new(ProbeSpec {
            angle: Degrees::new(angle).unwrap(),
            frequency: Megahertz::constant(4.0),
            element: Element::Round { diameter: Millimetres::new(diameter).unwrap() },
            front: None,
            wedge: Some(MillimetresPerMicrosecond::constant(2.73)),
            wedge_path: None,
            temperature: None,
        })
        .unwrap()
    }

    fn sides(angle: f32, diameter: f32) -> (Edge, Edge) {
        let probe = probe(angle, diameter);
        let beam = edges(probe.refracted(), &probe, SHEAR, EdgeDrop::PULSE_ECHO_6).unwrap();
        let InPlane { lower, upper } = beam.in_plane.unwrap();
        (lower, upper)
    }

    #[test]
    fn the_flatter_edge_lies_further_from_the_axis_and_more_so_at_higher_angles() {
        let mut last = 1.0;
        for angle in [40.0, 50.0, 60.0, 70.0] {
            let (lower, upper) = sides(angle, 20.0);
            let (lower, upper) = (lower.angle().unwrap(), upper.angle().unwrap());
            let skewness = (upper.get() - angle) / (angle - lower.get());
            assert!(skewness > last, "{angle}: {skewness}");
            last = skewness;
        }
    }

    #[test]
    fn an_upper_edge_past_the_critical_angle_grazes_and_the_lower_one_stays() {
        let (lower, upper) = sides(75.0, 6.0);
        assert_eq!(upper, Edge::Grazing);
        assert!(lower.angle().is_some_and(|angle| angle.get() < 75.0));
    }

    /// Derived: for a wide element the edges follow from the derivative of Snell's law,
    /// db = (c2 cos a / c1 cos b) da.
    #[test]
    fn the_edges_of_a_wide_element_follow_the_derivative_of_refraction() {
        let (b, a) = (
            60.0f32,
            crate::physics::refraction::incident(
                Degrees::constant(60.0),
                MillimetresPerMicrosecond::constant(2.73),
                SHEAR,
            ),
        );
        let a = a.unwrap().get();
        let half = spread(
            EdgeDrop::PULSE_ECHO_6.round(),
            Millimetres::constant(2.73 / 4.0),
            Millimetres::constant(50.0),
        );
        let slope = 3.24 / 2.73 * math::sin_cos(a).1 / math::sin_cos(b).1;
        let (lower, upper) = sides(60.0, 50.0);
        let width = upper.angle().unwrap().get() - lower.angle().unwrap().get();
        assert!((width / (2.0 * half.unwrap().get() * slope) - 1.0).abs() < 2e-3);
    }

    #[test]
    fn without_the_wedge_only_the_spread_across_is_known() {
        let known = probe(60.0, 9.0);
        let unknown = Probe::new(ProbeSpec { wedge: None, ..*known.spec() }).unwrap();
        let beam = |probe| edges(Degrees::constant(60.0), probe, SHEAR, EdgeDrop::PULSE_ECHO_6).unwrap();
        assert_eq!(beam(&unknown).in_plane, None);
        assert_eq!(beam(&unknown).across, beam(&known).across);
    }

    #[test]
    fn a_ray_along_the_interface_still_meets_it_and_one_beyond_does_not() {
        // sin a = 0.5 sin 90°
        let along = refract_edge(90.0, 0.5).unwrap().angle().unwrap();
        assert!((along.get() - 30.0).abs() < 1e-5);
        assert_eq!(refract_edge(100.0, 0.5), Ok(Edge::Grazing));
    }
}
