//! The flat path, corners, tips and places.

use halfskip::locate::{Position, Side, locate, locate_corner, locate_tied};
use halfskip::path::{Axis, Plate, corner, reach, unfold};

use super::{Worst, degrees, mm};
use crate::reference::{Row, Table};

fn axis(row: Row) -> Axis {
    Axis::new(degrees(row.input("angle_deg"))).unwrap()
}

fn plate(row: Row) -> Plate {
    Plate::new(mm(row.input("thickness_mm"))).unwrap()
}

pub(super) fn flat_path(worst: &mut Worst) {
    for row in Table::read("flat_path").rows() {
        let (axis, plate, path) = (axis(row), plate(row), mm(row.input("path_mm")));
        let end = unfold(&axis, &plate, path).unwrap();
        assert_eq!(end.leg, row.get::<u32>("leg"), "{row:?}");
        worst.note(
            "path::unfold depth",
            row.error("depth_mm", end.depth, "depth_term"),
            row,
        );
        worst.note(
            "path::unfold distance",
            row.error("surface_mm", end.distance, "surface_mm"),
            row,
        );

        let side = if row.text("side") == "a" { Side::A } else { Side::B };
        let position = Position::new(side, mm(0.0), mm(row.input("standoff_mm")), mm(0.0)).unwrap();
        let position = position.skewed(degrees(row.input("skew_deg"))).unwrap();
        let place = locate(&axis, &plate, &position, path).unwrap();
        worst.note("locate y", row.error("y_mm", place.y.get(), "y_term"), row);
        worst.note(
            "locate x",
            row.error("along_mm", place.x.get(), "surface_mm"),
            row,
        );
        worst.note(
            "locate z",
            row.error("depth_mm", place.z.get(), "depth_term"),
            row,
        );
    }
}

pub(super) fn skips(worst: &mut Worst) {
    for row in Table::read("skips").rows() {
        let (axis, plate) = (axis(row), plate(row));
        worst.note(
            "path::half_skip",
            row.error("half_skip_mm", plate.half_skip(&axis), "half_skip_mm"),
            row,
        );
        worst.note(
            "path::leg_length",
            row.error("leg_mm", plate.leg_length(&axis), "leg_mm"),
            row,
        );
        if row.get::<f64>("path_mm") > 10_000.0 {
            assert!(reach(&axis, &plate, row.get("leg"), mm(row.input("depth_mm"))).is_err());
            continue;
        }
        let (path, distance) = reach(&axis, &plate, row.get("leg"), mm(row.input("depth_mm"))).unwrap();
        worst.note(
            "path::reach path",
            row.error("path_mm", path.get(), "path_term"),
            row,
        );
        worst.note(
            "path::reach distance",
            row.error("surface_mm", distance.get(), "surface_term"),
            row,
        );
    }
}

pub(super) fn corners(worst: &mut Worst) {
    for row in Table::read("corner").rows() {
        // The axis only chooses the face: the one whose leg ends at this path.
        let face = row.get::<f64>("thickness_mm") * row.get::<f64>("leg");
        let angle = (face / row.get::<f64>("path_mm")).acos().to_degrees();
        let axis = Axis::new(degrees(angle as f32)).unwrap();
        let end = corner(&axis, &plate(row), mm(row.input("path_mm"))).unwrap();
        assert_eq!(end.leg, row.get::<u32>("leg"), "{row:?}");
        worst.note(
            "path::corner distance",
            row.error("distance_mm", end.distance, "distance_term"),
            row,
        );
    }
}

pub(super) fn tied_tips(worst: &mut Worst) {
    for row in Table::read("heights").rows() {
        let form = row.text("form");
        if !form.contains("together") {
            continue;
        }
        let (axis, plate) = (axis(row), plate(row));
        let position = Position::new(Side::A, mm(0.0), mm(0.0), mm(0.0)).unwrap();
        let base = locate_corner(&axis, &plate, &position, mm(row.input("corner_mm"))).unwrap();
        let tip = locate_tied(&plate, &position, mm(row.input("tip_mm")), &base).unwrap();
        let height = if form == "near-face-together" {
            tip.z.get()
        } else {
            plate.thickness() - tip.z.get()
        };
        worst.note(
            "locate_tied z",
            row.error("height_mm", height, "height_term"),
            row,
        );
    }
}
