//! From readings to figures: the place and level of each, one place from several views, scans, length and height.
//!
//! [`Examination::evaluate`](crate::record::examination::Examination::evaluate) gives [`Findings`], and these an
//! [`Indication`] each: every reading is evaluated once.

pub mod batch;
mod error;
#[cfg(feature = "record")]
mod extent;
pub mod fusion;
#[cfg(feature = "record")]
mod geometry;
#[cfg(feature = "record")]
mod height;
#[cfg(feature = "record")]
mod indication;
#[cfg(feature = "record")]
mod lean;
#[cfg(feature = "record")]
pub(crate) mod passed;
#[cfg(feature = "record")]
mod point;
#[cfg(feature = "record")]
mod reach;
#[cfg(feature = "record")]
mod reading;
#[cfg(feature = "record")]
mod scan;
#[cfg(feature = "record")]
mod scratch;
pub mod sizing;
#[cfg(feature = "record")]
mod strongest;
#[cfg(feature = "record")]
mod undetermined;

#[cfg(feature = "record")]
pub use self::{
    extent::Extent,
    geometry::{Match, geometry_of_reading},
    height::{HeightFinding, HeightMethod, HeightObservation, height_of},
    indication::Indication,
    lean::Lean,
    point::{Basis, Point},
    reading::{LevelFound, ReadingFinding, corner_with, evaluate},
    scan::{LengthRule, NoLength, SCANS, Scan},
    scratch::{Findings, Scratch},
    strongest::Strongest,
    undetermined::Undetermined,
};
#[cfg(feature = "record")]
pub(crate) use self::{
    passed::looked_beside,
    reach::{By, Reach},
    reading::{path_of, seen},
};
pub use error::ReadingError;
