//! The board: a serial port, a way to end, and a panic that is seen.
//!
//! All of this is what an instrument maker has to write anew; the emulated board is an Arm MPS2 with the AN386 image.
#![no_std]

mod serial;
mod sheets;

pub use serial::Serial;
pub use sheets::InFlash;

use core::panic::PanicInfo;

use cortex_m_semihosting::debug::{self, EXIT_FAILURE, EXIT_SUCCESS};

/// Ends the emulation, well.
pub fn end() -> ! {
    debug::exit(EXIT_SUCCESS);
    halt()
}

/// Ends the emulation so that whoever started it sees a failure.
pub fn fail() -> ! {
    debug::exit(EXIT_FAILURE);
    halt()
}

/// Without an emulator nothing ends.
fn halt() -> ! {
    loop {
        cortex_m::asm::wfi();
    }
}

#[panic_handler]
fn panicked(_: &PanicInfo<'_>) -> ! {
    fail()
}

#[cortex_m_rt::exception]
unsafe fn HardFault(_: &cortex_m_rt::ExceptionFrame) -> ! {
    fail()
}
