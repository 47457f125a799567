//! Nothing but the board: what is taken off the size of an image to have that of the library.
#![no_std]
#![no_main]

use halfskip_firmware::{Serial, end};

#[cortex_m_rt::entry]
fn main() -> ! {
    let mut port = Serial::start();
    let byte = port.receive();
    port.send(byte);
    end()
}
