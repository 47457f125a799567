//! Checks of halfskip against the world outside it: published values, references, properties.

pub mod printed;
pub mod vectors;
