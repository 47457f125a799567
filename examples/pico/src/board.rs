//! The board, a Raspberry Pi Pico: pins, clock and memory, and what drives them.
//!
//! A port to another board is this file. With the same chip it is the constants and the two lines that name pins; with
//! another chip the drivers in `board/` too. The rest of the program takes from it:
//!
//! | | |
//! | --- | --- |
//! | [`start`], [`Board`] | the USB bus for `usb-device`, and a part of the flash that has `NorFlash` |
//! | [`encoder`] | `count` and `set` |
//! | [`lamp`], [`pressed`] | a light and a button |
//! | [`port_interrupt`] | lets the port be left alone until there is room |
//! | [`fail`] | the end of a program that cannot run on |
//!
//! and gives it `port::interrupted`, called when the bus has something, and `tick`.

mod flash;

#[cfg_attr(feature = "edges", path = "board/encoder_edges.rs")]
#[cfg_attr(not(feature = "edges"), path = "board/encoder_pio.rs")]
pub mod encoder;

use core::panic::PanicInfo;

use cortex_m::peripheral::syst::SystClkSource;
use cortex_m_rt::{ExceptionFrame, exception};
use rp2040_hal::clocks::ClocksManager;
use rp2040_hal::fugit::HertzU32;
use rp2040_hal::gpio::Pins;
use rp2040_hal::pac::{self, interrupt};
use rp2040_hal::pll::common_configs::PLL_USB_48MHZ;
use rp2040_hal::pll::{PLLConfig, setup_pll_blocking};
use rp2040_hal::usb::UsbBus;
use rp2040_hal::xosc::setup_xosc_blocking;
use rp2040_hal::{Sio, Watchdog};
use usb_device::bus::UsbBusAllocator;
use usb_device::device::UsbVidPid;

pub use flash::Record;

use crate::lamp::FAST_MS;
use crate::{TICK_MS, port};

/// The driver of the USB bus.
pub type Bus = UsbBus;

/// What the device is on the bus: a number for tests alone. A device that is handed on needs one of its own.
pub const IDENTITY: UsbVidPid = UsbVidPid(0x1209, 0x0001);

/// GP25, the lamp on the board; GP4, a button to ground. The tracks of the encoder are GP2 and GP3: see [`start`].
const LAMP: u32 = 1 << 25;
const BUTTON: u32 = 1 << 4;

/// The board's crystal, and the chip's rated speed made of it: 12 MHz x 133 / 12.
const CRYSTAL: HertzU32 = HertzU32::MHz(12);
const CLOCK_HZ: u32 = 133_000_000;
const PLL: PLLConfig = PLLConfig { vco_freq: HertzU32::MHz(1596), refdiv: 1, post_div1: 6, post_div2: 2 };

/// The second stage of the boot: makes the flash readable as memory, for the kind of flash that is on the board.
#[used]
#[unsafe(link_section = ".boot2")]
#[unsafe(no_mangle)]
static BOOT2: [u8; 256] = rp2040_boot2::BOOT_LOADER_W25Q080;

/// What the program takes over.
pub struct Board {
    pub bus: UsbBusAllocator<Bus>,
    pub record: Record,
}

/// Starts the board; none when its clocks do not come up.
pub fn start() -> Option<Board> {
    let (mut board, mut core) = (pac::Peripherals::take()?, pac::CorePeripherals::take()?);
    let resets = &mut board.RESETS;
    let xosc = setup_xosc_blocking(board.XOSC, CRYSTAL).ok()?;
    Watchdog::new(board.WATCHDOG).enable_tick_generation(CRYSTAL.to_MHz() as u8);
    let mut clocks = ClocksManager::new(board.CLOCKS);
    let crystal = xosc.operating_frequency();
    let system = setup_pll_blocking(board.PLL_SYS, crystal, PLL, &mut clocks, resets).ok()?;
    let usb = setup_pll_blocking(board.PLL_USB, crystal, PLL_USB_48MHZ, &mut clocks, resets).ok()?;
    clocks.init_default(&xosc, &system, &usb).ok()?;

    let pins = Pins::new(board.IO_BANK0, board.PADS_BANK0, Sio::new(board.SIO).gpio_bank0, resets);
    let _lamp = pins.gpio25.into_push_pull_output();
    let _button = pins.gpio4.into_pull_up_input();
    #[cfg(feature = "edges")]
    encoder::start(
        pins.gpio2.into_pull_up_input().into_dyn_pin(),
        pins.gpio3.into_pull_up_input().into_dyn_pin(),
    );
    #[cfg(not(feature = "edges"))]
    encoder::start(pins.gpio2.reconfigure(), pins.gpio3.reconfigure(), board.PIO0, resets);

    let bus = UsbBus::new(board.USBCTRL_REGS, board.USBCTRL_DPRAM, clocks.usb_clock, true, resets);
    core.SYST.set_clock_source(SystClkSource::Core);
    core.SYST.set_reload(CLOCK_HZ / 1000 * TICK_MS - 1);
    core.SYST.clear_current();
    core.SYST.enable_interrupt();
    core.SYST.enable_counter();
    Some(Board { bus: UsbBusAllocator::new(bus), record: Record })
}

/// Switches the lamp.
pub fn lamp(on: bool) {
    // SAFETY: registers that set or clear one output each; nothing else drives it.
    unsafe {
        let outputs = &*pac::SIO::PTR;
        if on {
            outputs.gpio_out_set().write(|w| w.bits(LAMP))
        } else {
            outputs.gpio_out_clr().write(|w| w.bits(LAMP))
        };
    }
}

/// Whether the button is down.
pub fn pressed() -> bool {
    // SAFETY: a register that is only read.
    unsafe { (*pac::SIO::PTR).gpio_in().read().bits() & BUTTON == 0 }
}

/// Lets the port interrupt, or not.
pub fn port_interrupt(on: bool) {
    if on {
        // SAFETY: what the handler shares is behind a critical section.
        unsafe { pac::NVIC::unmask(pac::Interrupt::USBCTRL_IRQ) };
    } else {
        pac::NVIC::mask(pac::Interrupt::USBCTRL_IRQ);
    }
}

/// Blinks for ever: the program cannot run on. What is in flash stays there.
pub fn fail() -> ! {
    cortex_m::interrupt::disable();
    for on in [true, false].into_iter().cycle() {
        lamp(on);
        cortex_m::asm::delay(CLOCK_HZ / 1000 * FAST_MS);
    }
    loop {
        cortex_m::asm::wfi();
    }
}

#[interrupt]
fn USBCTRL_IRQ() {
    port::interrupted();
}

#[exception]
fn SysTick() {
    crate::tick();
}

#[panic_handler]
fn panicked(_: &PanicInfo<'_>) -> ! {
    fail()
}

#[exception]
unsafe fn HardFault(_: &ExceptionFrame) -> ! {
    fail()
}
