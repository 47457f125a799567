//! Facts of the job, the joint and the probes.

use serde::{Deserialize, Serialize};

use super::Name;
use crate::decimal::Entered;
pub use crate::joint::{Preparation, Reach};
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

/// The part's material: a preset by name, or velocities of its own.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct MaterialEntry {
    /// Name; of a preset when no velocity is given.
    pub name: Name,
    /// Shear velocity.
    pub shear: Option<Entered<MillimetresPerMicrosecond>>,
    /// Longitudinal velocity.
    pub longitudinal: Option<Entered<MillimetresPerMicrosecond>>,
    /// Attenuation along the path.
    pub attenuation: Option<Entered<DecibelsPerMillimetre>>,
}

/// Curvature of the part.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum CurvatureEntry {
    /// The beam runs around the circumference.
    Around {
        /// Outside diameter.
        od: Entered<Millimetres>,
        /// Scanned from the inside.
        inside: bool,
    },
    /// The beam runs along the axis: flat-plate geometry.
    Along {
        /// Outside diameter.
        od: Entered<Millimetres>,
        /// Scanned from the inside.
        inside: bool,
    },
}

/// The weld's geometry as entered.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[expect(missing_docs, reason = "one field a key of the joint line")]
pub struct JointEntry {
    pub thickness: Entered<Millimetres>,
    pub prep: Preparation,
    pub bevel: Option<Entered<Degrees>>,
    pub gap: Option<Entered<Millimetres>>,
    pub land: Option<Entered<Millimetres>>,
    pub radius: Option<Entered<Millimetres>>,
    pub cap: Option<Entered<Millimetres>>,
    pub crown: Option<Entered<Millimetres>>,
    pub bead: Option<Entered<Millimetres>>,
    pub excess: Option<Entered<Millimetres>>,
    pub haz: Option<Entered<Millimetres>>,
    pub backing: Option<(Entered<Millimetres>, Entered<Millimetres>)>,
    pub counterbore: Option<(Entered<Millimetres>, Entered<Millimetres>)>,
    pub curvature: Option<CurvatureEntry>,
    pub reach: Option<Reach>,
}

/// The element of a probe: in the plane of incidence by across it, or round.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum ElementEntry {
    /// Diameter.
    Round(Entered<Millimetres>),
    /// Dimension in the plane of incidence, dimension across it.
    Rectangular(Entered<Millimetres>, Entered<Millimetres>),
}

/// The wedge's speed change with temperature.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct WedgeHeat {
    /// Change of the wedge's speed per degree Celsius, mm/us; negative for plastics.
    pub slope: crate::decimal::Decimal,
    /// Temperature at which the marked angle holds, degrees Celsius.
    pub marked_at: crate::decimal::Decimal,
    /// Temperature of use, degrees Celsius.
    pub at: crate::decimal::Decimal,
}

/// A probe as entered.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ProbeEntry {
    /// Its name.
    pub name: Name,
    /// Nominal refracted angle.
    pub angle: Entered<Degrees>,
    /// Frequency.
    pub frequency: Entered<Megahertz>,
    /// Element.
    pub element: ElementEntry,
    /// Index point to the probe's nose.
    pub front: Option<Entered<Millimetres>>,
    /// Longitudinal speed of the wedge.
    pub wedge: Option<Entered<MillimetresPerMicrosecond>>,
    /// Path in the wedge along the axis.
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
