//! Why an entry is not recorded.

use core::fmt;

use crate::calibration::curve::CurveError;
use crate::record::entry::{EnteredHeight, Name, ReadingEntry, Travel};
use crate::units::Millimetres;
use crate::units::decimal::fixed;
use crate::units::error::{Range, RangeError, comes_from};
use crate::units::limits;

/// Why an entry is not recorded. Nothing has changed then.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Refusal {
    /// A value is outside its range.
    Range(RangeError),
    /// There is no room for one more.
    Full {
        /// Of what.
        what: &'static str,
        /// How many there is room for.
        capacity: u32,
    },
    /// The probe has not been recorded.
    UnknownProbe(Name),
    /// A time was given and the probe has no time base.
    NoTimebase(Name),
    /// There is no reading of the indication.
    NoReadingOf(Name),
    /// The fact is in force already: it must be voided before another takes its place.
    InForce {
        /// What it is, as "the joint" or "the time base of this probe".
        what: &'static str,
        /// The entry that holds.
        number: u32,
    },
    /// There is no such entry.
    NoSuchEntry {
        /// The number asked for.
        number: u32,
        /// The last entry.
        last: u32,
    },
    /// A void is not voided; the fact is entered again instead.
    VoidOfVoid {
        /// The void.
        number: u32,
    },
    /// The entry is void already.
    AlreadyVoid {
        /// The entry.
        number: u32,
    },
    /// Another entry cannot stand without this one.
    RestsOn {
        /// The entry that was to be voided.
        number: u32,
        /// The one that rests on it.
        resting: u32,
    },
    /// No material of that name is known and no velocity was given.
    UnknownMaterial(Name),
    /// The material cannot be.
    Material(crate::physics::material::MaterialError),
    /// The joint cannot be.
    Joint(crate::part::joint::JointError),
    /// The probe cannot be.
    Probe(crate::physics::probe::ProbeError),
    /// The hole was peaked at another temperature of the block than those before it.
    BlockTemperature {
        /// The first entry of the holes.
        number: u32,
    },
    /// The reference point comes from a hole of another size than those of the same curve.
    HoleDiffers {
        /// The first entry that names the other size.
        number: u32,
        /// That size.
        hole: Millimetres,
    },
    /// The reference point cannot be taken.
    Curve(CurveError),
    /// The time base cannot be fitted.
    Timebase(crate::calibration::timebase::TimeBaseError),
    /// The angle cannot be fitted.
    Angle(crate::calibration::angle_check::AngleCheckError),
    /// The transfer correction cannot be had.
    Transfer(crate::calibration::transfer::TransferError),
    /// The screen cannot be, or a check's echo has no level.
    Screen(crate::calibration::level::LevelError),
    /// The linearity check cannot be judged.
    Linearity(crate::calibration::linearity::LinearityError),
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(error) => error.fmt(f),
            Self::Full { what, capacity } => write!(f, "no room for more {what}: {capacity} is the limit"),
            Self::UnknownProbe(name) => {
                write!(f, "probe {name} is not recorded; expected its 'probe' line first")
            }
            Self::NoTimebase(name) => {
                write!(f, "probe {name} has no time base; expected 'timebase {name}' or path=")
            }
            Self::NoReadingOf(name) => write!(f, "there is no reading of indication {name}"),
            Self::InForce { what, number } => {
                write!(
                    f,
                    "{what} is recorded by entry {number}; void it with a reason before entering another"
                )
            }
            Self::NoSuchEntry { number, last } => {
                write!(f, "there is no entry {number}; the last one is {last}")
            }
            Self::VoidOfVoid { number } => {
                write!(f, "entry {number} is a void and stays; enter the fact again instead")
            }
            Self::AlreadyVoid { number } => write!(f, "entry {number} is void already"),
            Self::RestsOn { number, resting } => {
                write!(f, "entry {resting} rests on entry {number}; void {resting} first")
            }
            Self::UnknownMaterial(name) => {
                write!(
                    f,
                    "material {name} is not known; expected shear= and long=, or a preset such as steel"
                )
            }
            Self::BlockTemperature { number } => write!(
                f,
                "holes of one angle are peaked at one temperature of the block (at=); entry {number} has another"
            ),
            Self::HoleDiffers { number, hole } => {
                let hole = fixed(hole.get());
                write!(
                    f,
                    "points of one curve come from holes of one size; entry {number} has a hole of {hole} mm"
                )
            }
            Self::Material(error) => error.fmt(f),
            Self::Joint(error) => error.fmt(f),
            Self::Probe(error) => error.fmt(f),
            Self::Curve(error) => error.fmt(f),
            Self::Timebase(error) => error.fmt(f),
            Self::Angle(error) => error.fmt(f),
            Self::Transfer(error) => error.fmt(f),
            Self::Screen(error) => error.fmt(f),
            Self::Linearity(error) => error.fmt(f),
        }
    }
}

comes_from!(Refusal: Range(RangeError));

/// Holds a reading to the ranges of its keys; the console has done so already, a frame has not.
pub(super) fn check_reading(reading: &ReadingEntry) -> Result<(), RangeError> {
    reading.x.within(limits::X)?;
    reading.standoff.within(limits::STANDOFF)?;
    reading.gain.within(limits::GAIN)?;
    match reading.travel {
        Travel::Path(path) => path.within(limits::PATH).map(drop)?,
        Travel::Time(time) => time.within(limits::TIME).map(drop)?,
    }
    if let Some(skew) = reading.skew {
        skew.within(limits::SKEW)?;
    }
    if let Some(thickness) = reading.thickness {
        thickness.within(limits::THICKNESS)?;
    }
    if let Some(together) = reading.together {
        limits::TOGETHER.check(f32::from(together))?;
    }
    if let EnteredHeight::Shown(height) = reading.height {
        height.within(limits::REFERENCE_HEIGHT)?;
    }
    Ok(())
}

/// Holds two lists of one entry to the same length, `quantity` being what the second counts.
pub(super) fn as_many(first: usize, quantity: &'static str, second: usize) -> Result<(), RangeError> {
    let first = first as f32;
    Range { quantity, unit: "", min: first, max: first }.check(second as f32).map(drop)
}
