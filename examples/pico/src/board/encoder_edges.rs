//! An incremental encoder on two pins: each edge of either is an interrupt, and a sample of both.
//!
//! While the flash is erased or programmed no interrupt comes. Such a gap is harmless only when it is short and the probe
//! was at rest before it; after any other the place is unknown until it is set again.

use core::cell::RefCell;

use critical_section::{CriticalSection, Mutex};
use embedded_hal::digital::InputPin;
use halfskip_logger::{Missed, Quadrature};
use rp2040_hal::gpio::Interrupt::{EdgeHigh, EdgeLow};
use rp2040_hal::gpio::{DynPinId, FunctionSioInput, Pin, PullUp};
use rp2040_hal::pac::{self, interrupt};

type Track = Pin<DynPinId, FunctionSioInput, PullUp>;

/// A hand does not move a probe three counts out of rest in so many microseconds: at 8 counts a millimetre it would need
/// nearly twenty times the acceleration of a fall (set on that). Programming a page takes 400 us, erasing a sector 45 000.
const SHORT_US: u32 = 2000;
/// Without an edge for so many microseconds the probe is at rest (a number we chose).
const REST_US: u32 = 200_000;

struct Encoder {
    a: Track,
    b: Track,
    counter: Quadrature,
    /// When the last edge came.
    moved: u32,
}

static ENCODER: Mutex<RefCell<Option<Encoder>>> = Mutex::new(RefCell::new(None));

/// Microseconds, which begin again after 71 minutes.
fn now() -> u32 {
    // SAFETY: a register that is only read.
    unsafe { (*pac::TIMER::PTR).timerawl().read().bits() }
}

impl Encoder {
    fn tracks(&mut self) -> (bool, bool) {
        // Pins of this chip cannot fail to be read.
        (self.a.is_high().unwrap_or(false), self.b.is_high().unwrap_or(false))
    }
}

/// How many kinds of edges a track had since the last interrupt, up and down. What is read is cleared, and no more.
fn edges(track: &mut Track) -> u32 {
    let mut kinds = 0;
    for edge in [EdgeHigh, EdgeLow] {
        if track.interrupt_status(edge) {
            track.clear_interrupt(edge);
            kinds += 1;
        }
    }
    kinds
}

fn with(cs: CriticalSection<'_>, act: impl FnOnce(&mut Encoder)) {
    if let Some(encoder) = ENCODER.borrow(cs).borrow_mut().as_mut() {
        act(encoder);
    }
}

/// Counts from here on.
pub fn start(a: Track, b: Track) {
    let mut encoder = Encoder { a, b, counter: Quadrature::starting((false, false)), moved: now() };
    encoder.counter = Quadrature::starting(encoder.tracks());
    for edge in [EdgeHigh, EdgeLow] {
        encoder.a.set_interrupt_enabled(edge, true);
        encoder.b.set_interrupt_enabled(edge, true);
    }
    critical_section::with(|cs| ENCODER.borrow(cs).replace(Some(encoder)));
    // SAFETY: what the handler shares is behind a critical section.
    unsafe { pac::NVIC::unmask(pac::Interrupt::IO_IRQ_BANK0) };
}

/// The count; `Missed` when the tracks were not sampled often enough.
pub fn count() -> Result<i32, Missed> {
    critical_section::with(|cs| {
        ENCODER.borrow(cs).borrow().as_ref().map_or(Err(Missed), |encoder| encoder.counter.count())
    })
}

/// The probe is where the count is so.
pub fn set(count: i32) {
    critical_section::with(|cs| with(cs, |encoder| encoder.counter.set(count)));
}

/// From now on no interrupt comes; when that was.
pub fn left_alone() -> u32 {
    now()
}

/// Interrupts will come again, after none since `began`; called while they are still off.
pub fn looked_at_again(began: u32) {
    critical_section::with(|cs| {
        with(cs, |encoder| {
            let was_at_rest = began.wrapping_sub(encoder.moved) > REST_US;
            if !was_at_rest || now().wrapping_sub(began) > SHORT_US {
                encoder.counter.gap();
            }
            let tracks = encoder.tracks();
            encoder.counter.sample(tracks);
        });
    });
}

#[interrupt]
fn IO_IRQ_BANK0() {
    critical_section::with(|cs| {
        with(cs, |encoder| {
            let [a, b] = [&mut encoder.a, &mut encoder.b].map(edges);
            // Three edges or more since the last interrupt, of which the tracks would tell less: one track rose and fell,
            // and the other changed. One that rose and fell alone is where it was.
            if a.max(b) == 2 && a.min(b) > 0 {
                encoder.counter.gap();
            }
            let tracks = encoder.tracks();
            encoder.counter.sample(tracks);
            encoder.moved = now();
        });
    });
}
