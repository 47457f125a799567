//! From readings to figures: many readings at once, one place from several views, length and height.

pub mod batch;
pub mod fusion;
pub mod sizing;
