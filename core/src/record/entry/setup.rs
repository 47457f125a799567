//! Facts of the job, the joint and the probes.

use serde::{Deserialize, Serialize};

use super::Name;
use crate::part::joint::JointOf;
pub use crate::part::joint::{Backing, Counterbore, Curvature, Preparation, Reach, ScannedFrom};
pub use crate::physics::probe::Element;
use crate::units::decimal::Entered;
use crate::units::{DecibelsPerMillimetre, Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};

/// The default unit of bare lengths from here on.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    In,
}

/// A calendar day.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[serde(try_from = "(u16, u8, u8)", into = "(u16, u8, u8)")]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// A day of the Gregorian calendar, years 1900 to 9999; `None` where there is none.
    #[must_use]
    pub const fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            2 if leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            _ => 0,
        };
        if year >= 1900 && year <= 9999 && day >= 1 && day <= days {
            Some(Self { year, month, day })
        } else {
            None
        }
    }

    /// Year, month, day.
    #[must_use]
    pub const fn parts(self) -> (u16, u8, u8) {
        (self.year, self.month, self.day)
    }
}

impl TryFrom<(u16, u8, u8)> for Date {
    type Error = &'static str;

    fn try_from((year, month, day): (u16, u8, u8)) -> Result<Self, Self::Error> {
        Self::new(year, month, day).ok_or("no such day")
    }
}

impl From<Date> for (u16, u8, u8) {
    fn from(date: Date) -> Self {
        date.parts()
    }
}

/// A time of the day, local, to the minute.
///
/// ```
/// use halfskip::record::entry::Clock;
/// assert_eq!(Clock::new(14, 30).map(Clock::minutes), Some(870));
/// assert_eq!(Clock::new(24, 0), None);
/// ```
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[serde(try_from = "(u8, u8)", into = "(u8, u8)")]
pub struct Clock {
    hour: u8,
    minute: u8,
}

impl Clock {
    /// An hour from 0 to 23 and a minute from 0 to 59; `None` where there is none.
    #[must_use]
    pub const fn new(hour: u8, minute: u8) -> Option<Self> {
        if hour <= 23 && minute <= 59 { Some(Self { hour, minute }) } else { None }
    }

    /// Hour, minute.
    #[must_use]
    pub const fn parts(self) -> (u8, u8) {
        (self.hour, self.minute)
    }

    /// Minutes since midnight.
    #[must_use]
    pub const fn minutes(self) -> u16 {
        self.hour as u16 * 60 + self.minute as u16
    }
}

impl core::fmt::Display for Clock {
    /// As it is typed: `08:05`.
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{:02}:{:02}", self.hour, self.minute)
    }
}

impl TryFrom<(u8, u8)> for Clock {
    type Error = &'static str;

    fn try_from((hour, minute): (u8, u8)) -> Result<Self, Self::Error> {
        Self::new(hour, minute).ok_or("no such time")
    }
}

impl From<Clock> for (u8, u8) {
    fn from(clock: Clock) -> Self {
        clock.parts()
    }
}

/// The part's material: a preset by name, or velocities of its own.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct MaterialEntry {
    /// Name; of a preset when no velocity is given.
    pub name: Name,
    /// Shear velocity, mm/us.
    pub shear: Option<Entered<MillimetresPerMicrosecond>>,
    /// Longitudinal velocity, mm/us.
    pub longitudinal: Option<Entered<MillimetresPerMicrosecond>>,
    /// Attenuation of the shear wave along the path, dB/mm; for the report, no level uses it.
    pub attenuation: Option<Entered<DecibelsPerMillimetre>>,
}

/// The weld's geometry as entered; [`Joint::new`](crate::part::joint::Joint::new) says what goes with what.
pub type JointEntry = JointOf<Entered<Millimetres>, Entered<Degrees>>;

/// The wedge's speed change with temperature.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct WedgeHeat {
    /// Change of the wedge's speed per degree Celsius, mm/us; negative for plastics.
    pub slope: crate::units::decimal::Decimal,
    /// Temperature at which the marked angle holds, degrees Celsius.
    pub marked_at: crate::units::decimal::Decimal,
    /// Temperature of use, degrees Celsius.
    pub at: crate::units::decimal::Decimal,
}

/// A probe as entered.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ProbeEntry {
    /// Its name.
    pub name: Name,
    /// Nominal refracted angle in the part, from the surface's normal, deg ([`ANGLE`](crate::units::limits::ANGLE)).
    pub angle: Entered<Degrees>,
    /// Nominal frequency, MHz ([`FREQUENCY`](crate::units::limits::FREQUENCY)).
    pub frequency: Entered<Megahertz>,
    /// Its element, lengths in mm ([`ELEMENT`](crate::units::limits::ELEMENT)).
    pub element: Element<Entered<Millimetres>>,
    /// Index point to the probe's nose, mm ([`FRONT`](crate::units::limits::FRONT)).
    pub front: Option<Entered<Millimetres>>,
    /// Longitudinal speed of the wedge, mm/us ([`WEDGE`](crate::units::limits::WEDGE)).
    pub wedge: Option<Entered<MillimetresPerMicrosecond>>,
    /// Path in the wedge along the axis, mm ([`WEDGE_PATH`](crate::units::limits::WEDGE_PATH)); without it the near field in the
    /// part is not known.
    pub wedge_path: Option<Entered<Millimetres>>,
    /// Its temperature behaviour.
    pub heat: Option<WedgeHeat>,
}

impl ProbeEntry {
    /// Whether both make the same beam: angle, frequency, element and wedge are the same.
    #[must_use]
    pub fn sounds_as(&self, other: &Self) -> bool {
        (self.angle, self.frequency, self.element, self.wedge, self.wedge_path, self.heat)
            == (other.angle, other.frequency, other.element, other.wedge, other.wedge_path, other.heat)
    }
}
