//! Position and echo become a fact.

use core::fmt;

use halfskip::decimal::{DecimalError, Entered};
use halfskip::entry::{EnteredHeight, Entry, Face, Name, PointPeaked, ReadingEntry, Side, Sweep, Travel};
use halfskip::timebase::{TimeBase, TimeBaseError};
use halfskip::units::{Decibels, Microseconds, Millimetres, ScreenPercent};

use crate::{Missed, ScaleError, WiresError};

/// Digits behind the point that a logger writes: a hundredth of a millimetre is finer than anything it measures.
const LENGTH_PLACES: u8 = 2;
/// Heights and gains are read to a tenth.
const TENTH: u8 = 1;

/// Why there is no reading.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum NoReading {
    /// The position is not known.
    Missed(Missed),
    /// The wheel gives no position.
    Scale(ScaleError),
    /// The wires give no position.
    Wires(WiresError),
    /// The time of the echo is no path.
    Echo(TimeBaseError),
    /// A figure does not fit a fact.
    Figure(DecimalError),
}

impl fmt::Display for NoReading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missed(error) => error.fmt(f),
            Self::Scale(error) => error.fmt(f),
            Self::Wires(error) => error.fmt(f),
            Self::Echo(error) => error.fmt(f),
            Self::Figure(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for NoReading {}

macro_rules! from {
    ($($error:ident => $variant:ident),*) => {$(
        impl From<$error> for NoReading {
            fn from(error: $error) -> Self {
                Self::$variant(error)
            }
        }
    )*};
}

from!(Missed => Missed, ScaleError => Scale, WiresError => Wires, TimeBaseError => Echo, DecimalError => Figure);

/// The highest echo inside the gate of an instrument.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Gate {
    /// Time of flight.
    pub time: Microseconds,
    /// Height on the screen.
    pub height: ScreenPercent,
}

/// What stays the same from reading to reading.
#[derive(Clone, PartialEq, Debug)]
pub struct Logger {
    /// The probe's name in the record.
    pub probe: Name,
    /// Its side of the weld.
    pub side: Side,
    /// Its time base, from echoes of known paths.
    pub base: TimeBase,
    /// The instrument's gain.
    pub gain: Decibels,
    /// The movement that the readings belong to.
    pub sweep: Option<Sweep>,
}

impl Logger {
    /// The fact of one position and echo: the echo's time becomes a path through the time base.
    ///
    /// # Errors
    /// [`NoReading`].
    ///
    /// ```
    /// use halfskip::entry::{Entry, Name, Side, Travel};
    /// use halfskip::timebase::TimeBase;
    /// use halfskip::units::{Decibels, Microseconds, Millimetres, MillimetresPerMicrosecond, ScreenPercent};
    /// use halfskip_logger::{Gate, Logger};
    /// let base = TimeBase {
    ///     velocity: MillimetresPerMicrosecond::constant(3.2),
    ///     delay: Microseconds::constant(2.0),
    /// };
    /// let probe = Name::try_from("p60").unwrap();
    /// let logger = Logger { probe, side: Side::A, base, gain: Decibels::constant(44.0), sweep: None };
    /// let gate = Gate { time: Microseconds::constant(27.0), height: ScreenPercent::constant(76.0) };
    /// let (x, standoff) = (Millimetres::constant(120.0), Millimetres::constant(31.0));
    /// let name = Name::try_from("1").unwrap();
    /// let Entry::Reading(reading) = logger.reading(&name, x, standoff, gate).unwrap() else { panic!() };
    /// let Travel::Path(path) = reading.travel else { panic!() };
    /// assert_eq!(path.quantity(), Millimetres::constant(40.0));
    /// ```
    pub fn reading(
        &self,
        indication: &Name,
        x: Millimetres,
        standoff: Millimetres,
        gate: Gate,
    ) -> Result<Entry, NoReading> {
        let path = self.base.path(gate.time)?;
        Ok(Entry::Reading(ReadingEntry {
            indication: indication.clone(),
            probe: self.probe.clone(),
            side: self.side,
            x: Entered::nearest(x, LENGTH_PLACES)?,
            standoff: Entered::nearest(standoff, LENGTH_PLACES)?,
            travel: Travel::Path(Entered::nearest(path, LENGTH_PLACES)?),
            height: EnteredHeight::Shown(Entered::nearest(gate.height, TENTH)?),
            gain: Entered::nearest(self.gain, TENTH)?,
            skew: None,
            face: Face::Near,
            thickness: None,
            sweep: self.sweep,
            point: PointPeaked::Echo,
            together: None,
        }))
    }
}
