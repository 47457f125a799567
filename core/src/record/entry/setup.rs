//! Facts of the job, the joint and the probes.

use serde::{Deserialize, Serialize};

use super::Name;
pub use crate::part::joint::{Preparation, Reach};
use crate::part::side::Side;
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

/// Curvature of the part.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum CurvatureEntry {
    /// The beam runs around the circumference.
    Around {
        /// Outside diameter, mm, more than twice the thickness ([`OD`](crate::units::limits::OD)).
        od: Entered<Millimetres>,
        /// Scanned from the inside.
        inside: bool,
    },
    /// The beam runs along the axis: flat-plate geometry.
    Along {
        /// Outside diameter, mm, more than twice the thickness ([`OD`](crate::units::limits::OD)).
        od: Entered<Millimetres>,
        /// Scanned from the inside.
        inside: bool,
    },
}

/// The weld's geometry as entered. Lengths in mm; the ranges are those of [`limits`](crate::units::limits), and
/// [`Joint::new`](crate::part::joint::Joint::new) says what goes with what. `None` is not known, unless it says otherwise.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct JointEntry {
    /// Thickness of plate or wall at the weld, 0.5 to 1000.
    pub thickness: Entered<Millimetres>,
    /// How the edges were prepared.
    pub prep: Preparation,
    /// Bevel of one prepared face from the vertical, deg, 0 to 80; every preparation but the square one needs it.
    pub bevel: Option<Entered<Degrees>>,
    /// Root gap, 0 to 100; every preparation needs it.
    pub gap: Option<Entered<Millimetres>>,
    /// Height of the unbevelled root face, below the thickness; every preparation but the square one needs it.
    pub land: Option<Entered<Millimetres>>,
    /// Root radius of a U or J, 0.5 to 100; `None` there is
    /// [`ASSUMED_RADIUS`](crate::part::joint::ASSUMED_RADIUS).
    pub radius: Option<Entered<Millimetres>>,
    /// Width of the weld at the scanned face, 0.1 to 1000.
    pub cap: Option<Entered<Millimetres>>,
    /// Height of the cap over the scanned face, 0 to 50; 0 or `None` is dressed flush. Needs `cap` when above 0.
    pub crown: Option<Entered<Millimetres>>,
    /// Width of the weld at the far face, 0.1 to 1000.
    pub bead: Option<Entered<Millimetres>>,
    /// Height of the bead below the far face, 0 to 50. Needs `bead` when above 0.
    pub excess: Option<Entered<Millimetres>>,
    /// Width of the heat-affected zone beside each fusion face, 0 to 500.
    pub haz: Option<Entered<Millimetres>>,
    /// Backing bar left at the far face: its width across the weld, its height; each 0.1 to 500.
    pub backing: Option<(Entered<Millimetres>, Entered<Millimetres>)>,
    /// Step of the far face on both sides: its distance from the centreline, its height; each 0.1 to 500.
    pub counterbore: Option<(Entered<Millimetres>, Entered<Millimetres>)>,
    /// Curvature of the part; `None` is flat.
    pub curvature: Option<CurvatureEntry>,
    /// The sides that a probe can use; `None` is both.
    pub reach: Option<Reach>,
    /// The side with the prepared face of a bevel or J preparation; `None` is side B. The others have no such side.
    pub bevelled: Option<Side>,
    /// y of the middle of the cap, −1000 to 1000; `None` is the middle of the groove's opening at the scanned face. Needs
    /// `cap`.
    pub centre: Option<Entered<Millimetres>>,
}

/// The element of a probe: in the plane of incidence by across it, or round.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum ElementEntry {
    /// Diameter, mm ([`ELEMENT`](crate::units::limits::ELEMENT)).
    Round(Entered<Millimetres>),
    /// Dimension in the plane of incidence, dimension across it, mm ([`ELEMENT`](crate::units::limits::ELEMENT)).
    Rectangular(Entered<Millimetres>, Entered<Millimetres>),
}

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
    /// Its element.
    pub element: ElementEntry,
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
