//! An echo seen at the same probe position as another: its ray is not parallel to the axis, so the distance comes from
//! the other echo and only the depth from its own path.

use core::fmt;

use super::{Partials, Place, Position};
use crate::decimal::fixed;
use crate::error::RangeError;
use crate::limits::PATH;
use crate::math;
use crate::path::{Plate, leg_at};
use crate::units::Millimetres;

/// Why a tied echo cannot be placed.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum TiedError {
    /// A value is outside its range.
    Range(RangeError),
    /// The path is shorter than the surface distance that the other echo fixes.
    TooShort {
        /// The path, mm.
        path: f32,
        /// The surface distance, mm.
        distance: f32,
    },
}

impl fmt::Display for TiedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(error) => error.fmt(f),
            Self::TooShort { path, distance } => {
                write!(
                    f,
                    "path {} mm is shorter than the surface distance {} mm",
                    fixed(*path),
                    fixed(*distance)
                )
            }
        }
    }
}

impl core::error::Error for TiedError {}

impl From<RangeError> for TiedError {
    fn from(error: RangeError) -> Self {
        Self::Range(error)
    }
}

/// Places an echo at path `path`, seen together with one whose place `other` (a corner, or the same reflector peaked
/// elsewhere) fixes the surface distance X.
///
/// u = sqrt(s² − X²), unfolded like any depth; dz/ds = ±s / u, dz/dX = ∓X / u \[R4\]. The axis formula would be wrong
/// here: the factors are cos a for echoes peaked apart and 1 / cos a for echoes seen together.
///
/// # Errors
/// [`TiedError`]: path or result out of range, or s ≤ X.
///
/// ```
/// use halfskip::locate::{Position, Side, locate_corner, locate_tied};
/// use halfskip::path::{Axis, Plate};
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let axis = Axis::new(Degrees::new(45.0).unwrap()).unwrap();
/// let plate = Plate::new(mm(25.0)).unwrap();
/// let probe = Position::new(Side::A, mm(0.0), mm(20.0), mm(0.0)).unwrap();
/// // A notch 5 mm high at a surface distance of 20 mm: corner at sqrt(20² + 25²), tip at sqrt(20² + 20²).
/// let corner = locate_corner(&axis, &plate, &probe, mm(32.01562)).unwrap();
/// let tip = locate_tied(&plate, &probe, mm(28.28427), &corner).unwrap();
/// assert!((tip.z.get() - 20.0).abs() < 1e-4);
/// assert!(locate_tied(&plate, &probe, mm(19.0), &corner).is_err());
/// ```
pub fn locate_tied(
    plate: &Plate,
    position: &Position,
    path: Millimetres,
    other: &Place,
) -> Result<Place, TiedError> {
    let s = PATH.check(path.get())?;
    let x = other.distance.get();
    // s² − X² in f64: the two squares may nearly cancel when the echo lies close under the surface.
    let squared = f64::from(s) * f64::from(s) - f64::from(x) * f64::from(x);
    let unfolded = math::sqrt_f64(squared).filter(|unfolded| *unfolded > 0.0);
    let unfolded = unfolded.ok_or(TiedError::TooShort { path: s, distance: x })? as f32;
    let (leg, depth) = leg_at(unfolded, plate.thickness());
    let rising = if leg % 2 == 1 { 1.0 } else { -1.0 };
    // How X depends on the other echo: y = g (−p + e + X cos s_k), so dX/dq = g dy/dq / cos s_k, less p and e.
    let g = position.side.sign();
    let from_other = |partial: f32| rising * (-x / unfolded) * g * partial / position.skew_cos;
    let of_thickness = if leg % 2 == 1 {
        -((leg - 1) as f32)
    } else {
        leg as f32
    };
    let own = s / unfolded;
    let path_of_other = from_other(other.y_partials.path);
    let z_partials = Partials {
        angle: from_other(other.y_partials.angle),
        // Two independent readings of a path: their squares add.
        path: math::sqrt(own * own + path_of_other * path_of_other).unwrap_or(own),
        standoff: 0.0,
        index: 0.0,
        thickness: from_other(other.y_partials.thickness) + of_thickness,
        velocity: rising * own * s + from_other(other.y_partials.velocity),
    };
    let (z, z_partials) = position.counted_from_near(depth, z_partials, plate.thickness());
    Ok(Place {
        leg,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new(unfolded)?,
        z_partials,
        ..*other
    })
}
