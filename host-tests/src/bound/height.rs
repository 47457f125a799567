//! `height.toml`.

use halfskip::path::{Axis, Plate, corner};

use super::{Asked, OrKind, degrees, from, mm, number};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "corner_distance_mm" => distance(case),
        _ => return None,
    }))
}

/// The axis only chooses the face, so it is the one whose leg ends at this path (at 1 degree where there is none).
fn distance(case: &Case) -> Asked {
    let (path, thickness, leg) = (
        case.number("path_mm"),
        case.number("thickness_mm"),
        case.number("leg"),
    );
    let angle = (leg * thickness / path).acos().to_degrees();
    let axis = Axis::new(degrees(if angle > 1.0 { angle } else { 1.0 })?).or_kind()?;
    let end = corner(&axis, &Plate::new(mm(thickness)?).or_kind()?, mm(path)?).or_kind()?;
    assert_eq!(f64::from(end.leg), leg);
    Ok(number(end.distance))
}
