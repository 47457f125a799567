//! A corner echo's place: thickness and path fix it, the angle drops out.

use super::{Partials, Place, Position};
use crate::path::{Axis, CornerError, Plate, corner};
use crate::units::Millimetres;

/// Places a peaked corner echo.
///
/// n = the whole number nearest u / t, at least 1. Odd n: far face, z = t; even n: near face, z = 0.
/// distance = sqrt(s² − (n t)²), y = g (−p + e + distance cos s_k). Partials: s / distance for the path, −n² t / distance
/// for the thickness, none for the angle \[R4\].
///
/// # Errors
/// [`CornerError`]: path out of range, or s ≤ n t.
///
/// ```
/// use halfskip::locate::{Position, Side, locate_corner};
/// use halfskip::path::{Axis, Plate};
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = Millimetres::new;
/// let axis = Axis::new(Degrees::new(60.0)?)?;
/// let plate = Plate::new(mm(16.0)?)?;
/// let probe = Position::new(Side::B, mm(0.0)?, mm(30.0)?, mm(0.0)?)?;
/// let place = locate_corner(&axis, &plate, &probe, mm(34.0)?)?;
/// assert_eq!((place.y.get(), place.z.get()), (0.0, 16.0));
/// assert!(locate_corner(&axis, &plate, &probe, mm(15.0)?).is_err());
/// # Ok::<(), halfskip::path::CornerError>(())
/// ```
pub fn locate_corner(
    axis: &Axis,
    plate: &Plate,
    position: &Position,
    path: Millimetres,
) -> Result<Place, CornerError> {
    let end = corner(axis, plate, path)?;
    let (n, t, s, g) = (end.leg as f32, plate.thickness(), path.get(), position.side.sign());
    let distance_per_path = s / end.distance;
    let y_partials = Partials {
        angle: 0.0,
        path: g * distance_per_path * position.skew_cos,
        standoff: -g,
        index: g,
        thickness: -g * (n * n * t / end.distance) * position.skew_cos,
        velocity: g * distance_per_path * position.skew_cos * s,
    };
    let odd = end.leg % 2 == 1;
    let (depth, per_thickness) = if odd { (t, 1.0) } else { (0.0, 0.0) };
    let z_partials = Partials { thickness: per_thickness, ..Partials::default() };
    let (z, z_partials) = position.counted_from_near(depth, z_partials, t);
    Ok(Place {
        leg: end.leg,
        x: position.along(end.distance)?,
        y: position.across(end.distance)?,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new(s * axis.cos())?,
        distance: Millimetres::new(end.distance)?,
        y_partials,
        z_partials,
    })
}
