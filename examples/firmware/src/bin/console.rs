//! The console on the serial port: what an instrument or a logger would carry.
//!
//! Ctrl-D on an empty line ends the emulation.
#![no_std]
#![no_main]

use core::mem::MaybeUninit;

use halfskip_console::editor::{Editor, Mode};
use halfskip_console::port::serve;
use halfskip_console::shell::Shell;
use halfskip_firmware::{InFlash, Serial, end};

/// An examination without entries, made where it stays: only here does it pass over the stack, while that is empty.
#[inline(never)]
fn blank(place: &mut MaybeUninit<Shell<InFlash>>) -> &mut Shell<InFlash> {
    place.write(Shell::new(InFlash))
}

#[cortex_m_rt::entry]
fn main() -> ! {
    // Too large for a stack; the attribute `entry` makes it a safe reference, since `main` runs once.
    static mut SHELL: MaybeUninit<Shell<InFlash>> = MaybeUninit::uninit();
    static mut EDITOR: MaybeUninit<Editor> = MaybeUninit::uninit();
    let shell = blank(SHELL);
    let editor = EDITOR.write(Editor::new(Mode::Terminal, "> "));
    // As wide as a line may be: transcripts hold lines whole.
    editor.set_columns(256);
    let Ok(()) = serve(&mut Serial::start(), editor, shell);
    end()
}
