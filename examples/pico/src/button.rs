//! A button that holds the place where the probe is, for the reading that is typed next.

use core::cell::Cell;

use critical_section::Mutex;
use halfskip_logger::Missed;

use crate::board::{self, encoder};

/// What is known of the button.
#[derive(Clone, Copy)]
struct Button {
    /// Looks in a row at which it was down.
    down: u8,
    /// The count at the first of them.
    at: Result<i32, Missed>,
    /// What the last press holds.
    held: Option<Result<i32, Missed>>,
}

static BUTTON: Mutex<Cell<Button>> = Mutex::new(Cell::new(Button { down: 0, at: Err(Missed), held: None }));
/// A contact bounces for less than this many looks.
const STEADY: u8 = 3;

/// Looks at the button; called at each tick. A press counts from its first look on, once it is steady.
pub fn look() {
    critical_section::with(|cs| {
        let button = BUTTON.borrow(cs);
        let mut now = button.get();
        if !board::pressed() {
            now.down = 0;
        } else if now.down < STEADY {
            if now.down == 0 {
                now.at = encoder::count();
            }
            now.down += 1;
            if now.down == STEADY {
                now.held = Some(now.at);
            }
        }
        button.set(now);
    });
}

/// The place that is held.
pub fn held() -> Option<Result<i32, Missed>> {
    critical_section::with(|cs| BUTTON.borrow(cs).get().held)
}

/// Lets go of the place that is held.
pub fn release() {
    critical_section::with(|cs| {
        let button = BUTTON.borrow(cs);
        button.set(Button { held: None, ..button.get() });
    });
}
