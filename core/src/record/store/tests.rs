use core::convert::Infallible;
use std::vec;
use std::vec::Vec;

use super::flash::BLANK;
use super::nor_flash::{ErrorType, ReadNorFlash};
use super::*;
use crate::record::entry::Text;

/// A memory without faults.
struct Plain(Vec<u8>);

impl ErrorType for Plain {
    type Error = Infallible;
}

impl ReadNorFlash for Plain {
    const READ_SIZE: usize = 4;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Infallible> {
        bytes.copy_from_slice(&self.0[offset as usize..][..bytes.len()]);
        Ok(())
    }

    fn capacity(&self) -> usize {
        self.0.len()
    }
}

impl NorFlash for Plain {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = 512;

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Infallible> {
        self.0[offset as usize..][..bytes.len()].copy_from_slice(bytes);
        Ok(())
    }

    fn erase(&mut self, from: u32, to: u32) -> Result<(), Infallible> {
        self.0[from as usize..to as usize].fill(BLANK);
        Ok(())
    }
}

/// A memory of two sectors, the first with that head.
fn headed(sequence: u32, first: u32) -> Plain {
    let mut flash = Plain(vec![BLANK; 1024]);
    let Ok(()) = Head { sequence, first }.program(&mut flash, 0);
    flash
}

#[test]
fn the_largest_number_is_never_given() {
    let mut store = Store::open(headed(1, u32::MAX - 1), Policy::Stop).unwrap();
    let note = Entry::Note(Text::try_from("late").unwrap());
    assert_eq!(store.append(&note), Ok(u32::MAX - 1));
    assert_eq!(store.append(&note), Err(StoreError::Full));
}

#[test]
fn a_memory_of_the_first_version_is_refused_by_name_and_left_as_it_is() {
    for policy in [Policy::Stop, Policy::Ring] {
        let mut flash = headed(1, 1);
        // The head as the first version programmed it, and a record behind it.
        let mut head = *b"HSL1\x01\0\0\0\x01\0\0\0\0\0\0\0";
        let sum = crate::record::entry::frame::checksum(&head[..12]).to_le_bytes();
        head[12..].copy_from_slice(&sum);
        flash.0[4..20].copy_from_slice(&head);
        flash.0[20..24].fill(7);
        let before = flash.0.clone();
        let mut store = Store::open(&mut flash, policy);
        let error = store.as_mut().map(|_| ()).unwrap_err();
        assert_eq!(*error, StoreError::Version { version: 1 });
        let told = std::string::ToString::to_string(error);
        assert_eq!(told, "the memory has version 1; this program reads version 2");
        drop(store);
        assert_eq!(flash.0, before);
        // Once retired, its sector can be used.
        flash.0[..4].fill(0);
        let mut store = Store::open(&mut flash, policy).unwrap();
        assert_eq!(store.append(&Entry::Note(Text::try_from("new").unwrap())), Ok(1));
    }
}

#[test]
fn sectors_are_counted_from_one() {
    assert!(Store::open(headed(1, 1), Policy::Stop).is_ok());
    let error = Store::open(headed(0, 1), Policy::Stop).map(|_| ()).unwrap_err();
    assert_eq!(error, StoreError::Foreign { sector: 0 });
}

#[test]
fn a_memory_without_room_for_the_longest_entry_is_told_before_it_is_full() {
    let mut store = Store::open(headed(1, 1), Policy::Stop).unwrap();
    let note = Entry::Note(Text::try_from("short").unwrap());
    while store.has_room() {
        store.append(&note).unwrap();
    }
    // Short ones still find it.
    assert!(store.append(&note).is_ok());
    let kept = store.last();
    // A ring makes room by itself.
    let ring = Store::open(store.release(), Policy::Ring).unwrap();
    assert!(ring.has_room() && ring.last() == kept);
}

#[test]
fn a_memory_that_does_not_open_is_given_back_as_it_was() {
    let mut flash = headed(1, 1);
    flash.0[600] = 0;
    let before = flash.0.clone();
    let Err((error, flash)) = Store::open_or_back(flash, Policy::Stop).map(|_| ()) else { panic!() };
    assert_eq!(error, StoreError::Foreign { sector: 1 });
    assert_eq!(flash.0, before);
}
