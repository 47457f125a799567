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
    Head { sequence, first, used: 1 }.program(&mut flash, 0).unwrap();
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
fn a_memory_of_another_version_is_refused_by_name_and_left_as_it_is() {
    for policy in [Policy::Stop, Policy::Ring] {
        let mut flash = headed(1, 1);
        flash.0[3] = b'1';
        let sum = crate::record::entry::frame::checksum(&flash.0[..16]).to_le_bytes();
        flash.0[16..20].copy_from_slice(&sum);
        flash.0[24..30].fill(7);
        let before = flash.0.clone();
        let error = Store::open(&mut flash, policy).map(|_| ()).unwrap_err();
        assert_eq!(error, StoreError::Version { version: 1 });
        let told = std::string::ToString::to_string(&error);
        assert_eq!(told, "the memory has version 1; this program reads version 2");
        assert_eq!(flash.0, before);
        Store::format(&mut flash).unwrap();
        let mut store = Store::open(&mut flash, policy).unwrap();
        assert_eq!(store.append(&Entry::Note(Text::try_from("new").unwrap())), Ok(1));
    }
}

#[test]
fn a_head_that_claims_more_sectors_than_there_are_or_none_is_taken_at_what_is_there() {
    for (claimed, first) in [(0, 1), (9, 1), (u32::MAX, 1)] {
        let mut flash = Plain(vec![BLANK; 1024]);
        Head { sequence: 7, first: 5, used: claimed }.program(&mut flash, 0).unwrap();
        let store = Store::open(&mut flash, Policy::Stop).unwrap();
        assert_eq!((store.first(), store.last()), (if claimed == 0 { 5 } else { first }, 4));
    }
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
    let ring = Store::open(store.into_flash(), Policy::Ring).unwrap();
    assert!(ring.has_room() && ring.last() == kept);
}

#[test]
fn a_memory_that_does_not_open_is_given_back_as_it_was() {
    let mut flash = Plain(vec![BLANK; 1024]);
    flash.0[600] = 0;
    let before = flash.0.clone();
    let Err((error, flash)) = Store::open_or_back(flash, Policy::Stop).map(|_| ()) else { panic!() };
    assert_eq!(error, StoreError::Foreign { sector: 1 });
    assert_eq!(flash.0, before);
}
