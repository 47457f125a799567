//! Answers of the feature `plots`: what is recorded, drawn in characters.

mod along;
mod chart;
mod curve;
mod dynamic;

use core::fmt;

use super::Known;
use crate::answers::page::Page;
use crate::commands::parse::Plots;

/// Draws what is asked for.
pub(super) fn answer(known: &Known<'_>, question: &Plots, page: &mut Page<'_>) -> fmt::Result {
    match question {
        Plots::Along => along::answer(known, page),
        Plots::Curve(probe) => curve::answer(known, probe, page),
        Plots::Dynamic(name) => dynamic::answer(known, name, page),
    }
}
