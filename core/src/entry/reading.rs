//! Facts of the examination itself: readings, and what the examiner saw and no number holds.

use serde::{Deserialize, Serialize};

use super::Name;
use crate::decimal::Entered;
use crate::units::{Decibels, Degrees, Microseconds, Millimetres, ScreenPercent};

pub use crate::locate::{Face, Side};

/// Where the echo lies: path as shown, or time to go through the time base.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Travel {
    /// Sound path.
    Path(Entered<Millimetres>),
    /// Echo time.
    Time(Entered<Microseconds>),
}

/// The echo's height as observed.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum EnteredHeight {
    /// Read on the screen.
    Shown(Entered<ScreenPercent>),
    /// Above the screen.
    Over,
    /// Looked for and not seen above the noise.
    Under,
}

/// What was peaked.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum PointPeaked {
    /// The echo itself, nothing more known.
    #[default]
    Echo,
    /// A corner of the reflector with a face.
    Corner,
    /// The upper tip.
    UpperTip,
    /// The lower tip.
    LowerTip,
}

/// The movement that a reading is a member of.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Sweep {
    /// Along the weld.
    Along,
    /// Across it.
    Across,
    /// Turned about the index point.
    Swivel,
    /// On a circle about the reflector.
    Orbit,
}

/// One observation of an indication.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the reading line")]
pub struct ReadingEntry {
    pub indication: Name,
    pub probe: Name,
    pub side: Side,
    pub x: Entered<Millimetres>,
    pub standoff: Entered<Millimetres>,
    pub travel: Travel,
    pub height: EnteredHeight,
    pub gain: Entered<Decibels>,
    pub skew: Option<Entered<Degrees>>,
    pub face: Face,
    pub thickness: Option<Entered<Millimetres>>,
    pub sweep: Option<Sweep>,
    pub point: PointPeaked,
    /// Readings with the same number were seen at one probe position.
    pub together: Option<u8>,
}

/// How an echo behaves as the probe turns.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Steadiness {
    /// Many-peaked.
    Ragged,
    /// Rises and falls once.
    Smooth,
    /// Hardly changes.
    Steady,
}

/// What the examiner saw; a key left out was not looked at.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the observe line")]
pub struct ObserveEntry {
    pub indication: Name,
    pub swivel: Option<Steadiness>,
    pub orbit: Option<Steadiness>,
    /// A tip echo was seen, or looked for and not seen.
    pub tip: Option<bool>,
    /// The echo fell when the surface was damped with a finger.
    pub damped: Option<bool>,
    /// The same echo comes from a length known to be clean.
    pub like_clean_length: Option<bool>,
}
