//! How finely and how fast to scan, and how wide the scanned strip is.

use crate::math;
use crate::part::Legs;
use crate::physics::beam::{EdgeDrop, edges};
use crate::physics::probe::{Probe, near_field_round_short, wavelength};
use crate::physics::refraction::RefractionError;
use crate::units::error::{Range, RangeError};
use crate::units::{Degrees, Millimetres, MillimetresPerMicrosecond};

/// How much of the beam's width neighbouring scan lines share. From memory of ASME V article 4, T-471.1, which asks for
/// 10 % of the element's dimension; taken of the beam's width here, which is the narrower near its focus.
pub const OVERLAP: f32 = 0.1;

/// The distance between scan lines, and what it rests on.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Raster {
    /// The step, mm.
    pub step: f32,
    /// The beam's width along the weld there, 6 dB down in pulse echo, mm.
    pub width: f32,
    /// The path at which it was taken, mm; `None` at the end of the near field, when how much of that lies in the part is
    /// not known.
    pub path: Option<f32>,
}

/// The step between scan lines from the beam's width at the least favourable depth.
///
/// A beam is narrowest at the end of its near field, N = D² / 4λ from the element with D its dimension across the plane
/// of incidence, and widens from there: width = 2 s tan g with s counted from the element and g the half-angle 6 dB down
/// in pulse echo. Where the shortest path in use lies beyond, with the wedge's share w c_wedge / c_part before it, that
/// path counts; where the wedge is not known, the narrowest place does. Step = 0.9 width, see [`OVERLAP`]. `None` when
/// the element is too small to have an edge.
///
/// # Errors
/// [`RefractionError`] when this wedge cannot make the angle in this part.
///
/// ```
/// use halfskip::planning::plan::raster;
/// use halfskip::physics::probe::{Element, Probe, ProbeSpec};
/// use halfskip::units::{Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let spec = ProbeSpec {
///     angle: Degrees::new(60.0).unwrap(),
///     frequency: Megahertz::new(4.0).unwrap(),
///     element: Element::Round { diameter: mm(9.0) },
///     front: None,
///     wedge: Some(MillimetresPerMicrosecond::new(2.7).unwrap()),
///     wedge_path: Some(mm(12.0)),
///     temperature: None,
/// };
/// let shear = MillimetresPerMicrosecond::new(3.24).unwrap();
/// let step = |spec, path| {
///     let probe = Probe::new(spec).unwrap();
///     raster(&probe, probe.refracted(), shear, mm(path)).unwrap().unwrap()
/// };
/// // N = 9² / (4 · 0.81) = 25 mm, tan g = 0.0462; the wedge counts as 10 mm.
/// assert!((step(spec, 5.0).width - 2.31).abs() < 0.02);
/// assert!((step(spec, 40.0).width - 4.62).abs() < 0.04);
/// assert_eq!(step(spec, 5.0).path, Some(15.0));
/// let unknown = step(ProbeSpec { wedge_path: None, ..spec }, 40.0);
/// assert!((unknown.width - 2.31).abs() < 0.02 && unknown.path.is_none());
/// ```
pub fn raster(
    probe: &Probe,
    axis: Degrees,
    shear: MillimetresPerMicrosecond,
    shortest: Millimetres,
) -> Result<Option<Raster>, RefractionError> {
    let Some(half) = edges(axis, probe, shear, EdgeDrop::PULSE_ECHO_6)?.across else { return Ok(None) };
    let wavelength = wavelength(shear, probe.frequency());
    let narrowest = near_field_round_short(probe.element().across(), wavelength)?.get();
    let wedge = probe.wedge().zip(probe.spec().wedge_path);
    // w c_wedge / c_part
    let wedge = wedge.map(|(velocity, path)| path.get() * velocity.get() / shear.get());
    let from_element = match wedge {
        Some(wedge) => math::larger(shortest.get() + wedge, narrowest),
        None => narrowest,
    };
    // width = 2 s tan g
    let width = 2.0 * from_element * math::tan(half.get());
    let path = wedge.map(|wedge| math::larger(from_element - wedge, shortest.get()));
    Ok(Some(Raster { step: (1.0 - OVERLAP) * width, width, path }))
}

/// The width of the strip to scan on each side, 1.25 times the full skip, from memory of ISO 17640 \[R1\].
#[must_use]
pub fn scan_width(legs: &Legs) -> f32 {
    1.25 * 2.0 * legs.half_skip()
}

const PULSE_RATE: Range = Range { quantity: "pulse rate", unit: "Hz", min: 1.0, max: 100_000.0 };
const PULSES: Range = Range { quantity: "pulses a step", unit: "", min: 1.0, max: 1_000.0 };

/// The highest scanning speed, mm/s, at which so many pulses fall on each step: step · rate / pulses.
///
/// # Errors
/// [`RangeError`] for a rate outside 1 to 100 000 Hz or a count outside 1 to 1000.
///
/// ```
/// use halfskip::planning::plan::fastest;
/// assert_eq!(fastest(3.0, 500.0, 5.0), Ok(300.0));
/// assert!(fastest(3.0, 0.0, 5.0).is_err());
/// ```
pub fn fastest(step: f32, rate: f32, pulses: f32) -> Result<f32, RangeError> {
    Ok(step * PULSE_RATE.check(rate)? / PULSES.check(pulses)?)
}
