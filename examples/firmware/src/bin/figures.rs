//! The figures of an examination whose lines come over the serial port, up to Ctrl-D: every bit of every finding, for
//! comparison with the host.
#![no_std]
#![no_main]

use core::fmt::{self, Write};
use core::mem::MaybeUninit;

use halfskip_console::shell::{Outcome, Shell};
use halfskip_firmware::{InFlash, Serial, end};

#[path = "../../../../host-tests/src/figures.rs"]
mod figures;

/// What nobody reads.
struct Nowhere;

impl Write for Nowhere {
    fn write_str(&mut self, _: &str) -> fmt::Result {
        Ok(())
    }
}

#[cortex_m_rt::entry]
fn main() -> ! {
    static mut SHELL: MaybeUninit<Shell<InFlash>> = MaybeUninit::uninit();
    let shell = SHELL.write(Shell::new(InFlash));
    let mut port = Serial::start();
    let (mut recorded, mut refused) = (0u32, 0u32);
    let mut line = heapless::Vec::<u8, 256>::new();
    loop {
        match port.receive() {
            0x04 => break,
            b'\n' => {
                match shell.line(&line, &mut Nowhere) {
                    Outcome::Recorded(_) => recorded += 1,
                    Outcome::Refused { .. } => refused += 1,
                    _ => {}
                }
                line.clear();
            }
            byte => line.push(byte).expect("a line of at most 256 bytes"),
        }
    }
    writeln!(port, "{recorded} recorded, {refused} refused").expect("a port cannot fail");
    let written = shell.evaluated(|findings| figures::write(findings, &mut port));
    written.expect("nobody evaluates it").expect("a port cannot fail");
    end()
}
