//! What can be read and disputed: facts, and what each of them says.

use core::fmt;

pub use super::fact::Fact;
use super::told::BothWays;
use crate::part::side::{Face, Side};

/// What a fact says, each question by itself: 3 and 2 firmly for, 1 for, 0 nothing, the same below 0 against.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Says {
    /// Planar; against is volumetric.
    pub planar: i8,
    /// Breaks the far face.
    pub far: i8,
    /// Breaks the near face.
    pub near: i8,
    /// Breaks neither.
    pub buried: i8,
    /// A flaw; against is the shape of the weld.
    pub flaw: i8,
}

impl Says {
    pub(super) const NOTHING: Self = Self { planar: 0, far: 0, near: 0, buried: 0, flaw: 0 };

    pub(super) const fn planar(planar: i8) -> Self {
        Self { planar, ..Self::NOTHING }
    }

    pub(super) const fn flaw(flaw: i8) -> Self {
        Self { flaw, ..Self::NOTHING }
    }

    pub(super) const fn buried(buried: i8) -> Self {
        Self { buried, ..Self::NOTHING }
    }

    /// Breaks this face.
    pub(super) const fn breaks(face: Face, weight: i8) -> Self {
        match face {
            Face::Far => Self { far: weight, ..Self::NOTHING },
            Face::Near => Self { near: weight, ..Self::NOTHING },
        }
    }

    pub(super) const fn and_planar(self, planar: i8) -> Self {
        Self { planar, ..self }
    }

    pub(super) const fn and_buried(self, buried: i8) -> Self {
        Self { buried, ..self }
    }
}

/// One piece of evidence.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Evidence {
    /// What was found.
    pub fact: Fact,
    /// What that says.
    pub says: Says,
}

impl fmt::Display for Evidence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.fact, BothWays(self.says))
    }
}

/// The classes of echo dynamics, of a probe that moves across or along \[R15\].
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Pattern {
    /// 1: rises and falls as the beam does.
    Point,
    /// 2: a plateau with little ripple.
    SmoothExtended,
    /// 3a: a plateau with large swings.
    RoughNormal,
    /// 3b: small peaks that travel through an envelope.
    RoughTravelling,
    /// 4: several echoes, each rising and falling on its own.
    Cluster,
}

/// The figures that put a series into its class.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PatternSeen {
    /// The class.
    pub pattern: Pattern,
    /// The beam's axis, deg.
    pub angle: f32,
    /// The side.
    pub side: Side,
    /// Travel between the 6 dB points, mm.
    pub width: f32,
    /// The travel that a point would give, at the most, mm.
    pub beam: f32,
    /// Peaks of 6 dB and more in the main echo.
    pub high_peaks: u32,
    /// The deepest valley between two peaks, dB.
    pub deepest: f32,
    /// Rates of rise and fall, dB/mm; none where the series was cut.
    pub rise: Option<f32>,
    /// Likewise.
    pub fall: Option<f32>,
    /// Path travelled per probe travel, and what a fixed point on the beam's axis gives; none where it was not fitted.
    pub walk: Option<(f32, f32)>,
    /// Echoes that came and went, within 12 dB of the strongest.
    pub echoes: u32,
}
