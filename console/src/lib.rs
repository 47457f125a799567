//! The shell of halfskip: bytes become lines, lines become entries and questions, and those become answers.
//!
//! The heart does no input and no output and needs neither `std` nor an allocator, so a device and a desk answer
//! alike. The feature `host` adds the program around it: terminal, job files and exit status.
#![no_std]

#[cfg(any(test, feature = "host"))]
extern crate std;

pub mod editor;
#[cfg(feature = "host")]
pub mod host;
pub mod text;
