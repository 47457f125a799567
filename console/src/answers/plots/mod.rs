//! Answers of the feature `plots`: what is recorded, drawn in characters.

mod along;
mod chart;
mod curve;
mod dynamic;

use core::fmt;

use super::Known;
use crate::answers::page::Page;
use crate::language::parse::Plots;

/// Draws what is asked for.
pub(super) fn answer<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
    question: &Plots,
    page: &mut Page<'_>,
) -> fmt::Result {
    match question {
        Plots::Along => along::answer(known, page),
        Plots::Curve(probe) => curve::answer(known, probe, page),
        Plots::Dynamic(name) => dynamic::answer(known, name, page),
    }
}
