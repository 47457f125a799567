//! What can be read and disputed: facts with their figures, and what each of them says.

use core::fmt;

use super::told::BothWays;
use crate::entry::Steadiness;
use crate::expected::Feature;
use crate::side::{Face, Side};

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

/// One fact, with its figures.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
#[expect(missing_docs, reason = "the figures are named as they are printed, lengths in mm, levels in dB")]
pub enum Fact {
    /// The examiner peaked a corner.
    CornerPeaked { face: Face, readings: u32 },
    /// The examiner peaked tips beside a corner.
    TipPeaked { readings: u32 },
    /// The examiner peaked an upper and a lower tip and no corner.
    BothTipsPeaked { apart: f32 },
    /// The examiner looked for a tip.
    TipObserved { seen: bool },
    /// Views whose echo lies at a face.
    AtFace { face: Face, views: u32 },
    /// The echo at a face stands far over every one from inside.
    OverInside { face: Face, margin: f32 },
    /// It does not: an echo by way of the face, as a buried reflector gives.
    ByWayOf { face: Face, margin: f32 },
    /// Those who see the face see nothing inside.
    NothingInside { face: Face, views: u32 },
    /// The echo at a face is too wide for a corner.
    WideAtFace { face: Face, width: f32, beam: f32 },
    /// The strongest echo is weak for a corner with a face that others lie at.
    WeakAtFace { face: Face, level: f32, limit: f32 },
    /// Both faces answer about as strongly.
    AtBothFaces { apart: f32 },
    /// Views that agree on a place inside.
    Inside { views: u32, y: f32, u_y: f32, z: f32, u_z: f32, both_sides: bool },
    /// An echo elsewhere stands far over every one from inside.
    Outshone { margin: f32 },
    /// Two places inside, one above the other.
    TwoEnds { upper: f32, lower: f32, tilt: f32 },
    /// Odd legs see it higher than even ones: each the side of a body that is turned to it.
    Body { above: f32, below: f32 },
    /// An echo by way of the opposite face, as strong as the direct one: an upright plane sends it.
    ByTheFace { angle: f32, margin: f32 },
    /// None so strong, where it would have been seen.
    NotByTheFace { angle: f32, margin: f32 },
    /// Echoes past a face.
    PastFace { face: Face, views: u32, by: f32, u: f32 },
    /// Both sides plot past one another.
    Crossed { face: Face, by: f32, u: f32, pairs: u32 },
    /// Both sides plot at one place.
    SamePlace { face: Face, by: f32, u: f32, pairs: u32 },
    /// Both sides plot short of one another.
    Apart { face: Face, by: f32, u: f32, pairs: u32 },
    /// From one angle to a higher one the level changes as a corner's does.
    HoldsWithAngle { from: f32, to: f32, change: f32, corner: f32 },
    /// It falls by far more.
    FallsWithAngle { from: f32, to: f32, change: f32, corner: f32 },
    /// Levels from several directions.
    Directions { count: u32, span: f32, highest: f32, lowest: f32, at_most: bool },
    /// A level at or above the limit from which the classification standard calls it planar.
    High { level: f32, limit: f32 },
    /// The class of a series.
    Series(PatternSeen),
    /// How the echo falls as the probe is led around the reflector, or turned.
    Turned { orbit: bool, width: f32, open: bool, peaks: u32 },
    /// What the examiner saw of that.
    TurnObserved { orbit: bool, seen: Steadiness },
    /// How the echo begins and ends along the weld.
    Along { peaks: u32, abrupt: bool, deepest: f32 },
    /// The surface was damped.
    Damped { fell: bool },
    /// A clean length was compared.
    LikeCleanLength { like: bool },
    /// Strong from one side, weak or not seen from the other.
    OneSided { side: Side, over: f32 },
    /// It lies on a prepared face and answers best where that is met squarely.
    OnFusionFace { side: Side, off: f32, tilt: f32 },
    /// What breaks a face and is a flaw answers from a corner: it stands on the face.
    CornerOfFlaw,
    /// The echoes at a face lie clear of its reinforcement, of that half width.
    Elsewhere { face: Face, y: f32, half: f32 },
    /// A feature that the joint has explains every view, so far off in units of the expanded uncertainty.
    ExpectedThere { feature: Feature, distance: f32 },
}
