//! The last part of the flash that the program itself runs from.
//!
//! While a sector is erased or a page programmed the flash cannot be read: no interrupt may run and no instruction may be
//! fetched from it, so that the five calls into the boot ROM are made from RAM (RP2040 datasheet, 2.8.3.1.3). The chip
//! programs pages of 256 bytes; bytes of ones around those wanted leave the others as they are.

use halfskip::record::store::nor_flash::{
    ErrorType, NorFlash, NorFlashErrorKind, ReadNorFlash, check_erase, check_read, check_write,
};
use rp2040_hal::rom_data;

use super::encoder;

const SECTOR: usize = 4096;
const PAGE: usize = 256;
/// Where the flash is read as memory, past the cache: what was programmed is seen at once.
const MAPPED: usize = 0x1300_0000;
/// The command that erases a sector.
const ERASE_SECTOR: u8 = 0x20;

unsafe extern "C" {
    static _record_start: u8;
    static _record_size: u8;
}

/// The part of the flash that holds the record.
#[derive(Clone, Copy, Debug)]
pub struct Record;

/// What the boot ROM does with the flash.
struct Rom {
    connect: unsafe extern "C" fn(),
    leave_mapped: unsafe extern "C" fn(),
    erase: unsafe extern "C" fn(u32, usize, u32, u8),
    program: unsafe extern "C" fn(u32, *const u8, usize),
    flush: unsafe extern "C" fn(),
    /// The second stage of the boot, copied to RAM: makes the flash readable again as it was.
    map: unsafe extern "C" fn(),
}

/// Where the record begins, from the beginning of the flash.
fn start() -> usize {
    (&raw const _record_start).addr()
}

/// Erases the sector at `at`, or programs `page` there.
fn change(at: usize, page: Option<&[u8; PAGE]>) {
    let mut second_stage = [0u32; 64];
    for (word, from) in second_stage.iter_mut().zip((0x1000_0000usize..).step_by(4)) {
        // SAFETY: the first 256 bytes of the flash, which is readable here.
        *word = unsafe { core::ptr::with_exposed_provenance::<u32>(from).read_volatile() };
    }
    // SAFETY: the second stage is code for any address; the lowest bit says that it is Thumb.
    let map = unsafe {
        core::mem::transmute::<usize, unsafe extern "C" fn()>(second_stage.as_ptr().expose_provenance() | 1)
    };
    let rom = Rom {
        connect: rom_data::connect_internal_flash::ptr(),
        leave_mapped: rom_data::flash_exit_xip::ptr(),
        erase: rom_data::flash_range_erase::ptr(),
        program: rom_data::flash_range_program::ptr(),
        flush: rom_data::flash_flush_cache::ptr(),
        map,
    };
    let page = page.map_or(core::ptr::null(), |page| page.as_ptr());
    critical_section::with(|_| {
        let began = encoder::left_alone();
        // SAFETY: interrupts are off, the other core does not run, and no transfer reads the flash.
        unsafe { from_ram(&rom, at as u32, page) };
        encoder::looked_at_again(began);
    });
}

/// Runs in RAM, and calls nothing that does not lie in RAM or ROM.
#[inline(never)]
#[unsafe(link_section = ".data.ram_func")]
unsafe fn from_ram(rom: &Rom, at: u32, page: *const u8) {
    // SAFETY: as the caller says.
    unsafe {
        (rom.connect)();
        (rom.leave_mapped)();
        if page.is_null() {
            (rom.erase)(at, SECTOR, SECTOR as u32, ERASE_SECTOR);
        } else {
            (rom.program)(at, page, PAGE);
        }
        (rom.flush)();
        (rom.map)();
    }
}

impl ErrorType for Record {
    type Error = NorFlashErrorKind;
}

impl ReadNorFlash for Record {
    const READ_SIZE: usize = 1;

    fn read(&mut self, offset: u32, into: &mut [u8]) -> Result<(), NorFlashErrorKind> {
        check_read(self, offset, into.len())?;
        for (byte, from) in into.iter_mut().zip(MAPPED + start() + offset as usize..) {
            // SAFETY: within the part of the flash that the linker script keeps for the record.
            *byte = unsafe { core::ptr::with_exposed_provenance::<u8>(from).read_volatile() };
        }
        Ok(())
    }

    fn capacity(&self) -> usize {
        (&raw const _record_size).addr()
    }
}

impl NorFlash for Record {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = SECTOR;

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), NorFlashErrorKind> {
        check_write(self, offset, bytes.len())?;
        let (mut at, mut bytes) = (start() + offset as usize, bytes);
        while !bytes.is_empty() {
            let (page, within) = (at / PAGE * PAGE, at % PAGE);
            let (now, later) = bytes.split_at(bytes.len().min(PAGE - within));
            let mut whole = [0xFF; PAGE];
            whole.iter_mut().skip(within).zip(now).for_each(|(cell, byte)| *cell = *byte);
            change(page, Some(&whole));
            (at, bytes) = (at + now.len(), later);
        }
        Ok(())
    }

    fn erase(&mut self, from: u32, to: u32) -> Result<(), NorFlashErrorKind> {
        check_erase(self, from, to)?;
        (from as usize..to as usize).step_by(SECTOR).for_each(|sector| change(start() + sector, None));
        Ok(())
    }
}
