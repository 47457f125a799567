//! How finely and how fast to scan, and how wide the scanned strip is.

use crate::beam::{EdgeDrop, edges};
use crate::error::{Range, RangeError};
use crate::math;
use crate::part::Legs;
use crate::probe::Probe;
use crate::refraction::RefractionError;
use crate::units::{Degrees, Millimetres, MillimetresPerMicrosecond};

/// How much of the beam's width neighbouring scan lines share. From memory of ASME V article 4, T-471.1, which asks for
/// 10 % of the element's dimension; taken of the beam's width here, which is the narrower near its focus.
pub const OVERLAP: f32 = 0.1;

/// The distance between scan lines, and what it rests on.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Raster {
    /// The step, mm.
    pub step: f32,
    /// The beam's width along the weld there, 6 dB down in pulse echo, mm.
    pub width: f32,
    /// The path at which it was taken, mm: where the beam is narrowest among the paths in use.
    pub path: f32,
    /// Whether the near field left in the part is known; if not, the beam counts as narrowing down to the shortest path.
    pub near_field_known: bool,
}

/// The step between scan lines from the beam's width at the least favourable depth.
///
/// A beam is narrowest at the end of its near field and widens from there: width = 2 s tan g with s the shortest path
/// in use, or the end of the near field left in the part where that is longer, and g the half-angle 6 dB down in pulse
/// echo, across the plane of incidence. Step = 0.9 width, see [`OVERLAP`]. `None` when the element is too small to have
/// an edge.
///
/// # Errors
/// [`RefractionError`] when this wedge cannot make the angle in this part.
///
/// ```
/// use halfskip::plan::raster;
/// use halfskip::probe::{Element, Probe, ProbeSpec};
/// use halfskip::units::{Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let probe = Probe::new(ProbeSpec {
///     angle: Degrees::new(60.0).unwrap(),
///     frequency: Megahertz::new(4.0).unwrap(),
///     element: Element::Round { diameter: mm(9.0) },
///     front: None,
///     wedge: None,
///     wedge_path: None,
///     temperature: None,
/// })
/// .unwrap();
/// let shear = MillimetresPerMicrosecond::new(3.24).unwrap();
/// let raster = raster(&probe, probe.refracted(), shear, mm(40.0)).unwrap().unwrap();
/// // sin g = 0.51 · 0.81 / 9
/// assert!((raster.width - 3.70).abs() < 0.02 && (raster.step - 3.33).abs() < 0.02);
/// ```
pub fn raster(
    probe: &Probe,
    axis: Degrees,
    shear: MillimetresPerMicrosecond,
    shortest: Millimetres,
) -> Result<Option<Raster>, RefractionError> {
    let Some(half) = edges(axis, probe, shear, EdgeDrop::PULSE_ECHO_6)?.across else { return Ok(None) };
    let near_field = probe.near_field(shear)?;
    let end = near_field.map_or(0.0, |near_field| near_field.across.get());
    let path = math::larger(shortest.get(), end);
    // width = 2 s tan g
    let width = 2.0 * path * math::tan(half.get());
    Ok(Some(Raster { step: (1.0 - OVERLAP) * width, width, path, near_field_known: near_field.is_some() }))
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
/// use halfskip::plan::fastest;
/// assert_eq!(fastest(3.0, 500.0, 5.0), Ok(300.0));
/// assert!(fastest(3.0, 0.0, 5.0).is_err());
/// ```
pub fn fastest(step: f32, rate: f32, pulses: f32) -> Result<f32, RangeError> {
    Ok(step * PULSE_RATE.check(rate)? / PULSES.check(pulses)?)
}
