//! `path.toml`.

use halfskip::part::Part;
use halfskip::part::locate::{Peaked, Place, Position, Side, locate};
use halfskip::part::path::{Axis, Plate, Unfolded, reach, unfold};
use halfskip::units::Millimetres;

use super::{Asked, OrKind, degrees, from, mm, number};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "leg" => end(case).map(|end| f64::from(end.leg)),
        "depth_mm" => end(case).map(|end| number(end.depth)),
        "surface_mm" => end(case).map(|end| number(end.distance)),
        "unfolded_depth_mm" => end(case).map(|end| number(end.unfolded)),
        "half_skip_mm" => set_up(case).map(|(axis, plate)| number(plate.half_skip(&axis))),
        "leg_length_mm" => set_up(case).map(|(axis, plate)| number(plate.leg_length(&axis))),
        "full_skip_mm" => near_face(case).map(|(_, distance)| number(distance.get())),
        "v_path_mm" => near_face(case).map(|(path, _)| number(path.get())),
        "path_at_depth_mm" => at_depth(case).map(|(path, _)| number(path.get())),
        "surface_at_depth_mm" => at_depth(case).map(|(_, distance)| number(distance.get())),
        "unfolded_at_depth_mm" => unfolded_at_depth(case),
        "beyond_centreline_mm" => place(case).map(|place| number(place.y.get())),
        "short_of_centreline_mm" => place(case).map(|place| -number(place.y.get())),
        "across_mm" => place(case).map(|place| number(place.y.get())),
        "along_mm" => place(case).map(|place| number(place.x.get())),
        _ => return None,
    }))
}

/// The refracted angle, or the arc tangent of the K value by which a source gives it.
fn angle(case: &Case) -> f64 {
    case.find("angle_tan").map_or_else(|| case.number("angle_deg"), |tan| tan.atan().to_degrees())
}

fn set_up(case: &Case) -> Result<(Axis, Plate), &'static str> {
    // A quantity that does not depend on the thickness may leave it out.
    let thickness = case.find("thickness_mm").unwrap_or(1000.0);
    Ok((Axis::new(degrees(angle(case))?).or_kind()?, Plate::new(mm(thickness)?).or_kind()?))
}

/// The path itself, or as the source gives it: an unfolded depth, or a share of the half-skip path.
fn path(case: &Case, axis: &Axis, plate: &Plate) -> Result<Millimetres, &'static str> {
    let cos = number(axis.cos());
    let half = number(plate.leg_length(axis));
    let path = case.find("path_mm");
    let path = path.or_else(|| Some(case.find("unfolded_mm")? / cos));
    mm(path.unwrap_or_else(|| case.number("half_skips") * half))
}

fn end(case: &Case) -> Result<Unfolded, &'static str> {
    let (axis, plate) = set_up(case)?;
    unfold(&axis, &plate, path(case, &axis, &plate)?).or_kind()
}

fn near_face(case: &Case) -> Result<(Millimetres, Millimetres), &'static str> {
    let (axis, plate) = set_up(case)?;
    reach(&axis, &plate, 2, mm(0.0)?).or_kind()
}

fn at_depth(case: &Case) -> Result<(Millimetres, Millimetres), &'static str> {
    let (axis, plate) = set_up(case)?;
    reach(&axis, &plate, case.number("leg") as u32, mm(case.number("depth_mm"))?).or_kind()
}

fn unfolded_at_depth(case: &Case) -> Asked {
    let (axis, plate) = set_up(case)?;
    let (path, _) = at_depth(case)?;
    Ok(number(unfold(&axis, &plate, path).or_kind()?.unfolded))
}

/// The place of the echo from side A; stand-off and skew are 0 where the case does not say.
fn place(case: &Case) -> Result<Place, &'static str> {
    let (axis, plate) = set_up(case)?;
    let path = path(case, &axis, &plate)?;
    let standoff = mm(case.find("standoff_mm").unwrap_or(0.0))?;
    let skew = degrees(case.find("skew_deg").unwrap_or(0.0))?;
    let position = Position::new(Side::A, mm(0.0)?, standoff, mm(0.0)?).or_kind()?;
    locate(&axis, &Part::Flat(plate), &position.skewed(skew).or_kind()?, path, Peaked::Axis).or_kind()
}
