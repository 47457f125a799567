//! The recorder on the serial port: what a device with 128 KiB of flash and 24 KiB of RAM carries.
//!
//! Ctrl-D on an empty line ends the emulation.
#![no_std]
#![no_main]

use core::mem::MaybeUninit;

use halfskip_console::editor::{Editor, Mode};
use halfskip_console::port::serve;
use halfskip_console::shell::recorder::Recorder;
use halfskip_firmware::{Serial, end};

/// The width of a line, and the one line that can be called back.
type Line = Editor<160, 1>;

/// An examination without entries, made where it stays: only here does it pass over the stack, while that is empty.
#[inline(never)]
fn blank(place: &mut MaybeUninit<Recorder>) -> &mut Recorder {
    place.write(Recorder::new())
}

#[cortex_m_rt::entry]
fn main() -> ! {
    // Too large for a stack; the attribute `entry` makes it a safe reference, since `main` runs once.
    static mut RECORDER: MaybeUninit<Recorder> = MaybeUninit::uninit();
    static mut EDITOR: MaybeUninit<Line> = MaybeUninit::uninit();
    let recorder = blank(RECORDER);
    let editor = EDITOR.write(Editor::new(Mode::Terminal, "> "));
    // As wide as a line may be: transcripts hold lines whole.
    editor.set_columns(256);
    let Ok(()) = serve(&mut Serial::start(), editor, recorder);
    end()
}
