//! An indication, as an examination's [`Findings`] give it.

use super::Findings;
use super::reading::Heard;
use crate::calibration::level::Level;
use crate::record::examination::{Facts, Observed, Pooled};

/// One indication: every question about it is a function of this.
#[derive(Clone, Copy)]
pub struct Indication<'a> {
    of: &'a Findings<'a>,
    place: u8,
}

impl<'a> Indication<'a> {
    pub(super) const fn new(of: &'a Findings<'a>, place: u8) -> Self {
        Self { of, place }
    }

    /// What it is a part of.
    #[must_use]
    pub const fn findings(self) -> &'a Findings<'a> {
        self.of
    }

    /// What it is made from.
    #[must_use]
    pub const fn facts(self) -> &'a Facts<'a> {
        self.of.facts()
    }

    /// Its place in the list of names.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.place
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'a str {
        self.facts().name(self.place)
    }

    /// Its strongest level alone, kept once it is found; none when no reading has one.
    #[must_use]
    pub fn strength(self) -> Option<Level> {
        self.of.ends(self.place).level
    }

    /// Its readings in force.
    pub fn readings(self) -> impl Iterator<Item = Pooled<'a>> + Clone {
        self.facts().readings_of(self.place)
    }

    /// What the examiner saw of it.
    #[must_use]
    pub fn observed(self) -> Observed {
        self.facts().observed(self.place)
    }

    pub(crate) fn heard(self, reading: Pooled<'_>) -> Heard {
        self.of.heard(reading)
    }
}
