//! Facts of the calibration and the uncertainty budget.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::{BlockName, Clock, Name};
use crate::units::decimal::{Decimal, Entered};
use crate::units::{
    Decibels, Degrees, Microseconds, Millimetres, MillimetresPerMicrosecond, Percent, ScreenPercent,
    VelocityDifference,
};

pub use crate::calibration::curve::Beyond;

/// Echoes of one time-base line.
pub const MAX_ECHOES: usize = 8;
/// Shots of one transfer measurement, block or part.
pub const MAX_SHOTS: usize = 4;
/// Steps of one linearity check.
pub const MAX_STEPS: usize = 12;

/// A calibrated pair: sound path, mm, and the gain that brings its echo to one height, dB.
pub type Calibrated = (Entered<Millimetres>, Entered<Decibels>);

/// The time base of a probe.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct TimebaseEntry {
    /// The probe.
    pub probe: Name,
    /// How it is known.
    pub how: TimebaseKnown,
}

/// How a time base is known.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum TimebaseKnown {
    /// Echoes from known paths.
    Echoes {
        /// Known sound paths, one way, mm, two or more ([`PATH`](crate::units::limits::PATH)).
        path: Vec<Entered<Millimetres>, MAX_ECHOES>,
        /// Times of their echoes, there and back with the delay, us, in the same order ([`TIME`](crate::units::limits::TIME)).
        /// As many as there are paths: of what has no partner nothing is used.
        time: Vec<Entered<Microseconds>, MAX_ECHOES>,
    },
    /// Stated, not measured in this examination.
    Stated {
        /// Velocity in the part, mm/us.
        velocity: Entered<MillimetresPerMicrosecond>,
        /// Time spent before the index point, us ([`DELAY`](crate::units::limits::DELAY)).
        delay: Entered<Microseconds>,
    },
}

/// A probe's true angle.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[serde(from = "AngleWire", into = "AngleWire")]
pub struct AngleEntry {
    /// The probe.
    pub probe: Name,
    /// How it is known.
    pub how: AngleKnown,
    /// Temperature of the block, and of the wedge on it, degrees Celsius ([`TEMPERATURE`](crate::units::limits::TEMPERATURE));
    /// `None` is not known.
    pub at: Option<Decimal>,
}

/// An angle as a frame holds it. The temperature has kinds of its own at the end, so that no earlier frame changes.
#[derive(Serialize, Deserialize)]
struct AngleWire {
    probe: Name,
    how: AngleKind,
}

#[derive(Serialize, Deserialize)]
enum AngleKind {
    Hole { depth: Entered<Millimetres>, distance: Entered<Millimetres> },
    Stated { angle: Entered<Degrees>, index: Option<Entered<Millimetres>> },
    HoleAt { depth: Entered<Millimetres>, distance: Entered<Millimetres>, at: Decimal },
    StatedAt { angle: Entered<Degrees>, index: Option<Entered<Millimetres>>, at: Decimal },
}

impl From<AngleWire> for AngleEntry {
    fn from(AngleWire { probe, how }: AngleWire) -> Self {
        let (how, at) = match how {
            AngleKind::Hole { depth, distance } => (AngleKnown::Hole { depth, distance }, None),
            AngleKind::Stated { angle, index } => (AngleKnown::Stated { angle, index }, None),
            AngleKind::HoleAt { depth, distance, at } => (AngleKnown::Hole { depth, distance }, Some(at)),
            AngleKind::StatedAt { angle, index, at } => (AngleKnown::Stated { angle, index }, Some(at)),
        };
        Self { probe, how, at }
    }
}

impl From<AngleEntry> for AngleWire {
    fn from(AngleEntry { probe, how, at }: AngleEntry) -> Self {
        let how = match (how, at) {
            (AngleKnown::Hole { depth, distance }, None) => AngleKind::Hole { depth, distance },
            (AngleKnown::Stated { angle, index }, None) => AngleKind::Stated { angle, index },
            (AngleKnown::Hole { depth, distance }, Some(at)) => AngleKind::HoleAt { depth, distance, at },
            (AngleKnown::Stated { angle, index }, Some(at)) => AngleKind::StatedAt { angle, index, at },
        };
        Self { probe, how }
    }
}

/// How a probe's true angle is known.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum AngleKnown {
    /// A peaked side-drilled hole; several give the index point too.
    Hole {
        /// The hole's centre below the scanned face, mm ([`DEPTH`](crate::units::limits::DEPTH)).
        depth: Entered<Millimetres>,
        /// The probe's mark to the point above the hole, along the surface at the peak, mm
        /// ([`DISTANCE`](crate::units::limits::DISTANCE)).
        distance: Entered<Millimetres>,
    },
    /// Stated, not measured in this examination.
    Stated {
        /// Refracted angle in the part, from the surface's normal, deg ([`ANGLE`](crate::units::limits::ANGLE)).
        angle: Entered<Degrees>,
        /// How far the index point lies ahead of the probe's mark, mm, negative behind it
        /// ([`INDEX`](crate::units::limits::INDEX)); `None` takes the mark for it.
        index: Option<Entered<Millimetres>>,
    },
}

/// A reference point: path to the echo, its height, the gain.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct DacEntry {
    /// The probe.
    pub probe: Name,
    /// Sound path to the echo as the time base shows it, mm ([`PATH`](crate::units::limits::PATH)).
    pub path: Entered<Millimetres>,
    /// Height of the echo, % of full screen height: over the noise, at most what the screen measures.
    pub height: Entered<ScreenPercent>,
    /// Total gain of the instrument at that height, dB ([`GAIN`](crate::units::limits::GAIN)).
    pub gain: Entered<Decibels>,
    /// Diameter of the side-drilled hole, mm ([`HOLE`](crate::units::limits::HOLE)), one for all points of a curve; no level uses
    /// it.
    pub hole: Option<Entered<Millimetres>>,
}

/// What the screen can measure, and the reference height. A key left out keeps what held before.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ScreenEntry {
    /// The greatest height that can be read, % of full screen height; 100 until it is said.
    pub max: Option<Entered<ScreenPercent>>,
    /// Height of the noise, %, below `max`; 5 until it is said.
    pub noise: Option<Entered<ScreenPercent>>,
    /// Height that references are brought to, %, over the noise and up to `max`; 80 until it is said.
    pub reference: Option<Entered<ScreenPercent>>,
}

/// Through-transmission shots on block and part, or a fixed correction.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct TransferEntry {
    /// The probe.
    pub probe: Name,
    /// How the correction is known.
    pub how: Shots,
}

/// How a transfer correction is known.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Shots {
    /// Gain that the part needs over the block, dB; negative where it needs less.
    Fixed(Entered<Decibels>),
    /// V and W shots on block and part.
    Lines {
        /// On the block, one or more; the path is half of what the sound travels.
        block: Vec<Calibrated, MAX_SHOTS>,
        /// On the part, likewise.
        part: Vec<Calibrated, MAX_SHOTS>,
    },
}

/// An in-service check against the calibration.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CheckEntry {
    /// The probe.
    pub probe: Name,
    /// Known sound path, mm ([`PATH`](crate::units::limits::PATH)).
    pub path: Entered<Millimetres>,
    /// Path that the time base shows of it, mm.
    pub shown: Entered<Millimetres>,
    /// Height of its echo, % of full screen height; without `gain` it says nothing of the sensitivity.
    pub height: Option<Entered<ScreenPercent>>,
    /// Total gain of the instrument at that height, dB.
    pub gain: Option<Entered<Decibels>>,
    /// When, on the day in force.
    pub time: Option<Clock>,
    /// The block it was done on.
    pub block: Option<BlockName>,
}

/// The window that a linearity check is judged against.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum LinearityWindow {
    /// That of NAVSEA T9074-AS-GIB-010/271.
    #[default]
    T9074,
    /// A half width of the examiner's own, % of full screen height.
    Within(Entered<ScreenPercent>),
}

/// Screen-height linearity: pairs of a large echo and one that should be half of it.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ScreenLinearityEntry {
    /// Heights of the larger echo, % of full screen height, above 0.
    pub large: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    /// Heights of the smaller one, in the same order, as many: of what has no partner nothing is used.
    pub small: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    /// What they are judged by.
    pub window: LinearityWindow,
}

/// Gain-control linearity: height set, gain change, height shown.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct GainLinearityEntry {
    /// Heights that the echo was set to, % of full screen height, above 0.
    pub set: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    /// What the gain was then changed by, dB, negative for less; in the same order and as many, as the next list.
    pub change: Vec<Entered<Decibels>, MAX_STEPS>,
    /// Heights shown after that, %.
    pub shown: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    /// What they are judged by.
    pub window: LinearityWindow,
}

/// Half widths of the uncertainty budget (rectangular), and how far an in-service check may be off. A key left out
/// keeps what held before.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ToleranceEntry {
    /// Refracted angle, deg, 0 to 45.
    pub angle: Option<Entered<Degrees>>,
    /// One reading of the path, mm, 0 to 1000 as the lengths below.
    pub path: Option<Entered<Millimetres>>,
    /// The index point, mm.
    pub index: Option<Entered<Millimetres>>,
    /// One reading of the stand-off, mm.
    pub standoff: Option<Entered<Millimetres>>,
    /// Thickness, mm.
    pub thickness: Option<Entered<Millimetres>>,
    /// Velocity in the part, mm/us, 0 to 1.
    pub velocity: Option<Entered<VelocityDifference>>,
    /// One reading of an echo's height, % of full screen height, 0 to 100.
    pub height: Option<Entered<ScreenPercent>>,
    /// Range drift of a check, % of the path, 0 to 100.
    pub range: Option<Entered<Percent>>,
    /// Sensitivity drift of a check, dB, 0 to 100.
    pub sensitivity: Option<Entered<Decibels>>,
    /// How large a reflector may be where its views are too few to tell, mm; 0 for a point.
    pub reflector: Option<Entered<Millimetres>>,
    /// How far a flaw that was seen from one side may lean, deg, 0 to 45.
    pub lean: Option<Entered<Degrees>>,
}
