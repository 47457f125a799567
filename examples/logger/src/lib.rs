//! A data logger for manual examination: position of the probe and time of the echo become readings.
//!
//! Nothing here is guessed: a missed count makes the position unknown until it is set again, and a reading without a
//! position is not made. The geometry is elementary and derived where it stands; limits without a source say so.
#![no_std]

#[cfg(test)]
extern crate std;

mod log;
mod quadrature;
mod scale;
mod wires;

pub use log::{Gate, Logger, NoReading};
pub use quadrature::{Missed, Quadrature};
pub use scale::{Scale, ScaleError};
pub use wires::{Stand, Wires, WiresError};
