//! The flat path, corners, tips and places.

use halfskip::evaluate::sizing::height::{BrokenFace, from_face, peaked_apart, seen_together};
use halfskip::part::Part;
use halfskip::part::locate::{Peaked, Position, SeenTogether, Side, locate};
use halfskip::part::path::{Axis, Plate, reach, unfold};

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
        worst.note("path::unfold depth", row.error("depth_mm", end.depth, "depth_term"), row);
        worst.note("path::unfold distance", row.error("surface_mm", end.distance, "surface_mm"), row);

        let side = if row.text("side") == "a" { Side::A } else { Side::B };
        let position = Position::new(side, mm(0.0), mm(row.input("standoff_mm")), mm(0.0)).unwrap();
        let position = position.skewed(degrees(row.input("skew_deg"))).unwrap();
        let place = locate(&axis, &Part::Flat(plate), &position, path, Peaked::Axis).unwrap();
        worst.note("locate y", row.error("y_mm", place.y.get(), "y_term"), row);
        worst.note("locate x", row.error("along_mm", place.x.get(), "surface_mm"), row);
        worst.note("locate z", row.error("depth_mm", place.z.get(), "depth_term"), row);
    }
}

pub(super) fn skips(worst: &mut Worst) {
    for row in Table::read("skips").rows() {
        let (axis, plate) = (axis(row), plate(row));
        worst.note("path::half_skip", row.error("half_skip_mm", plate.half_skip(&axis), "half_skip_mm"), row);
        worst.note("path::leg_length", row.error("leg_mm", plate.leg_length(&axis), "leg_mm"), row);
        if row.get::<f64>("path_mm") > 10_000.0 {
            assert!(reach(&axis, &plate, row.get("leg"), mm(row.input("depth_mm"))).is_err());
            continue;
        }
        let (path, distance) = reach(&axis, &plate, row.get("leg"), mm(row.input("depth_mm"))).unwrap();
        worst.note("path::reach path", row.error("path_mm", path.get(), "path_term"), row);
        worst.note("path::reach distance", row.error("surface_mm", distance.get(), "surface_term"), row);
    }
}

pub(super) fn corners(worst: &mut Worst) {
    for row in Table::read("corner").rows() {
        // The axis only chooses the face: the one whose leg ends at this path.
        let face = row.get::<f64>("thickness_mm") * row.get::<f64>("leg");
        let angle = (face / row.get::<f64>("path_mm")).acos().to_degrees();
        let axis = Axis::new(degrees(angle as f32)).unwrap();
        let (part, path) = (Part::Flat(plate(row)), mm(row.input("path_mm")));
        let probe = Position::new(Side::A, mm(0.0), mm(0.0), mm(0.0)).unwrap();
        let place = locate(&axis, &part, &probe, path, Peaked::Corner).unwrap();
        assert_eq!(place.leg, row.get::<u32>("leg"), "{row:?}");
        let off = row.error("distance_mm", place.distance.get(), "distance_term");
        worst.note("locate corner distance", off, row);
    }
}

pub(super) fn heights(worst: &mut Worst) {
    for row in Table::read("heights").rows() {
        let form = row.text("form");
        let (axis, plate) = (axis(row), plate(row));
        let position = Position::new(Side::A, mm(0.0), mm(0.0), mm(0.0)).unwrap();
        let (corner, tip) = (mm(row.input("corner_mm")), mm(row.input("tip_mm")));
        let near = form.starts_with("near-face");
        let face = if near { BrokenFace::Near } else { BrokenFace::Far };
        if form.contains("together") {
            let base = locate(&axis, &Part::Flat(plate), &position, corner, Peaked::Corner).unwrap();
            let distance = SeenTogether::from_corner(&position, &base);
            let tip_place =
                locate(&axis, &Part::Flat(plate), &position, tip, Peaked::Together(distance)).unwrap();
            let height = from_face(face, &plate, &tip_place).height;
            worst.note("locate together z", row.error("height_mm", height, "height_term"), row);
            let by_paths = seen_together(&plate, if near { 2 } else { 1 }, corner, tip).unwrap().get();
            worst.note("sizing::height::seen_together", row.error("height_mm", by_paths, "height_term"), row);
        } else {
            let tip_place = locate(&axis, &Part::Flat(plate), &position, tip, Peaked::Axis).unwrap();
            let height = from_face(face, &plate, &tip_place).height;
            worst.note(
                "sizing::height::from_face, peaked",
                row.error("height_mm", height, "height_term"),
                row,
            );
        }
    }
    for row in Table::read("peaked_apart").rows() {
        let height = peaked_apart(&axis(row), mm(row.input("corner_mm")), mm(row.input("tip_mm"))).unwrap();
        worst.note("sizing::height::peaked_apart", row.error("height_mm", height.get(), "height_mm"), row);
    }
}
