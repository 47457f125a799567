//! The drawings of a report.

pub mod along;
mod canvas;
pub mod coverage;
pub mod curve;
pub mod dynamic;
pub mod section;

use halfskip::calibration::level::{Bound, Level};
use halfskip::part::side::Side;

use crate::desk::drawing::{Ink, Shape};

/// Points across every drawing.
pub const WIDTH: f64 = 640.0;

/// The colour of a side.
pub const fn ink(side: Side) -> Ink {
    match side {
        Side::A => Ink::SideA,
        Side::B => Ink::SideB,
    }
}

/// The mark of a reading: the side's own, or a triangle for what is only a bound.
pub const fn shape(side: Side, level: Level) -> Shape {
    match (level.bound, side) {
        (Bound::AtLeast, _) => Shape::Up,
        (Bound::AtMost, _) => Shape::Down,
        (Bound::Exact, Side::A) => Shape::Disc,
        (Bound::Exact, Side::B) => Shape::Square,
    }
}
