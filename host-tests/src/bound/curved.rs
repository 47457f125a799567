//! `curved.toml`.

use halfskip::part::curved::{Course, Pipe, deepest_point};
use halfskip::part::joint::ScannedFrom;
use halfskip::part::path::{Axis, Unfolded};
use halfskip::units::Millimetres;

use super::{Asked, OrKind, alternative, degrees, from, mm, number};
use crate::vectors::{Answer, Case};

const INCH: f64 = 25.4;

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "largest_angle_deg" => largest(case),
        "deepest_point_mm" => deepest(case),
        "angle_at_far_face_deg" => at_far_face(case),
        "leg_length_in" => course(case).map(|course| number(course.leg_length()) / INCH),
        "half_skip_arc_in" => course(case).map(|course| number(course.half_skip()) / INCH),
        "curved_leg_length_mm" => course(case).map(|course| number(course.leg_length())),
        "half_skip_arc_mm" => course(case).map(|course| number(course.half_skip())),
        "curved_depth_mm" => end(case).map(|end| number(end.depth)),
        "arc_mm" => end(case).map(|end| number(end.distance)),
        "path_to_far_face_mm" => to_far_face(case),
        _ => return None,
    }))
}

/// The pipe by diameter and wall in inches, or by its radii.
fn pipe(case: &Case) -> Result<Pipe, &'static str> {
    let scanned = match case.word("scanned") {
        Some("inside") => ScannedFrom::Inside,
        _ => ScannedFrom::Outside,
    };
    if let Some(od) = case.find("outside_diameter_in") {
        // A diameter printed in inches, taken as a person would enter it.
        let inches = |value: f64| -> Result<Millimetres, &'static str> { alternative(value) };
        return Pipe::new(inches(od)?, inches(case.number("wall_in"))?, scanned).or_kind();
    }
    let (outer, inner) = (case.number("outside_radius_mm"), case.number("inside_radius_mm"));
    Pipe::new(mm(2.0 * outer)?, mm(outer - inner)?, scanned).or_kind()
}

fn axis(case: &Case) -> Result<Axis, &'static str> {
    let tan = case.find("angle_tan").map(|tan| tan.atan().to_degrees());
    Axis::new(degrees(tan.unwrap_or_else(|| case.number("angle_deg")))?).or_kind()
}

fn course(case: &Case) -> Result<Course, &'static str> {
    Ok(Course::new(&axis(case)?, &pipe(case)?))
}

fn largest(case: &Case) -> Asked {
    pipe(case)?.largest_angle().map(|angle| number(angle.get())).ok_or("none")
}

fn deepest(case: &Case) -> Asked {
    let od = mm(2.0 * case.number("outside_radius_mm"))?;
    deepest_point(od, &axis(case)?).map(|depth| number(depth.get())).or_kind()
}

fn at_far_face(case: &Case) -> Asked {
    let course = course(case)?;
    course.angle_at(course.deepest()).map(|angle| number(angle.get())).ok_or("none")
}

/// The end of a path, or of the one that a flat plate would need for a depth.
fn end(case: &Case) -> Result<Unfolded, &'static str> {
    let axis = axis(case)?;
    let path = case.number("flat_depth_mm") / number(axis.cos());
    Course::new(&axis, &pipe(case)?).at(mm(path)?).or_kind()
}

fn to_far_face(case: &Case) -> Asked {
    let course = course(case)?;
    let wall = mm(number(course.pipe().thickness()))?;
    course.reach(1, wall).map(|(path, _)| number(path.get())).or_kind()
}
