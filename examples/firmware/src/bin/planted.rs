//! An image with a panic in it, to see that the proof sees one: with the feature `proof` it must not link.
#![no_std]
#![no_main]

use core::hint::black_box;

use halfskip_firmware::{end, fail};

#[cortex_m_rt::entry]
fn main() -> ! {
    let table = black_box([0u8; 4]);
    let place = black_box(3usize);
    if table[place] == 0 { end() } else { fail() }
}
