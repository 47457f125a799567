//! The serial port: an Arm APB UART, as the CMSDK technical reference manual describes it.

use core::convert::Infallible;

use embedded_io::{ErrorType, Read, Write};

/// The first of the board's ports.
const BASE: usize = 0x4000_4000;
const DATA: usize = 0x00;
const STATE: usize = 0x04;
const CONTROL: usize = 0x08;
const DIVIDER: usize = 0x10;
const TRANSMITTER_FULL: u32 = 1;
const RECEIVER_FULL: u32 = 2;

/// The serial port, polled.
#[derive(Debug)]
pub struct Serial(());

impl Serial {
    /// Switches the port on at 115 200 baud of the board's 25 MHz.
    #[must_use]
    pub fn start() -> Self {
        write(DIVIDER, 25_000_000 / 115_200);
        write(CONTROL, TRANSMITTER_FULL | RECEIVER_FULL);
        Self(())
    }

    /// Sends a byte.
    pub fn send(&mut self, byte: u8) {
        while read(STATE) & TRANSMITTER_FULL != 0 {}
        write(DATA, u32::from(byte));
    }

    /// Waits for a byte.
    pub fn receive(&mut self) -> u8 {
        while read(STATE) & RECEIVER_FULL == 0 {}
        (read(DATA) & 0xFF) as u8
    }
}

fn read(register: usize) -> u32 {
    // SAFETY: a register of the port, which this file alone touches.
    unsafe { core::ptr::with_exposed_provenance::<u32>(BASE + register).read_volatile() }
}

fn write(register: usize, value: u32) {
    // SAFETY: as above.
    unsafe { core::ptr::with_exposed_provenance_mut::<u32>(BASE + register).write_volatile(value) }
}

impl ErrorType for Serial {
    type Error = Infallible;
}

impl Read for Serial {
    fn read(&mut self, bytes: &mut [u8]) -> Result<usize, Infallible> {
        match bytes.first_mut() {
            Some(byte) => *byte = self.receive(),
            None => return Ok(0),
        }
        Ok(1)
    }
}

impl Write for Serial {
    fn write(&mut self, bytes: &[u8]) -> Result<usize, Infallible> {
        bytes.iter().for_each(|byte| self.send(*byte));
        Ok(bytes.len())
    }

    fn flush(&mut self) -> Result<(), Infallible> {
        Ok(())
    }
}

impl core::fmt::Write for Serial {
    fn write_str(&mut self, text: &str) -> core::fmt::Result {
        text.bytes().for_each(|byte| self.send(byte));
        Ok(())
    }
}
