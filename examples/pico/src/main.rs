//! The console of halfskip on a board of one's own: lines over USB, counts of an encoder, a button that holds a place, a
//! lamp, and the record in the board's flash.
//!
//! What is of this board and no other is in `board.rs`.
#![no_std]
#![no_main]

mod board;
mod button;
mod lamp;
mod port;
mod station;
mod wheel;

use core::sync::atomic::{AtomicU32, Ordering::Relaxed};

use halfskip_console::editor::{Editor, Mode};
use halfskip_console::port::{Kept, serve};
use halfskip_console::shell::Shell;
use halfskip_sheets::InFlash;
use usb_device::bus::UsbBusAllocator;

use crate::board::Bus;
use crate::port::Port;
use crate::station::OnBoard;

/// Milliseconds of a tick.
const TICK_MS: u32 = 5;

#[cortex_m_rt::entry]
fn main() -> ! {
    // Too large for a stack; the attribute `entry` makes them safe references, since `main` runs once.
    static mut SHELL: Shell<InFlash> = Shell::new(InFlash);
    static mut EDITOR: Editor = Editor::new(Mode::Terminal, "> ");
    static mut BUS: Option<UsbBusAllocator<Bus>> = None;
    let Some(board) = board::start() else { board::fail() };
    port::start(BUS.insert(board.bus));
    // As wide as a line may be: terminals wrap by themselves.
    EDITOR.set_columns(256);
    let mut station = OnBoard::new(Kept::open(SHELL, board.record));
    loop {
        Port.connected();
        // Ctrl-D ends a session, not the device.
        let Ok(()) = serve(&mut Port, EDITOR, &mut station);
    }
}

/// What the board calls every [`TICK_MS`] milliseconds, from an interrupt.
fn tick() {
    static TICKS: AtomicU32 = AtomicU32::new(0);
    let ticks = TICKS.load(Relaxed).wrapping_add(1);
    TICKS.store(ticks, Relaxed);
    button::look();
    board::lamp(lamp::lit(ticks, button::held().is_some()));
}
