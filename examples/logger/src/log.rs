//! Position and echo become a fact.

use core::fmt;

use halfskip::calibration::timebase::{TimeBase, TimeBaseError};
use halfskip::record::entry::{
    EnteredHeight, Entry, Face, Name, PointPeaked, ReadingEntry, Side, Sweep, Travel,
};
use halfskip::units::decimal::{DecimalError, Entered};
use halfskip::units::error::RangeError;
use halfskip::units::limits;
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
    /// A figure is outside what a reading takes; a height of nothing is no echo.
    Range(RangeError),
}

impl fmt::Display for NoReading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missed(error) => error.fmt(f),
            Self::Scale(error) => error.fmt(f),
            Self::Wires(error) => error.fmt(f),
            Self::Echo(error) => error.fmt(f),
            Self::Figure(error) => error.fmt(f),
            Self::Range(error) => error.fmt(f),
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

from!(Missed => Missed, ScaleError => Scale, WiresError => Wires, TimeBaseError => Echo, DecimalError => Figure,
    RangeError => Range);

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
    /// use halfskip::record::entry::{Entry, Name, Side, Travel};
    /// use halfskip::calibration::timebase::TimeBase;
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
        let path = Entered::nearest(self.base.path(gate.time)?, LENGTH_PLACES)?;
        let (x, standoff) = (Entered::nearest(x, LENGTH_PLACES)?, Entered::nearest(standoff, LENGTH_PLACES)?);
        let (height, gain) = (Entered::nearest(gate.height, TENTH)?, Entered::nearest(self.gain, TENTH)?);
        // A frame that no desk takes as a line is not sent.
        standoff.within(limits::STANDOFF)?;
        path.within(limits::PATH)?;
        height.within(limits::REFERENCE_HEIGHT)?;
        gain.within(limits::GAIN)?;
        Ok(Entry::Reading(ReadingEntry {
            indication: indication.clone(),
            probe: self.probe.clone(),
            side: self.side,
            x,
            standoff,
            travel: Travel::Path(path),
            height: EnteredHeight::Shown(height),
            gain,
            skew: None,
            face: Face::Near,
            thickness: None,
            sweep: self.sweep,
            point: PointPeaked::Echo,
            together: None,
        }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use halfskip::units::MillimetresPerMicrosecond;

    #[test]
    fn what_a_desk_would_not_take_as_a_line_is_no_reading() {
        let base = TimeBase {
            velocity: MillimetresPerMicrosecond::constant(3.2),
            delay: Microseconds::constant(2.0),
        };
        let name = Name::try_from("1").unwrap();
        let logger =
            Logger { probe: name.clone(), side: Side::A, base, gain: Decibels::constant(44.0), sweep: None };
        let at = |standoff: f32, height: f32| {
            let gate =
                Gate { time: Microseconds::constant(27.0), height: ScreenPercent::new(height).unwrap() };
            logger.reading(&name, Millimetres::constant(0.0), Millimetres::new(standoff).unwrap(), gate)
        };
        assert!(at(31.0, 0.1).is_ok());
        for height in [0.0, 0.04] {
            assert!(matches!(at(31.0, height), Err(NoReading::Range(error)) if error.quantity == "height"));
        }
        // Past the centreline a probe can be on a dressed cap; no line takes more than 10 m.
        assert!(at(-0.5, 50.0).is_ok());
        assert!(matches!(at(-10_001.0, 50.0), Err(NoReading::Range(error)) if error.quantity == "standoff"));
    }
}
