//! What the lamp tells.
//!
//! ```text
//! on                        facts are taken, and kept in flash
//! off for an instant        a fact was kept
//! on, winks twice a second  the button holds a place for the next reading
//! slow, a second each       the memory is full: no more facts are taken
//! fast, five a second       the memory failed, or the program did: look at the console
//! ```

use core::sync::atomic::{AtomicU8, AtomicU32, Ordering::Relaxed};

use crate::TICK_MS;

/// How the record is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum State {
    Recording,
    Full,
    Fault,
}

const WINK: u32 = 100 / TICK_MS;
const SHORT: u32 = 50 / TICK_MS;
const HALF_SECOND: u32 = 500 / TICK_MS;
const SECOND: u32 = 1000 / TICK_MS;
const FAST: u32 = FAST_MS / TICK_MS;
/// Milliseconds that a failing board's lamp is on, and off.
pub const FAST_MS: u32 = 100;

/// A program that has not said otherwise has not come up.
static STATE: AtomicU8 = AtomicU8::new(State::Fault as u8);
/// Ticks that the lamp is still off for a fact that was kept.
static DARK: AtomicU32 = AtomicU32::new(0);

pub fn show(state: State) {
    STATE.store(state as u8, Relaxed);
}

/// A fact was kept.
pub fn wink() {
    DARK.store(WINK, Relaxed);
}

/// Whether the lamp is lit at a tick, with a place held by the button or not.
pub fn lit(ticks: u32, held: bool) -> bool {
    let dark = DARK.load(Relaxed);
    DARK.store(dark.saturating_sub(1), Relaxed);
    match STATE.load(Relaxed) {
        state if state == State::Recording as u8 => dark == 0 && !(held && ticks % HALF_SECOND < SHORT),
        state if state == State::Full as u8 => ticks / SECOND % 2 == 0,
        _ => ticks / FAST % 2 == 0,
    }
}
