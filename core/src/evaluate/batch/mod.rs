//! Many readings at once, held in columns: the same figures as one at a time, to the bit, in a fraction of the time.
//!
//! What all readings of a scan have in common is put together once, in [`ScanSetUp`]. [`ScanSetUp::one`] evaluates a single
//! reading by [`locate`](crate::part::locate::locate), [`Dac::gain_at`] and [`level`]; [`ScanSetUp::evaluate`] goes through columns, sixteen readings at
//! a time, in steps without a branch that a compiler turns into operations on vectors. Readings that need a decision -
//! outside the curve, or out of a range - go through `one`.
//!
//! The probe looks square across the weld. Sources are those of the three functions.

mod lanes;

use core::fmt;

use crate::calibration::curve::{Beyond, Dac};
use crate::calibration::level::{EchoHeight, Level, Screen, level};
use crate::evaluate::ReadingError;
use crate::part::locate::{Budget, Face, Position, Side, on_axis};
use crate::part::path::{Axis, Plate};
use crate::units::{Decibels, Millimetres, ScreenPercent};

/// What the readings of one scan have in common.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ScanSetUp<'a, const N: usize = 16> {
    /// The beam's axis.
    pub axis: Axis,
    /// The plate.
    pub plate: Plate,
    /// The side of the weld that the probe stands on.
    pub side: Side,
    /// The face that it stands on.
    pub face: Face,
    /// How far the true index point lies ahead of the mark.
    pub index: Millimetres,
    /// The reference curve.
    pub dac: &'a Dac<N>,
    /// What the curve answers outside its paths.
    pub beyond: Beyond,
    /// Transfer correction, added to the level.
    pub transfer: Decibels,
    /// What the screen can measure.
    pub screen: Screen,
    /// Half widths of the inputs.
    pub budget: Budget,
}

/// Readings in columns of one length: row i of each belongs to one reading.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Readings<'a> {
    /// Index point to centreline, mm, −10 000 to 10 000.
    pub standoff: &'a [f32],
    /// Sound path, mm, 0.01 to 10 000.
    pub path: &'a [f32],
    /// Height of the echo, % of the screen, 0 to 1000.
    pub height: &'a [f32],
    /// The instrument's gain, dB, −300 to 300.
    pub gain: &'a [f32],
}

/// Place and level of one reading.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Evaluated {
    /// The leg that reached it.
    pub leg: u32,
    /// Across the weld.
    pub y: Millimetres,
    /// Below the near face.
    pub z: Millimetres,
    /// Expanded uncertainty (k = 2) of y, mm.
    pub u_y: f32,
    /// Expanded uncertainty (k = 2) of z, mm.
    pub u_z: f32,
    /// Level over the reference.
    pub level: Level,
}

/// The columns are not all of the same length.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct LengthsDiffer {
    /// The length of the longest.
    pub longest: usize,
    /// The length of the shortest.
    pub shortest: usize,
}

impl fmt::Display for LengthsDiffer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { longest, shortest } = self;
        write!(f, "the columns are {shortest} to {longest} long: they must be of one length")
    }
}

impl core::error::Error for LengthsDiffer {}

impl<const N: usize> ScanSetUp<'_, N> {
    /// Evaluates one reading: [`locate`](crate::part::locate::locate) with its uncertainty, [`Dac::gain_at`] and [`level`].
    ///
    /// # Errors
    /// [`ReadingError`]: a value out of its range, no reference at the path, no level.
    pub fn one(&self, standoff: f32, path: f32, height: f32, gain: f32) -> Result<Evaluated, ReadingError> {
        let path = Millimetres::new(path)?;
        let zero = Millimetres::constant(0.0);
        let position = Position::new(self.side, zero, Millimetres::new(standoff)?, self.index)?.on(self.face);
        let place = on_axis(&self.axis, &self.plate, &position, path)?;
        let reference = self.dac.gain_at(path, self.beyond)?;
        let echo = EchoHeight::Shown(ScreenPercent::new(height)?);
        let level = level(echo, Decibels::new(gain)?, &reference, self.transfer, &self.screen)?;
        let (u_y, u_z) = (place.u_y(&self.budget), place.u_z(&self.budget));
        Ok(Evaluated { leg: place.leg, y: place.y, z: place.z, u_y, u_z, level })
    }

    /// Evaluates every row: the same bits as [`one`](Self::one) gives for it, or `None` where that gives an error.
    ///
    /// ```
    /// use halfskip::evaluate::batch::{ScanSetUp, Readings};
    /// use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
    /// use halfskip::calibration::level::Screen;
    /// use halfskip::part::locate::{Budget, Face, Side};
    /// use halfskip::part::path::{Axis, Plate};
    /// use halfskip::units::{Decibels, Degrees, Millimetres, ScreenPercent};
    /// let mm = Millimetres::constant;
    /// let mut dac: Dac = Dac::new(ScreenPercent::constant(80.0));
    /// for (path, gain) in [(20.0, 34.0), (100.0, 50.0)] {
    ///     let (height, gain) = (ScreenPercent::constant(80.0), Decibels::constant(gain));
    ///     dac.insert(DacPoint { path: mm(path), height, gain })?;
    /// }
    /// let common = ScanSetUp {
    ///     axis: Axis::new(Degrees::constant(60.0))?,
    ///     plate: Plate::new(mm(25.0))?,
    ///     side: Side::A,
    ///     face: Face::Near,
    ///     index: mm(0.0),
    ///     dac: &dac,
    ///     beyond: Beyond::Refuse,
    ///     transfer: Decibels::constant(0.0),
    ///     screen: Screen::DEFAULT,
    ///     budget: Budget::DEFAULT,
    /// };
    /// let readings = Readings {
    ///     standoff: &[30.0, 40.0, 30.0],
    ///     path: &[40.0, 60.0, 400.0],
    ///     height: &[80.0, 40.0, 80.0],
    ///     gain: &[38.0, 42.0, 38.0],
    /// };
    /// let mut found = [None; 3];
    /// common.evaluate(&readings, &mut found)?;
    /// let [Some(first), Some(second), None] = found else { panic!("the last lies beyond the curve") };
    /// assert_eq!((first.leg, first.z.get(), first.level.db.get()), (1, 20.0, 0.0));
    /// assert_eq!((second.leg, second.z.get()), (2, 20.0));
    /// assert!((second.level.db.get() + 6.02).abs() < 0.01);
    /// assert!(common.one(30.0, 400.0, 80.0, 38.0).is_err());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`LengthsDiffer`] unless all columns, and `found`, are of one length; nothing is written then.
    pub fn evaluate(
        &self,
        readings: &Readings<'_>,
        found: &mut [Option<Evaluated>],
    ) -> Result<(), LengthsDiffer> {
        let Readings { standoff, path, height, gain } = *readings;
        let lengths = [standoff.len(), path.len(), height.len(), gain.len()];
        let shortest = lengths.into_iter().fold(found.len(), Ord::min);
        let longest = lengths.into_iter().fold(found.len(), Ord::max);
        if shortest != longest {
            return Err(LengthsDiffer { longest, shortest });
        }
        lanes::evaluate(self, readings, found);
        Ok(())
    }
}
