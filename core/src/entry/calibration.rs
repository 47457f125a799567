//! Facts of the calibration and the uncertainty budget.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::Name;
use crate::decimal::Entered;
use crate::units::{Decibels, Degrees, Microseconds, Millimetres, ScreenPercent, VelocityDifference};

pub use crate::curve::Beyond;

/// Echoes of one time-base line.
pub const MAX_ECHOES: usize = 8;
/// Shots of one transfer measurement, block or part.
pub const MAX_SHOTS: usize = 4;
/// Steps of one linearity check.
pub const MAX_STEPS: usize = 12;

/// A calibrated pair: sound path and the gain that brings its echo to one height.
pub type Calibrated = (Entered<Millimetres>, Entered<Decibels>);

/// Echoes from known paths.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the timebase line")]
pub struct TimebaseEntry {
    pub probe: Name,
    pub path: Vec<Entered<Millimetres>, MAX_ECHOES>,
    pub time: Vec<Entered<Microseconds>, MAX_ECHOES>,
}

/// A peaked side-drilled hole: depth of its centre and surface distance.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the angle line")]
pub struct AngleEntry {
    pub probe: Name,
    pub depth: Entered<Millimetres>,
    pub distance: Entered<Millimetres>,
}

/// A reference point: path to the echo, its height, the gain.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the dac line")]
pub struct DacEntry {
    pub probe: Name,
    pub path: Entered<Millimetres>,
    pub height: Entered<ScreenPercent>,
    pub gain: Entered<Decibels>,
    pub hole: Option<Entered<Millimetres>>,
}

/// What the screen can measure, and the reference height. A key left out keeps what held before.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the screen line")]
pub struct ScreenEntry {
    pub max: Option<Entered<ScreenPercent>>,
    pub noise: Option<Entered<ScreenPercent>>,
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
    /// One fixed gain.
    Fixed(Entered<Decibels>),
    /// V and W shots on block and part.
    Lines {
        /// On the block.
        block: Vec<Calibrated, MAX_SHOTS>,
        /// On the part.
        part: Vec<Calibrated, MAX_SHOTS>,
    },
}

/// An in-service check against the calibration.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the check line")]
pub struct CheckEntry {
    pub probe: Name,
    pub path: Entered<Millimetres>,
    pub shown: Entered<Millimetres>,
    pub height: Option<Entered<ScreenPercent>>,
    pub gain: Option<Entered<Decibels>>,
}

/// The window that a linearity check is judged against.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum LinearityWindow {
    /// That of NAVSEA T9074-AS-GIB-010/271.
    #[default]
    T9074,
    /// A half width of the examiner's own.
    Within(Entered<ScreenPercent>),
}

/// Screen-height linearity: pairs of a large echo and one that should be half of it.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the linearity line")]
pub struct ScreenLinearityEntry {
    pub large: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    pub small: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    pub window: LinearityWindow,
}

/// Gain-control linearity: height set, gain change, height shown.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the linearity line")]
pub struct GainLinearityEntry {
    pub set: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    pub change: Vec<Entered<Decibels>, MAX_STEPS>,
    pub shown: Vec<Entered<ScreenPercent>, MAX_STEPS>,
    pub window: LinearityWindow,
}

/// Half widths of the uncertainty budget (rectangular), and how far an in-service check may be off. A key left out
/// keeps what held before.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the tolerance line")]
pub struct ToleranceEntry {
    pub angle: Option<Entered<Degrees>>,
    pub path: Option<Entered<Millimetres>>,
    pub index: Option<Entered<Millimetres>>,
    pub standoff: Option<Entered<Millimetres>>,
    pub thickness: Option<Entered<Millimetres>>,
    pub velocity: Option<Entered<VelocityDifference>>,
    pub height: Option<Entered<ScreenPercent>>,
    /// Range drift of a check, percent of the path.
    pub range: Option<Entered<ScreenPercent>>,
    /// Sensitivity drift of a check.
    pub sensitivity: Option<Entered<Decibels>>,
}
