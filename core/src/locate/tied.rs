//! An echo seen at the same probe position as another: its ray is not parallel to the axis, so the distance comes from
//! the other echo and only the depth from its own path.

use core::fmt;

use super::{Partials, Place, Position};
use crate::decimal::fixed;
use crate::error::RangeError;
use crate::limits::{DISTANCE, PATH};
use crate::math;
use crate::path::{Axis, Plate, leg_at};
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

/// The surface distance of an echo, known from another observation of the same reflector.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct KnownDistance {
    pub(super) distance: f32,
    /// How the distance depends on the other observation.
    pub(super) partials: Partials,
    pub(super) y: Millimetres,
    pub(super) y_partials: Partials,
}

impl KnownDistance {
    /// From the corner echo seen at the very same probe position: stand-off and index drop out.
    #[must_use]
    pub fn from_corner(position: &Position, corner: &Place) -> Self {
        let apart = Partials { standoff: 0.0, index: 0.0, ..Self::of_y(position, corner) };
        Self { distance: corner.distance.get(), partials: apart, y: corner.y, y_partials: corner.y_partials }
    }

    /// From the reflector's place as peaked elsewhere: X = (g y + p − e) / cos s_k, with the two stand-offs read apart.
    ///
    /// Its index error is that of the same probe, or of another one and then independent.
    #[must_use]
    pub fn from_place(position: &Position, place: &Place, same_probe: bool) -> Self {
        let other = Self::of_y(position, place);
        let own = 1.0 / position.skew_cos;
        let apart = |part: f32| math::sqrt(part * part + own * own).unwrap_or(own);
        let index = if same_probe { other.index - own } else { apart(other.index) };
        let standoff = apart(other.standoff);
        let distance = position.distance_to(place.y) / position.skew_cos;
        Self {
            distance,
            partials: Partials { standoff, index, ..other },
            y: place.y,
            y_partials: place.y_partials,
        }
    }

    /// y = g (−p + e + X cos s_k), so ∂X/∂q = g ∂y/∂q / cos s_k.
    fn of_y(position: &Position, place: &Place) -> Partials {
        let scale = position.side.sign() / position.skew_cos;
        place.y_partials.scaled(scale)
    }
}

/// Places an echo at path `path` whose surface distance X is known from another observation.
///
/// u = sqrt(s² − X²), unfolded like any depth; dz/ds = ±s / u, dz/dX = ∓X / u \[R4\]. The axis formula would be wrong
/// here: the factors are cos a for echoes peaked apart and 1 / cos a for echoes seen together.
///
/// # Errors
/// [`TiedError`]: path, X or result out of range, or s ≤ X.
///
/// ```
/// use halfskip::locate::{KnownDistance, Position, Side, locate_corner, locate_tied};
/// use halfskip::path::{Axis, Plate};
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let axis = Axis::new(Degrees::new(45.0).unwrap()).unwrap();
/// let plate = Plate::new(mm(25.0)).unwrap();
/// let probe = Position::new(Side::A, mm(0.0), mm(20.0), mm(0.0)).unwrap();
/// // A notch 5 mm high at a surface distance of 20 mm: corner at sqrt(20² + 25²), tip at sqrt(20² + 20²).
/// let corner = locate_corner(&axis, &plate, &probe, mm(32.01562)).unwrap();
/// let distance = KnownDistance::from_corner(&probe, &corner);
/// let tip = locate_tied(&axis, &plate, &probe, mm(28.28427), &distance).unwrap();
/// assert!((tip.z.get() - 20.0).abs() < 1e-4);
/// assert!(locate_tied(&axis, &plate, &probe, mm(19.0), &distance).is_err());
/// ```
pub fn locate_tied(
    axis: &Axis,
    plate: &Plate,
    position: &Position,
    path: Millimetres,
    known: &KnownDistance,
) -> Result<Place, TiedError> {
    let s = PATH.check(path.get())?;
    // A reflector behind the probe is none that its beam meets.
    let x = DISTANCE.check(known.distance)?;
    // s² − X² in f64: the two squares may nearly cancel when the echo lies close under the surface.
    let squared = f64::from(s) * f64::from(s) - f64::from(x) * f64::from(x);
    let unfolded = math::sqrt_f64(squared).filter(|unfolded| *unfolded > 0.0);
    let unfolded = unfolded.ok_or(TiedError::TooShort { path: s, distance: x })? as f32;
    let (leg, depth) = leg_at(unfolded, plate.thickness());
    let rising = if leg % 2 == 1 { 1.0 } else { -1.0 };
    let own = rising * s / unfolded;
    let from_distance = known.partials.scaled(-rising * x / unfolded);
    let of_thickness = if leg % 2 == 1 { 1.0 - leg as f32 } else { leg as f32 };
    let z_partials = Partials {
        // Two independent readings of a path: their squares add.
        path: math::sqrt(own * own + from_distance.path * from_distance.path).unwrap_or(own.abs()),
        thickness: from_distance.thickness + of_thickness,
        velocity: from_distance.velocity + own * s,
        ..from_distance
    };
    let (z, z_partials) = position.counted_from_near(depth, z_partials, plate.thickness());
    Ok(Place {
        leg,
        x: position.along(x)?,
        y: known.y,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new(s * axis.cos())?,
        distance: Millimetres::new(x)?,
        y_partials: known.y_partials,
        z_partials,
    })
}

#[cfg(test)]
mod tests {
    use super::super::locate;
    use super::*;
    use crate::side::Side;
    use crate::units::Degrees;

    fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    fn probe() -> (Axis, Plate, Position) {
        let axis = Axis::new(Degrees::constant(45.0)).unwrap();
        let position = Position::new(Side::A, mm(0.0), mm(30.0), mm(0.0)).unwrap();
        (axis, Plate::new(mm(25.0)).unwrap(), position)
    }

    #[test]
    fn a_skewed_beam_is_as_much_longer_as_its_skew_takes_off() {
        let (axis, plate, position) = probe();
        let skewed = position.skewed(Degrees::constant(60.0)).unwrap();
        let place = locate(&axis, &plate, &position, mm(40.0)).unwrap();
        let known = KnownDistance::from_place(&skewed, &place, true);
        // 40 sin 45° / cos 60°; the place's own stand-off counts twice in 1 / cos 60°, as this one's does.
        assert!((known.distance - 56.569).abs() < 1e-3, "{}", known.distance);
        assert!((known.partials.standoff - 2.0 * core::f32::consts::SQRT_2).abs() < 1e-6, "{known:?}");
        assert!(known.partials.index.abs() < 1e-6);
    }

    #[test]
    fn a_tip_no_further_than_its_surface_distance_has_no_depth() {
        let (axis, plate, position) = probe();
        let partials = Partials::default();
        let known = KnownDistance { distance: 20.0, partials, y: mm(0.0), y_partials: partials };
        let at = |path| locate_tied(&axis, &plate, &position, mm(path), &known);
        assert_eq!(at(20.0), Err(TiedError::TooShort { path: 20.0, distance: 20.0 }));
        // √(25² − 20²)
        assert!((at(25.0).unwrap().z.get() - 15.0).abs() < 1e-5);
    }
}
