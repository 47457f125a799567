//! Drawings: lists of lines, areas and words, written out as SVG for a page and as PDF for paper from one and the same list.
//!
//! Lengths are in points of the drawing, y downward. Nothing in a drawing is told by colour alone: marks differ in shape,
//! lines in their dashes, and every drawing has its words.

pub mod chart;
pub mod face;
mod ink;
pub mod labels;
mod marks;
pub mod svg;

/// The larger of two values; platform comparisons differ for signed zeros.
pub(crate) fn larger<T: PartialOrd>(one: T, other: T) -> T {
    if other > one { other } else { one }
}

/// The smaller of two values.
pub(crate) fn smaller<T: PartialOrd>(one: T, other: T) -> T {
    if other < one { other } else { one }
}

pub use ink::Ink;
pub use marks::{Align, Dash, Drawing, Mark, Pen, Shape, Words};
