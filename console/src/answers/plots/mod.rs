//! Answers of the feature `plots`: what is recorded, drawn in characters.

pub(super) mod along;
mod chart;
pub(super) mod curve;
pub(super) mod dynamic;
