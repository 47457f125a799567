//! The board: a serial port, a way to end, and a panic that is seen.
//!
//! All of this is what an instrument maker has to write anew; the emulated board is an Arm MPS2 with the AN386 image.
#![no_std]

mod any;
mod interrupts;
mod memory;
mod serial;
mod stack;

pub use any::any;
pub use halfskip_sheets::InFlash;
pub use memory::InRam;
pub use serial::Serial;

use core::panic::PanicInfo;

use cortex_m_semihosting::debug::{self, EXIT_FAILURE, EXIT_SUCCESS};

/// Ends the emulation, well, and says on the emulator's standard error how much stack was used.
pub fn end() -> ! {
    cortex_m_semihosting::heprintln!("stack {}", stack::used());
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

/// A panic ends the emulation so that it is seen.
#[cfg(not(feature = "proof"))]
#[panic_handler]
fn panicked(_: &PanicInfo<'_>) -> ! {
    fail()
}

/// A symbol that is nowhere defined: the image links only when no panic can be reached.
#[cfg(feature = "proof")]
#[panic_handler]
fn panicked(_: &PanicInfo<'_>) -> ! {
    unsafe extern "C" {
        fn a_panic_can_be_reached() -> !;
    }
    // SAFETY: never called, since it does not link.
    unsafe { a_panic_can_be_reached() }
}

#[cortex_m_rt::exception]
unsafe fn HardFault(_: &cortex_m_rt::ExceptionFrame) -> ! {
    fail()
}
