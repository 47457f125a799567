//! The other end of a device's port: a terminal to its console, its facts as job lines, a job sent to it.
//!
//! Frames and text share the line; [`Wire`] takes them apart. A fact travels with its number and a checksum and is sent
//! until the device has acknowledged it, so that a disturbed line costs time and never a fact.

pub mod facts;
pub mod ingest;
pub mod record;
pub mod send;
pub mod serial;
mod wire;

pub use wire::{Gone, Wire};

use std::format;
use std::path::Path;
use std::time::Duration;

use serial2::SerialPort;

use super::exit::{Stop, reason};
use super::names::shown;

/// Bits a second.
pub const BAUD: u32 = 115_200;
/// How long one reading of the port waits.
const PAUSE: Duration = Duration::from_millis(50);

/// Opens a port.
///
/// # Errors
/// [`Stop`]: it cannot be had, or is no serial port.
pub fn open(port: &Path) -> Result<SerialPort, Stop> {
    let failed = |error: std::io::Error| {
        Stop::Failed(format!("{}: the port cannot be opened: {}", shown(port), reason(&error)))
    };
    let mut opened = SerialPort::open(port, BAUD).map_err(failed)?;
    opened.set_read_timeout(PAUSE).map_err(failed)?;
    Ok(opened)
}

/// That the device is no longer there, in one line.
fn gone(port: &str, why: &Gone) -> Stop {
    Stop::Failed(match why {
        Gone::HungUp => format!("{port}: the device is gone"),
        Gone::Failed(error) => format!("{port}: the port fails: {}", reason(error)),
    })
}
