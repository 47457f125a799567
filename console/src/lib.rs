//! The shell of halfskip: bytes become lines, lines become entries and questions, and those become answers.
//!
//! What an image answers beyond facts, places, sizes and verdicts is chosen by features: `planning`, `plots`,
//! `character` and `reasons`, together `answers`. A question left out is refused with a line that says so, and without
//! `character` no verdict rests on the shape: where a sheet asks for it, the verdict is undetermined.
//!
//! The heart does no input and no output and needs neither `std` nor an allocator, so a device and a desk answer
//! alike. The feature `host` adds the program around it: terminal, job files and exit status.
//!
//! # Rooms
//!
//! A room may use those above it in this list and no other; a test holds the picture to the code.
//!
//! ```text
//! language  words, keys, values as they are read and written, why a line is refused
//! commands  every command: line -> fact or question, fact -> line, help
//! sheets    where acceptance and technique sheets come from
//! answers   what is written to a question, and under a fact
//! shell     one line or fact in, one answer out
//! editor    bytes of a terminal -> lines
//! port      the shell on a serial port: lines and frames
//! desk      the program around it: arguments, job files, JSON, CSV, report
//! ```
//!
//! ```
//! use halfskip::record::entry::LengthUnit;
//! use halfskip_console::commands::parse::{self, Line};
//! let line = b"dac p60 path=30 height=80 gain=38  # first hole";
//! assert!(matches!(parse::line(line, LengthUnit::Mm), Ok(Some(Line::Fact(_)))));
//! ```
#![no_std]
#![cfg_attr(
    not(feature = "answers"),
    allow(dead_code, reason = "what serves only questions that are left out is left out by the linker")
)]

#[cfg(any(test, feature = "host", feature = "sheet"))]
extern crate std;

pub mod answers;
pub mod commands;
#[cfg(feature = "host")]
pub mod desk;
pub mod editor;
pub mod language;
pub mod port;
pub mod sheets;
pub mod shell;
