//! How much of the stack was ever used: the start-up code has painted it.

/// What the start-up code fills the stack with.
const PAINT: u32 = 0xCCCC_CCCC;

/// The bytes between the top of the stack and the lowest word that is no longer painted.
#[must_use]
pub fn used() -> usize {
    unsafe extern "C" {
        static _stack_start: u32;
        static _stack_end: u32;
    }
    let (top, end) = (&raw const _stack_start, &raw const _stack_end);
    let mut lowest = end;
    // SAFETY: between the two symbols of the linker script lies RAM that only the stack uses.
    while lowest < top && unsafe { lowest.read_volatile() } == PAINT {
        lowest = lowest.wrapping_add(1);
    }
    top.addr() - lowest.addr()
}
