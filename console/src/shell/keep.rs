//! Where facts are kept before they are acknowledged.

use core::fmt::Write;

use halfskip::record::entry::Entry;

/// What keeps a fact before it is acknowledged.
pub trait Keep {
    /// Keeps the fact of a number; false when it could not, after writing why.
    fn keep(&mut self, number: u32, entry: impl FnOnce() -> Option<Entry>, out: &mut dyn Write) -> bool;
}

/// Keeps facts in the memory of the program alone, where they are anyhow.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct InMemory;

impl Keep for InMemory {
    fn keep(&mut self, _: u32, _: impl FnOnce() -> Option<Entry>, _: &mut dyn Write) -> bool {
        true
    }
}
