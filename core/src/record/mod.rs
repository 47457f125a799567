//! The record: entries, their frames, the store on flash, and the examination that folds them.

pub mod entry;
pub mod examination;
pub mod store;
