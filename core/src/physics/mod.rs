//! Sound and what sends it: materials, refraction, probes, their beams, decibels and the far-field laws.

pub mod attenuation;
pub mod beam;
pub mod decibels;
pub mod far_field;
pub mod material;
pub mod probe;
pub mod refraction;
