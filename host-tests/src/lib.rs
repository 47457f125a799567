//! Checks of halfskip against the world outside it: published values, references, properties.

pub mod accuracy;
pub mod bound;
pub mod circles;
pub mod drawn;
pub mod figures;
pub mod folders;
pub mod frames;
pub mod functions;
pub mod fuzzed;
pub mod graded;
pub mod hunt;
pub mod job;
pub mod long;
pub mod measured;
pub mod nor;
pub mod placed;
pub mod printed;
pub mod rays;
pub mod reference;
pub mod sound;
pub mod synthetic;
pub mod told;
pub mod vectors;

/// The examples of the chapters for instrument makers and logger builders are run as those of this package.
#[cfg(doctest)]
#[doc = include_str!("../../core/README.md")]
#[doc = include_str!("../../examples/logger/README.md")]
mod chapters {}
