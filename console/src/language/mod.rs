//! The line language below its commands: words, keys, values as read and as written, and why a line is refused.

pub mod keys;
pub(crate) mod nearest;
pub mod refusal;
pub mod text;
pub(crate) mod values;
pub(crate) mod words;
pub(crate) mod writer;
