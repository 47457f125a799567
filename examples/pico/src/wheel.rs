//! Where the probe is, by the counts of the encoder.

use core::fmt;

use halfskip::units::Millimetres;
use halfskip::units::decimal::Decimal;
use halfskip_logger::{NoReading, Scale};

use crate::board::encoder;
use crate::button;

/// Hundredths of a millimetre: finer than a wheel is.
const PLACES: u8 = 2;

/// The scale and the datum of the encoder. Both are of one switching on: nobody knows what was turned while it was off.
#[derive(Default)]
pub struct Wheel {
    scale: Option<Scale>,
    set: bool,
}

impl Wheel {
    /// The probe is at the datum.
    pub fn zero(&mut self) {
        encoder::set(0);
        button::release();
        self.set = true;
    }

    /// The counts since the datum were a run of so many millimetres, known within a half width: that is the scale.
    pub fn run(&mut self, distance: Millimetres, half_width: Millimetres) -> Result<(), NoReading> {
        self.scale = None;
        if self.set {
            self.scale = Some(Scale::over(distance, half_width, encoder::count()?)?);
        }
        Ok(())
    }

    /// A second run of a known length has to agree; a scale that disagrees is dropped.
    pub fn check(&mut self, distance: Millimetres, tolerance: Millimetres) -> Result<(), NoReading> {
        let Some(scale) = self.scale.take() else { return Ok(()) };
        scale.check(distance, encoder::count()?, tolerance)?;
        self.scale = Some(scale);
        Ok(())
    }

    /// The place that the button holds, or where the probe is now, and the uncertainty (k = 2) of it.
    pub fn place(&self) -> Option<Result<(Decimal, Decimal), NoReading>> {
        let scale = self.scale.filter(|_| self.set)?;
        let place = || {
            let count = button::held().unwrap_or_else(encoder::count)?;
            let x = scale.position(Millimetres::constant(0.0), count)?;
            Ok((Decimal::nearest(x.get(), PLACES)?, Decimal::nearest(scale.expanded(count), PLACES)?))
        };
        Some(place())
    }
}

impl fmt::Display for Wheel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match encoder::count() {
            Ok(count) if self.set => write!(f, "count {count}")?,
            Err(missed) if self.set => write!(f, "{missed}")?,
            _ => return f.write_str("not set: put the probe at the datum, then `encoder zero`"),
        }
        match (self.place(), button::held()) {
            (None, _) => {
                f.write_str("; no scale: roll a known distance from the datum, then `encoder run MM WITHIN`")
            }
            (Some(Err(_)), None) => Ok(()),
            (Some(Err(why)), Some(_)) => write!(f, "; held by the button: {why}"),
            (Some(Ok((x, within))), held) => {
                let held = if held.is_some() { ", held by the button" } else { "" };
                write!(f, "; x {x} +/- {within} mm{held}")
            }
        }
    }
}
