//! The line language below its commands: words, keys, values as read and as written, and why a line is refused.

pub mod keys;
pub(crate) mod nearest;
pub mod parse;
pub mod refusal;
pub mod text;
pub(crate) mod words;
pub mod write;
