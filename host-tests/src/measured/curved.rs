//! Curved parts.

use halfskip::part::Part;
use halfskip::part::curved::{Course, Pipe};
use halfskip::part::joint::ScannedFrom;
use halfskip::part::locate::{Peaked, Position, Side, locate};
use halfskip::part::path::Axis;

use super::{Worst, degrees, mm};
use crate::reference::Table;

pub(super) fn curved(worst: &mut Worst) {
    for row in Table::read("curved").rows() {
        let from = if row.text("scanned") == "inside" { ScannedFrom::Inside } else { ScannedFrom::Outside };
        let pipe = Pipe::new(mm(row.input("od_mm")), mm(row.input("wall_mm")), from).unwrap();
        let axis = Axis::new(degrees(row.input("angle_deg"))).unwrap();
        let course = Course::new(&axis, &pipe);
        worst.note("curved::Course leg length", row.error("leg_mm", course.leg_length(), "leg_mm"), row);
        worst.note("curved::Course half skip", row.error("turn_mm", course.half_skip(), "turn_mm"), row);
        let path = mm(row.input("path_mm"));
        let end = course.at(path).unwrap();
        assert_eq!(end.leg, row.get::<u32>("leg"), "{row:?}");
        worst.note("curved::Course::at depth", row.error("depth_mm", end.depth, "term_mm"), row);
        worst.note("curved::Course::at arc", row.error("arc_mm", end.distance, "arc_mm"), row);
        let position = Position::new(Side::A, mm(0.0), mm(0.0), mm(0.0)).unwrap();
        let place = locate(&axis, &Part::Around(pipe), &position, path, Peaked::Axis).unwrap();
        worst.note("locate around y", row.error("arc_mm", place.y.get(), "term_mm"), row);
        if !course.misses_bore() && course.leg_length() < 10_000.0 {
            // The library is asked with the leg rounded to single precision.
            let place =
                locate(&axis, &Part::Around(pipe), &position, mm(course.leg_length()), Peaked::Corner)
                    .unwrap();
            let steep = place.y_partials.path * course.leg_length() / place.y.get();
            if steep < 10.0 {
                let off = row.error("corner_arc_mm", place.y.get(), "corner_arc_mm");
                worst.note("locate corner around arc", off, row);
            }
        }
    }
}
