//! Why a sheet is refused.

use core::fmt;

use super::row::RowZone;
use crate::units::decimal::fixed;
use crate::units::error::RangeError;

/// Why a sheet is refused.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum SheetError {
    /// It has no rows.
    Empty,
    /// A text of its head is missing: which one.
    Missing(&'static str),
    /// A text of its head holds control characters: which one.
    Unprintable(&'static str),
    /// A number of its head is out of range.
    Range(RangeError),
    /// A row is at fault.
    Row {
        /// Its number, counted from 1.
        row: usize,
        /// What is wrong with it.
        fault: RowFault,
    },
    /// No row decides this case.
    Hole(RowGap),
}

/// What is wrong with a row.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum RowFault {
    /// A limit is out of range.
    Range(RangeError),
    /// No thickness lies within its limits.
    Thickness,
    /// No measure lies within its limits.
    Measure,
    /// No length lies within its limits.
    Length,
    /// Its class holds control characters.
    Class,
}

/// A case that no row of a sheet decides; what the sheet never asks about is left out.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct RowGap {
    /// Thickness, mm.
    pub thickness: Option<f32>,
    /// Nominal angle, degrees.
    pub angle: Option<f32>,
    /// The measure, dB.
    pub measure: Option<f32>,
    /// Length along the weld, mm.
    pub length: Option<f32>,
    /// Zone of the thickness.
    pub zone: Option<RowZone>,
    /// Whether planar.
    pub planar: Option<bool>,
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str(
                "the sheet has no rows; a template is filled in by the owner of the code, from their own copy of it",
            ),
            Self::Missing(text) => write!(f, "the sheet has no {text}"),
            Self::Unprintable(text) => write!(f, "the sheet's {text} holds control characters"),
            Self::Range(error) => error.fmt(f),
            Self::Row { row, fault } => write!(f, "row {row}: {fault}"),
            Self::Hole(hole) => write!(f, "no row decides {hole}"),
        }
    }
}

impl core::error::Error for SheetError {}

impl fmt::Display for RowFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Range(error) => return error.fmt(f),
            Self::Thickness => "no thickness lies within its limits",
            Self::Measure => "no measure lies within its limits",
            Self::Length => "no length lies within its limits",
            Self::Class => "its class holds control characters",
        })
    }
}

impl core::error::Error for RowFault {}

impl fmt::Display for RowGap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let numbers = [
            ("thickness", self.thickness, "mm"),
            ("angle", self.angle, "deg"),
            ("measure", self.measure, "dB"),
            ("length", self.length, "mm"),
        ];
        let mut between = "";
        for (name, value, unit) in numbers {
            if let Some(value) = value {
                write!(f, "{between}{name} {} {unit}", fixed(value))?;
                between = ", ";
            }
        }
        if let Some(zone) = self.zone {
            write!(f, "{between}{zone}")?;
            between = ", ";
        }
        if let Some(planar) = self.planar {
            write!(f, "{between}{}", if planar { "planar" } else { "not planar" })?;
        }
        Ok(())
    }
}
