//! How large: the length along the weld from the echo's rise and fall, the height from tip echoes.
//!
//! A length is a property of a moving probe, so it is read off a [`series`] of samples, never off one reading.

mod crossing;
pub mod height;
pub mod length;
pub mod series;
