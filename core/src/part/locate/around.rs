//! Places on a curved part, the beam running around its circumference.
//!
//! y is measured along the scanned surface, as the stand-off is, and z along the radius, from the scanned face. A
//! reading from the opposite face has its stand-off along that one; its arcs are scaled to the scanned face by κ, the
//! ratio of the radii: y = g κ (−p + e + arc).

use super::{Partials, Place, Position, SeenTogether};
use crate::math::{self, RADIANS_PER_DEGREE};
use crate::part::curved::{self, Course, CurvedError, Pipe, Slopes};
use crate::part::path::Axis;
use crate::part::side::Face;
use crate::units::Millimetres;

/// The pipe as the probe meets it, and κ with its change per millimetre of thickness.
struct Met {
    pipe: Pipe,
    scale: f64,
    of_scale: f64,
}

impl Met {
    fn new(pipe: &Pipe, face: Face) -> Self {
        match face {
            Face::Near => Self { pipe: *pipe, scale: 1.0, of_scale: 0.0 },
            Face::Far => {
                let met = pipe.turned();
                // κ = near / far, and the bore's radius is what the thickness moves
                let (near, far) = (pipe.scanned(), pipe.other());
                let of_scale = if pipe.inward() < 0.0 { near / (far * far) } else { -1.0 / far };
                Self { pipe: met, scale: near / far, of_scale }
            }
        }
    }

    /// y = g κ (−p + e + arc) and its partials; `of_arc` holds the arc's own.
    fn across(&self, position: &Position, arc: f64, of_arc: &Partials) -> (f32, Partials) {
        let g = f64::from(position.side.sign());
        let ahead = f64::from(position.index) - f64::from(position.standoff) + arc;
        let factor = (g * self.scale) as f32;
        let mut partials = of_arc.scaled(factor);
        partials.standoff = -factor;
        partials.index = factor;
        partials.thickness += (g * self.of_scale * ahead) as f32;
        ((g * self.scale * ahead) as f32, partials)
    }
}

/// Partials from slopes: the angle in degrees, the velocity as the path times its partial and the angle's times its
/// tangent.
fn partials(
    pipe: &Pipe,
    slopes: &Slopes,
    per_path: f64,
    per_angle: f64,
    (path, tan): (f64, f64),
) -> Partials {
    Partials {
        angle: per_angle as f32 * RADIANS_PER_DEGREE,
        path: per_path as f32,
        standoff: 0.0,
        index: 0.0,
        thickness: pipe.per_thickness(slopes) as f32,
        velocity: (per_path * path + per_angle * tan) as f32,
    }
}

/// An echo on the beam's axis.
///
/// A skewed beam keeps its direction along the pipe at every face, so that its cross-section is an unskewed beam: with
/// f = √(1 − sin² a sin² s_k) the path there is s f, its angle has the sine sin a cos s_k / f, and x = x_probe + s sin a
/// sin s_k.
pub(super) fn on_axis(
    axis: &Axis,
    pipe: &Pipe,
    position: &Position,
    path: Millimetres,
) -> Result<Place, CurvedError> {
    let s = f64::from(crate::units::limits::PATH.check(path.get())?);
    let met = Met::new(pipe, position.face);
    let (sin, cos) = math::sin_cos_f64(axis.angle().get());
    let (skew_sin, skew_cos) = (f64::from(position.skew_sin), f64::from(position.skew_cos));
    let f = math::sqrt_f64(1.0 - sin * sin * skew_sin * skew_sin).unwrap_or(1.0);
    let end = Course::turned(sin * skew_cos / f, cos / f, &met.pipe).trace(s * f);
    let told = |slopes: &Slopes| {
        // d(s f)/da = −s sin a cos a sin² s_k / f; the angle in the cross-section turns by cos s_k / f² per unit
        let per_angle =
            slopes.path * s * -(sin * cos * skew_sin * skew_sin / f) + slopes.angle * skew_cos / (f * f);
        partials(&met.pipe, slopes, slopes.path * f, per_angle, (s, sin / cos))
    };
    let (y, y_partials) = met.across(position, end.arc, &told(&end.of_arc));
    let thickness = pipe.thickness();
    let (z, z_partials) = position.counted_from_near(end.depth as f32, told(&end.of_depth), thickness);
    let along = s * sin * skew_sin;
    let distance = math::sqrt_f64(end.arc * end.arc + along * along).unwrap_or(end.arc);
    Ok(Place {
        leg: end.leg,
        x: Millimetres::new(position.x + along as f32)?,
        y: Millimetres::new(y)?,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new((s * cos) as f32)?,
        distance: Millimetres::new(distance as f32)?,
        y_partials,
        z_partials,
    })
}

/// A corner echo, the probe square to the weld: thickness and path fix it, the angle only counts the legs.
pub(super) fn corner(
    axis: &Axis,
    pipe: &Pipe,
    position: &Position,
    path: Millimetres,
) -> Result<Place, CurvedError> {
    let met = Met::new(pipe, position.face);
    let end = curved::corner(&Course::new(axis, &met.pipe), path)?;
    let s = f64::from(path.get());
    let of_arc = partials(&met.pipe, &end.of_arc, end.of_arc.path, 0.0, (s, 0.0));
    let (y, y_partials) = met.across(position, end.arc, &of_arc);
    let (z, z_partials) = position.at_face(end.opposite, pipe.thickness());
    Ok(Place {
        leg: end.leg,
        x: Millimetres::new(position.x)?,
        y: Millimetres::new(y)?,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new(path.get() * axis.cos())?,
        distance: Millimetres::new(end.arc as f32)?,
        y_partials,
        z_partials,
    })
}

/// An echo whose surface distance is known from another one of the same reflector, the probe square to the weld.
pub(super) fn together(
    axis: &Axis,
    pipe: &Pipe,
    position: &Position,
    path: Millimetres,
    known: &SeenTogether,
) -> Result<Place, CurvedError> {
    let met = Met::new(pipe, position.face);
    // y = g κ (−p + e + arc) solved for the arc
    let (g, y) = (f64::from(position.side.sign()), f64::from(known.y.get()));
    let ahead = g * y / met.scale;
    let arc = ahead + f64::from(position.standoff) - f64::from(position.index);
    let tip = curved::together(&Course::new(axis, &met.pipe), path, arc)?;
    let s = path.get();
    let from_arc = known.partials.scaled((tip.per_arc / met.scale) as f32);
    let mut of_depth = from_arc.with_path(tip.of_depth.path as f32, s);
    of_depth.thickness += met.pipe.per_thickness(&tip.of_depth) as f32;
    of_depth.thickness -= (tip.per_arc * ahead * met.of_scale / met.scale) as f32;
    let (z, z_partials) = position.counted_from_near(tip.depth as f32, of_depth, pipe.thickness());
    Ok(Place {
        leg: tip.leg,
        x: Millimetres::new(position.x)?,
        y: known.y,
        z: Millimetres::new(z)?,
        unfolded: Millimetres::new(s * axis.cos())?,
        distance: Millimetres::new(arc as f32)?,
        y_partials: known.y_partials,
        z_partials,
    })
}

#[cfg(test)]
mod tests {
    use super::super::Side;
    use super::*;
    use crate::part::joint::ScannedFrom;
    use crate::units::Degrees;

    fn mm(value: f32) -> Millimetres {
        Millimetres::new(value).unwrap()
    }

    #[test]
    fn a_tied_tip_moves_with_thickness_and_place_as_its_partials_say() {
        // Its y is known from the other face, whose arcs are as much longer as its radius is.
        for (face, from, side, standoff, y, path) in [
            (Face::Far, ScannedFrom::Outside, Side::A, 20.0, -6.0, 19.0),
            (Face::Far, ScannedFrom::Inside, Side::B, 20.0, 5.0, 20.0),
            (Face::Near, ScannedFrom::Outside, Side::A, 20.0, -6.0, 19.0),
        ] {
            let at = |thickness: f32, y: f32| {
                let axis = Axis::new(Degrees::constant(45.0)).unwrap();
                let pipe = Pipe::new(mm(200.0), mm(20.0 + thickness), from).unwrap();
                let position = Position::new(side, mm(0.0), mm(standoff), mm(0.0)).unwrap().on(face);
                // What an error of 1 degree does elsewhere moves the reflector by 1 mm in the direction of the beam.
                let partials = Partials { angle: 1.0, ..Partials::default() };
                let (y, y_partials) = (mm(y), Partials::default());
                let known = SeenTogether { distance: 0.0, partials, y, y_partials };
                together(&axis, &pipe, &position, mm(path), &known).unwrap()
            };
            let (found, step) = (at(0.0, y), 0.0625);
            let slope = |up: Place, down: Place| (up.z.get() - down.z.get()) / (2.0 * step);
            let of_thickness = slope(at(step, y), at(-step, y));
            let of_y = side.sign() * slope(at(0.0, y + step), at(0.0, y - step));
            let partials = found.z_partials;
            assert!((partials.thickness - of_thickness).abs() < 2e-3, "{partials:?} {of_thickness}");
            assert!((partials.angle - of_y).abs() < 2e-3, "{partials:?} {of_y}");
        }
    }
}
