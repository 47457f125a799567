//! Answers of the feature `planning`: before the probe touches steel.

pub(super) mod coverage;
pub(super) mod expect;
pub(super) mod plan;
pub(super) mod section;
