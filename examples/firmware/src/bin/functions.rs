//! A digest of what each mathematical function gives, for comparison with the host.
#![no_std]
#![no_main]

use halfskip_firmware::{Serial, end};

#[path = "../../../../host-tests/src/functions.rs"]
mod functions;

#[cortex_m_rt::entry]
fn main() -> ! {
    functions::write(&mut Serial::start()).expect("a port cannot fail");
    end()
}
