//! Facts of the examination itself: readings, and what the examiner saw and no number holds.

use serde::{Deserialize, Serialize};

use super::Name;
pub use crate::calibration::level::EchoHeight;
use crate::units::decimal::Entered;
use crate::units::{Decibels, Degrees, Microseconds, Millimetres, ScreenPercent};

pub use crate::part::locate::{Face, Side};

/// Where the echo lies: path as shown, or time to go through the time base.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Travel {
    /// Sound path one way, index point to reflector, mm ([`PATH`](crate::units::limits::PATH)).
    Path(Entered<Millimetres>),
    /// Echo time there and back, delay included, us ([`TIME`](crate::units::limits::TIME)); refused of a probe without a time
    /// base.
    Time(Entered<Microseconds>),
}

/// The echo's height as observed.
pub type EnteredHeight = EchoHeight<Entered<ScreenPercent>>;

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

/// One observation of an indication. A value outside its range is refused when the entry is recorded.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ReadingEntry {
    /// The indication that it is of.
    pub indication: Name,
    /// The probe, recorded before.
    pub probe: Name,
    /// The side of the weld that the probe stands on: A is y < 0, looking toward +y.
    pub side: Side,
    /// Where the probe's mark stands along the weld, mm from the datum, either sign
    /// ([`X`](crate::units::limits::X)); where the reflector lies follows from it and the skew.
    pub x: Entered<Millimetres>,
    /// The probe's mark (its index point) to the weld's centreline along the surface, mm, positive on both sides, negative
    /// past the centreline ([`STANDOFF`](crate::units::limits::STANDOFF)); how far the true index point lies off the mark is worked in by itself.
    pub standoff: Entered<Millimetres>,
    /// Where the echo lies.
    pub travel: Travel,
    /// How high it is.
    pub height: EnteredHeight,
    /// Total gain of the instrument as the height was read, dB ([`GAIN`](crate::units::limits::GAIN)): gain added for scanning
    /// is in it and is not taken off.
    pub gain: Entered<Decibels>,
    /// Beam off the weld's perpendicular, deg, positive toward +x on both sides ([`SKEW`](crate::units::limits::SKEW));
    /// `None` is square.
    pub skew: Option<Entered<Degrees>>,
    /// The face that the probe stands on.
    pub face: Face,
    /// Thickness measured here, mm ([`THICKNESS`](crate::units::limits::THICKNESS)); `None` is that of the joint.
    pub thickness: Option<Entered<Millimetres>>,
    /// The movement that it is one reading of; `None` is a reading by itself.
    pub sweep: Option<Sweep>,
    /// What was peaked.
    pub point: PointPeaked,
    /// 1 to 255: readings with the same number were seen at one probe position.
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
pub struct ObserveEntry {
    /// The indication, of which a reading was recorded before.
    pub indication: Name,
    /// The echo as the probe is turned about its index point.
    pub swivel: Option<Steadiness>,
    /// The echo as the probe is led round the reflector.
    pub orbit: Option<Steadiness>,
    /// A tip echo was seen, or looked for and not seen.
    pub tip: Option<bool>,
    /// The echo fell when the surface was damped with a finger.
    pub damped: Option<bool>,
    /// The same echo comes from a length known to be clean.
    pub like_clean_length: Option<bool>,
}
