//! `height.toml`: the module sizing::height, and corners.

use halfskip::evaluate::sizing::height::{BrokenFace, between_tips, from_face, peaked_apart, seen_together};
use halfskip::part::Part;
use halfskip::part::locate::{Peaked, Place, Position, SeenTogether, Side, locate};
use halfskip::part::path::{Axis, Plate};

use super::{Asked, OrKind, degrees, from, mm, number};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "corner_distance_mm" => corner_distance(case),
        "height_peaked_difference_mm" => difference(case),
        "height_peaked_mm" | "height_peaked_leg_2_mm" => peaked(case, BrokenFace::Far),
        "height_near_face_mm" => peaked(case, BrokenFace::Near),
        "height_together_mm" | "height_together_leg_2_mm" => together(case, 1, BrokenFace::Far),
        "height_near_face_together_mm" => together(case, 2, BrokenFace::Near),
        "height_between_tips_mm" => buried(case),
        _ => return None,
    }))
}

fn plate(case: &Case) -> Result<Plate, &'static str> {
    Plate::new(mm(case.number("thickness_mm"))?).or_kind()
}

/// The axis whose leg `leg` ends at this path (at 1 degree where there is none): a corner takes no more from it.
fn axis_to(leg: f64, thickness: f64, path: f64) -> Result<Axis, &'static str> {
    let angle = (leg * thickness / path).acos().to_degrees();
    Axis::new(degrees(if angle > 1.0 { angle } else { 1.0 })?).or_kind()
}

fn corner_distance(case: &Case) -> Asked {
    let (path, thickness, leg) = (case.number("path_mm"), case.number("thickness_mm"), case.number("leg"));
    let (axis, part) = (axis_to(leg, thickness, path)?, Part::Flat(plate(case)?));
    let place = locate(&axis, &part, &probe()?, mm(path)?, Peaked::Corner).or_kind()?;
    assert_eq!(f64::from(place.leg), leg);
    Ok(number(place.distance.get()))
}

fn axis(case: &Case) -> Result<Axis, &'static str> {
    Axis::new(degrees(case.number("angle_deg"))?).or_kind()
}

/// By the paths alone; the thickness does not enter, but the corner must be the plate's own.
fn difference(case: &Case) -> Asked {
    let (axis, plate) = (axis(case)?, plate(case)?);
    let (corner, tip) = (case.number("corner_path_mm"), case.number("tip_path_mm"));
    assert!((number(plate.leg_length(&axis)) - corner).abs() < 1e-3);
    Ok(number(peaked_apart(&axis, mm(corner)?, mm(tip)?).or_kind()?.get()))
}

fn probe() -> Result<Position, &'static str> {
    Position::new(Side::A, mm(0.0)?, mm(0.0)?, mm(0.0)?).or_kind()
}

fn peaked_tip(case: &Case, path: &str) -> Result<Place, &'static str> {
    locate(&axis(case)?, &Part::Flat(plate(case)?), &probe()?, mm(case.number(path))?, Peaked::Axis).or_kind()
}

fn peaked(case: &Case, face: BrokenFace) -> Asked {
    Ok(number(from_face(face, &plate(case)?, &peaked_tip(case, "tip_path_mm")?).height))
}

fn buried(case: &Case) -> Asked {
    let (upper, lower) = (peaked_tip(case, "upper_path_mm")?, peaked_tip(case, "lower_path_mm")?);
    Ok(number(between_tips(&upper, &lower).height))
}

/// By the paths, and again through the places of corner and tip.
fn together(case: &Case, leg: u32, face: BrokenFace) -> Asked {
    let plate = plate(case)?;
    let (corner_path, tip_path) = (case.number("corner_path_mm"), case.number("tip_path_mm"));
    let (corner, tip) = (mm(corner_path)?, mm(tip_path)?);
    let by_paths = seen_together(&plate, leg, corner, tip).or_kind()?.get();
    let (axis, probe) = (axis_to(leg.into(), case.number("thickness_mm"), corner_path)?, probe()?);
    let base = locate(&axis, &Part::Flat(plate), &probe, corner, Peaked::Corner).or_kind()?;
    let distance = SeenTogether::from_corner(&probe, &base);
    let tip = locate(&axis, &Part::Flat(plate), &probe, tip, Peaked::Together(distance)).or_kind()?;
    let by_places = from_face(face, &plate, &tip).height;
    assert!((by_paths - by_places).abs() < 1e-4, "{}: {by_paths} {by_places}", case.id);
    Ok(number(by_paths))
}
