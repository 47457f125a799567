//! Steps of a derivation, each with the key of its source; the sources used are told at the end.

use core::fmt;

use crate::answers::page::Page;

/// Where a formula comes from.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Source {
    /// Frame of reference and legs.
    Welds,
    /// Reference curves and transfer.
    Sensitivity,
    /// Propagation of uncertainty.
    Gum,
    /// Geometry of angle beams and tips.
    Geometry,
    /// Common practice.
    Practice,
    /// The weighted rating.
    Rating,
    /// The sheet in force.
    Sheet,
    /// The technique sheet in force.
    Technique,
}

use Source::{Geometry, Gum, Practice, Rating, Sensitivity, Sheet, Technique, Welds};

const SOURCES: [(Source, &str, &str); 8] = [
    (Welds, "R1", "ISO 17640, ultrasonic testing of welds"),
    (Sensitivity, "R2", "ISO 16811, sensitivity and range setting"),
    (Gum, "R3", "JCGM 100:2008 (GUM), propagation of uncertainty"),
    (Geometry, "R4", "NDE-Ed (Iowa State University), angle beams and tip diffraction"),
    (Practice, "R7", "common practice, no source"),
    (Rating, "R9", "AWS D1.1, d = a - b - c (its structure only)"),
    (Sheet, "S", "the sheet in force"),
    (Technique, "T", "the technique sheet in force"),
];

impl Source {
    const fn bit(self) -> u8 {
        1 << self as u8
    }

    fn key(self) -> &'static str {
        SOURCES.iter().find(|(source, ..)| *source == self).map_or("", |(_, key, _)| key)
    }
}

/// The steps as they are written.
pub(super) struct Steps<'p, 'w> {
    pub page: &'p mut Page<'w>,
    used: u8,
}

impl<'p, 'w> Steps<'p, 'w> {
    pub const fn new(page: &'p mut Page<'w>) -> Self {
        Self { page, used: 0 }
    }

    /// A result: its symbol, the formula with the numbers put in, the source.
    pub fn step(&mut self, symbol: &str, text: fmt::Arguments<'_>, source: Source) -> fmt::Result {
        self.used |= source.bit();
        self.page.step(symbol, format_args!("{text} [{}]", source.key()))
    }

    /// What a symbol stands for, without a formula.
    pub fn given(&mut self, symbol: &str, text: fmt::Arguments<'_>) -> fmt::Result {
        self.page.step(symbol, text)
    }

    /// Something to know about the steps.
    pub fn remark(&mut self, text: fmt::Arguments<'_>) -> fmt::Result {
        self.page.step("", text)
    }

    /// The sources that were used.
    pub fn sources(&mut self) -> fmt::Result {
        self.page.heading(format_args!("Sources"))?;
        for (source, key, name) in SOURCES {
            if self.used & source.bit() != 0 {
                self.page.step(key, format_args!("{name}"))?;
            }
        }
        Ok(())
    }
}
