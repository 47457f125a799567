//! Before the probe touches steel: scan plan, coverage, and the echoes that the joint's own shape gives.

pub mod coverage;
pub mod geometry_echoes;
pub mod plan;
