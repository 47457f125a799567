//! The distance-amplitude curve (DAC): the gain a reference reflector needs at each sound path.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | s | sound path, as shown on the time base | mm |
//! | h, G | height of the reference echo and the gain it was recorded at | %, dB |
//! | H_ref | reference height | % |
//! | G_ref(s) | gain that brings the reference reflector at path s to H_ref | dB |
//!
//! A point gives `G_ref = G + 20 log10(H_ref / h)`. Between points G_ref runs straight in dB against path, as echo
//! heights on a screen with a decibel scale do \[R2\]. A curve holds G_ref, not heights, so a look-up takes no
//! logarithm.
//!
//! Points may be entered in any order: they are kept sorted by path, and the order of entry changes no result.

use core::cmp::Ordering;
use core::fmt;

use heapless::Vec;

use crate::math;
use crate::math::line::Line;
use crate::physics::decibels::{self, DecibelsError};
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};
use crate::units::limits::PATH;
use crate::units::{Decibels, Millimetres, ScreenPercent};

/// One recorded reference echo.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct DacPoint {
    /// Sound path to the reflector, as the time base shows it.
    pub path: Millimetres,
    /// Height of its echo; one that left the screen is no reference.
    pub height: ScreenPercent,
    /// The instrument's gain at that height.
    pub gain: Decibels,
}

/// What a curve answers outside its recorded paths.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Beyond {
    /// Nothing: there is no reference out there.
    #[default]
    Refuse,
    /// The gain of the nearest end point.
    Hold,
    /// A straight line from the nearest end point, with the slope of the least-squares line through all points.
    Slope,
}

/// How a reference gain was come by; a finding that rests on it says so.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub enum How {
    /// At a recorded point, or straight in dB between two.
    Between,
    /// From the only point, taken as the reference at every path.
    Flat,
    /// Outside the recorded paths, the nearest end's gain.
    Held,
    /// Outside the recorded paths, along the fitted slope.
    Sloped,
}

/// The gain that brings the reference reflector to the reference height, and how it was come by.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct ReferenceGain {
    /// G_ref at the path asked for.
    pub gain: Decibels,
    /// How it was come by.
    pub how: How,
}

/// Why a curve takes no point or gives no gain.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum CurveError {
    /// No reference point has been recorded.
    Empty,
    /// The path lies outside the recorded ones, and [`Beyond::Refuse`] was asked for.
    Outside {
        /// The path asked for.
        path: Millimetres,
        /// The shortest recorded path.
        min: Millimetres,
        /// The longest recorded path.
        max: Millimetres,
    },
    /// A point at this path is already there.
    Duplicate {
        /// The path given twice.
        path: Millimetres,
    },
    /// The curve holds as many points as it can.
    Full {
        /// How many that is.
        capacity: usize,
    },
    /// An echo or a reference height of zero is no reference.
    NoHeight,
    /// A path or a gain outside its range.
    Range(RangeError),
}

impl fmt::Display for CurveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("no reference point has been recorded"),
            Self::Outside { path, min, max } => write!(
                f,
                "path {} mm is outside the curve's {} to {} mm",
                fixed(path.get()),
                fixed(min.get()),
                fixed(max.get())
            ),
            Self::Duplicate { path } => {
                write!(f, "the curve already has a point at path {} mm", fixed(path.get()))
            }
            Self::Full { capacity } => write!(f, "the curve is full: it holds {capacity} points"),
            Self::NoHeight => f.write_str("a height of 0 % is no reference"),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(CurveError: Range(RangeError));

impl From<DecibelsError> for CurveError {
    fn from(error: DecibelsError) -> Self {
        match error {
            DecibelsError::Range(error) => Self::Range(error),
            _ => Self::NoHeight,
        }
    }
}

/// A distance-amplitude curve of at most `N` points, sorted by path.
///
/// ```
/// use halfskip::calibration::curve::{Beyond, CurveError, Dac, DacPoint};
/// use halfskip::units::{Decibels, Millimetres, ScreenPercent};
/// let mut dac: Dac = Dac::new(ScreenPercent::new(80.0)?);
/// for (path, height, gain) in [(60.0, 80.0, 44.0), (30.0, 80.0, 38.0)] {
///     dac.insert(DacPoint {
///         path: Millimetres::new(path)?,
///         height: ScreenPercent::new(height)?,
///         gain: Decibels::new(gain)?,
///     })?;
/// }
/// let between = dac.gain_at(Millimetres::new(45.0)?, Beyond::Refuse)?;
/// assert_eq!(between.gain.get(), 41.0);
/// let outside = dac.gain_at(Millimetres::new(75.0)?, Beyond::Refuse);
/// assert!(matches!(outside, Err(CurveError::Outside { .. })));
/// # Ok::<(), CurveError>(())
/// ```
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Dac<const N: usize = 16> {
    reference: ScreenPercent,
    points: Vec<CurvePoint, N>,
}

/// A point of the curve: path and the gain that brings the reference reflector there to the reference height.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct CurvePoint {
    /// Sound path.
    pub path: Millimetres,
    /// G_ref at that path.
    pub gain: Decibels,
}

impl<const N: usize> Dac<N> {
    /// A curve without points, for the given reference height H_ref.
    #[must_use]
    pub const fn new(reference: ScreenPercent) -> Self {
        Self { reference, points: Vec::new() }
    }

    /// Takes a recorded reference echo; the points may come in any order.
    ///
    /// # Errors
    /// [`CurveError::Duplicate`] for a path that is there already, [`CurveError::Full`],
    /// [`CurveError::NoHeight`] for a height or reference height of zero, [`CurveError::Range`] for a path outside
    /// [`PATH`]. A refused point changes nothing.
    pub fn insert(&mut self, point: DacPoint) -> Result<(), CurveError> {
        PATH.check(point.path.get())?;
        if self.points.iter().any(|held| held.path == point.path) {
            return Err(CurveError::Duplicate { path: point.path });
        }
        if self.points.is_full() {
            return Err(CurveError::Full { capacity: N });
        }
        // G_ref = G + 20 log10(H_ref / h)
        let lift = decibels::above(self.reference, point.height)?;
        let gain = Decibels::new(point.gain.get() + lift.get())?;
        let mut carried = CurvePoint { path: point.path, gain };
        // Each longer path moves one place on, so the points stay sorted.
        for held in &mut self.points {
            if carried.path < held.path {
                core::mem::swap(held, &mut carried);
            }
        }
        self.points.push(carried).map_err(|_| CurveError::Full { capacity: N })
    }

    /// The reference gain at a path. The paths of the first and last point are inside.
    ///
    /// A single point is a flat reference: it answers at every path, whatever `beyond` says.
    ///
    /// # Errors
    /// [`CurveError::Empty`], [`CurveError::Outside`] under [`Beyond::Refuse`], [`CurveError::Range`] for a path
    /// outside [`PATH`] or a slope that leaves the range of gains.
    pub fn gain_at(&self, path: Millimetres, beyond: Beyond) -> Result<ReferenceGain, CurveError> {
        let s = PATH.check(path.get())?;
        let (first, last) = match self.points.as_slice() {
            [] => return Err(CurveError::Empty),
            [only] => {
                return Ok(ReferenceGain { gain: only.gain, how: How::Flat });
            }
            [first, .., last] => (first, last),
        };
        // Paths are above 0, and such numbers stand in the order of their bits.
        let at = |point: &CurvePoint| point.path.get().to_bits();
        let mut below = None;
        for above in &self.points {
            match (at(above).cmp(&s.to_bits()), below) {
                (Ordering::Less, _) => below = Some(above),
                (Ordering::Equal, _) => return Ok(ReferenceGain { gain: above.gain, how: How::Between }),
                (Ordering::Greater, Some(below)) => {
                    return Ok(ReferenceGain { gain: between(below, above, s)?, how: How::Between });
                }
                (Ordering::Greater, None) => break,
            }
        }
        let end = if path < first.path { first } else { last };
        match beyond {
            Beyond::Refuse => Err(CurveError::Outside { path, min: first.path, max: last.path }),
            Beyond::Hold => Ok(ReferenceGain { gain: end.gain, how: How::Held }),
            Beyond::Slope => {
                let slope = self.slope().unwrap_or(0.0);
                // G_ref(s) = G_ref(s_end) + slope · (s − s_end)
                let gain = Decibels::new(end.gain.get() + slope * (s - end.path.get()))?;
                Ok(ReferenceGain { gain, how: How::Sloped })
            }
        }
    }

    /// The slope of the least-squares line of G_ref against path through all points, dB/mm; `None` below two points.
    #[must_use]
    pub fn slope(&self) -> Option<f32> {
        let line = Line::through(
            self.points.iter().map(|point| (f64::from(point.path.get()), f64::from(point.gain.get()))),
        )?;
        Some(line.slope() as f32)
    }

    /// The points in order of path.
    pub fn points(&self) -> impl ExactSizeIterator<Item = CurvePoint> + Clone + '_ {
        self.points.iter().copied()
    }

    /// The reference height H_ref.
    #[must_use]
    pub const fn reference(&self) -> ScreenPercent {
        self.reference
    }
}

/// G_ref straight in dB between two points.
fn between(below: &CurvePoint, above: &CurvePoint, s: f32) -> Result<Decibels, RangeError> {
    let (from, to) = (below.gain.get(), above.gain.get());
    // G_ref(s) = G1 + (G2 − G1) · (s − s1) / (s2 − s1)
    let share = (s - below.path.get()) / (above.path.get() - below.path.get());
    let gain = from + (to - from) * share;
    // Rounding may pass the far point by one unit; held to it, the curve stays monotone where its points are.
    Decibels::new(if to >= from { math::smaller(gain, to) } else { math::larger(gain, to) })
}

#[cfg(test)]
mod tests;
