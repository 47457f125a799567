//! Answers of the feature `plots`: what is recorded, drawn in characters.

mod along;
mod chart;
mod curve;
mod dynamic;

use core::fmt;

use super::Ground;
use crate::page::Page;
use crate::parse::Plots;

/// Draws what is asked for.
pub(super) fn answer<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    ground: &Ground<'_, INDICATIONS, SERIES, ROWS>,
    question: &Plots,
    page: &mut Page<'_>,
) -> fmt::Result {
    match question {
        Plots::Along => along::answer(ground, page),
        Plots::Curve(probe) => curve::answer(ground, probe, page),
        Plots::Dynamic(name) => dynamic::answer(ground, name, page),
    }
}
