//! Serial ports: Arm APB UARTs, as the CMSDK technical reference manual describes them.

use core::convert::Infallible;

use embedded_io::{ErrorType, Read, Write};

/// The first two of the board's ports.
const FIRST: usize = 0x4000_4000;
const SECOND: usize = 0x4000_5000;
const DATA: usize = 0x00;
const STATE: usize = 0x04;
const CONTROL: usize = 0x08;
const DIVIDER: usize = 0x10;
const TRANSMITTER_FULL: u32 = 1;
const RECEIVER_FULL: u32 = 2;

/// A serial port, polled.
#[derive(Debug)]
pub struct Serial {
    base: usize,
}

impl Serial {
    /// Switches the board's first port on.
    #[must_use]
    pub fn start() -> Self {
        Self::at(FIRST)
    }

    /// Switches the board's second port on.
    #[must_use]
    pub fn second() -> Self {
        Self::at(SECOND)
    }

    /// At 115 200 baud of the board's 25 MHz.
    fn at(base: usize) -> Self {
        let port = Self { base };
        port.set(DIVIDER, 25_000_000 / 115_200);
        port.set(CONTROL, TRANSMITTER_FULL | RECEIVER_FULL);
        port
    }

    /// Sends a byte.
    pub fn send(&mut self, byte: u8) {
        while self.get(STATE) & TRANSMITTER_FULL != 0 {}
        self.set(DATA, u32::from(byte));
    }

    /// Waits for a byte.
    pub fn receive(&mut self) -> u8 {
        while self.get(STATE) & RECEIVER_FULL == 0 {}
        (self.get(DATA) & 0xFF) as u8
    }

    fn get(&self, register: usize) -> u32 {
        // SAFETY: a register of a port, which this file alone touches.
        unsafe { core::ptr::with_exposed_provenance::<u32>(self.base + register).read_volatile() }
    }

    fn set(&self, register: usize, value: u32) {
        // SAFETY: as above.
        unsafe { core::ptr::with_exposed_provenance_mut::<u32>(self.base + register).write_volatile(value) }
    }
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
