//! How far an in-service check may be off before the readings it speaks for are suspect.

use crate::acceptance::technique::Technique;
use crate::record::entry::ToleranceEntry;
use crate::units::{Decibels, ScreenPercent};

/// How far an in-service check may be off.
///
/// The defaults, 2 % of the path and 2 dB, are from memory of ISO 17640 (range) and ASME V article 4 (sensitivity);
/// the governing code decides. The `tolerance` line sets them, and a technique sheet that has its own overrules it.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CheckLimits {
    /// Percent of the path.
    pub range: ScreenPercent,
    /// Decibels.
    pub sensitivity: Decibels,
}

impl CheckLimits {
    /// These, where a tolerance line has none of its own.
    pub(in crate::record::examination) fn with(self, line: &ToleranceEntry) -> Self {
        Self {
            range: line.range.map_or(self.range, |range| range.quantity()),
            sensitivity: line.sensitivity.map_or(self.sensitivity, |sensitivity| sensitivity.quantity()),
        }
    }

    /// The narrower of both.
    pub(super) fn narrower(self, other: Self) -> Self {
        let range = if other.range < self.range { other.range } else { self.range };
        let narrower = other.sensitivity < self.sensitivity;
        Self { range, sensitivity: if narrower { other.sensitivity } else { self.sensitivity } }
    }

    /// These, where the technique sheet has none of its own.
    pub(in crate::record::examination) fn under(self, technique: &Technique) -> Self {
        Self {
            range: technique.range_within.unwrap_or(self.range),
            sensitivity: technique.sensitivity_within.unwrap_or(self.sensitivity),
        }
    }
}
