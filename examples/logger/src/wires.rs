//! The probe's place on a flat face from two draw-wires: the intersection of two circles.
//!
//! | symbol | unit | meaning |
//! | --- | --- | --- |
//! | b | mm | distance of the anchors, both on the weld's centreline, the first at x = 0 |
//! | r1, r2 | mm | lengths of the wires, anchor to probe |
//! | x, y | mm | along the weld from the first anchor; beside it |
//!
//! ```text
//! x = (b^2 + r1^2 - r2^2) / (2 b)        y = sqrt(r1^2 - x^2)
//!
//! dx/dr1 = r1 / b     dx/dr2 = -r2 / b
//! dy/dr1 = (r1 - x dx/dr1) / y           dy/dr2 = -x dx/dr2 / y
//! ```
//!
//! Of the two intersections the one on the probe's side is meant. Near the line through the anchors both derivatives of y
//! grow without limit: a place there is refused, not computed from noise.

use core::fmt;

use halfskip::math;
use halfskip::units::Millimetres;
use halfskip::units::error::{Range, RangeError};

/// Wires of a logger.
const WIRE: Range = Range { quantity: "wire", unit: "mm", min: 1.0, max: 20_000.0 };
/// What a millimetre of wire may make of y before the place is refused (common practice, no source).
const STEEPEST: f64 = 10.0;

/// Why two wires give no place.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum WiresError {
    /// A length is outside its range.
    Range(RangeError),
    /// The wires do not meet: together they are shorter than the base, or one is longer than the base and the other.
    Apart,
    /// The probe is too near the line through the anchors to be placed.
    Flat,
}

impl fmt::Display for WiresError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(error) => error.fmt(f),
            Self::Apart => f.write_str("the wires do not meet"),
            Self::Flat => f.write_str("the probe is too near the line through the anchors"),
        }
    }
}

impl core::error::Error for WiresError {}

/// Two draw-wires and the distance of their anchors.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Wires {
    base: f32,
    half_width: f32,
}

/// Where the probe is, with expanded uncertainties (k = 2) from the wires' half widths.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Stand {
    /// Along the weld, from the first anchor.
    pub x: Millimetres,
    /// From the line through the anchors.
    pub y: Millimetres,
    /// Of x.
    pub u_x: f32,
    /// Of y.
    pub u_y: f32,
}

impl Wires {
    /// Wires whose lengths are known within a half width.
    ///
    /// # Errors
    /// [`WiresError::Range`].
    pub fn new(base: Millimetres, half_width: Millimetres) -> Result<Self, WiresError> {
        let base = WIRE.check(base.get()).map_err(WiresError::Range)?;
        Ok(Self { base, half_width: half_width.get().abs() })
    }

    /// Places the probe.
    ///
    /// # Errors
    /// [`WiresError`].
    ///
    /// ```
    /// use halfskip::units::Millimetres;
    /// use halfskip_logger::{Wires, WiresError};
    /// let mm = Millimetres::constant;
    /// let wires = Wires::new(mm(500.0), mm(0.5)).unwrap();
    /// // A right angle: 300, 400, 500.
    /// let stand = wires.place(mm(300.0), mm(400.0)).unwrap();
    /// assert_eq!((stand.x, stand.y), (mm(180.0), mm(240.0)));
    /// assert_eq!(wires.place(mm(200.0), mm(250.0)), Err(WiresError::Apart));
    /// assert_eq!(wires.place(mm(250.0), mm(250.1)), Err(WiresError::Flat));
    /// ```
    pub fn place(&self, first: Millimetres, second: Millimetres) -> Result<Stand, WiresError> {
        let r1 = f64::from(WIRE.check(first.get()).map_err(WiresError::Range)?);
        let r2 = f64::from(WIRE.check(second.get()).map_err(WiresError::Range)?);
        let b = f64::from(self.base);
        if r1 + r2 < b || (r1 - r2).abs() > b {
            return Err(WiresError::Apart);
        }
        // x = (b^2 + r1^2 - r2^2) / (2 b); in f64, since the squares may nearly cancel.
        let x = (b * b + (r1 - r2) * (r1 + r2)) / (2.0 * b);
        // y = sqrt(r1^2 - x^2)
        let y = math::sqrt_f64((r1 - x) * (r1 + x)).filter(|y| *y > 0.0).ok_or(WiresError::Flat)?;
        let (x_of_first, x_of_second) = (r1 / b, -r2 / b);
        let (y_of_first, y_of_second) = ((r1 - x * x_of_first) / y, -x * x_of_second / y);
        if y_of_first.abs() > STEEPEST || y_of_second.abs() > STEEPEST {
            return Err(WiresError::Flat);
        }
        let expanded = |of_first: f64, of_second: f64| {
            let sum = of_first * of_first + of_second * of_second;
            2.0 * self.half_width * math::sqrt_f64(sum / 3.0).unwrap_or(0.0) as f32
        };
        let length = |value: f64| Millimetres::new(value as f32).map_err(WiresError::Range);
        Ok(Stand {
            x: length(x)?,
            y: length(y)?,
            u_x: expanded(x_of_first, x_of_second),
            u_y: expanded(y_of_first, y_of_second),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    #[test]
    fn the_wires_of_a_place_give_the_place() {
        let wires = Wires::new(mm(800.0), mm(0.5)).unwrap();
        for (x, y) in [(100.0f32, 40.0f32), (400.0, 300.0), (-60.0, 90.0), (900.0, 120.0)] {
            let wire = |along: f32| mm(f64::from(along).hypot(f64::from(y)) as f32);
            let stand = wires.place(wire(x), wire(800.0 - x)).unwrap();
            assert!((stand.x.get() - x).abs() < 1e-3 && (stand.y.get() - y).abs() < 2e-3, "{stand:?}");
        }
    }

    #[test]
    fn the_uncertainty_is_what_longer_wires_make_of_the_place() {
        let wires = Wires::new(mm(800.0), mm(0.5)).unwrap();
        let (first, second, step) = (500.0f32, 620.0f32, 0.5f32);
        let place = |first, second| wires.place(mm(first), mm(second)).unwrap();
        let differences = |of: fn(&Stand) -> f32| {
            let along = f64::from(of(&place(first + step, second)) - of(&place(first - step, second)));
            let beside = f64::from(of(&place(first, second + step)) - of(&place(first, second - step)));
            (2.0 * (along.hypot(beside) / 2.0) / 3f64.sqrt()) as f32
        };
        let stand = place(first, second);
        assert!((stand.u_x - differences(|stand| stand.x.get())).abs() < 1e-3);
        assert!((stand.u_y - differences(|stand| stand.y.get())).abs() < 1e-3);
    }

    #[test]
    fn what_cannot_be_placed_is_refused() {
        let wires = Wires::new(mm(500.0), mm(0.5)).unwrap();
        assert_eq!(wires.place(mm(800.0), mm(200.0)), Err(WiresError::Apart));
        assert_eq!(wires.place(mm(700.0), mm(200.0)), Err(WiresError::Flat));
        assert!(matches!(wires.place(mm(0.5), mm(500.0)), Err(WiresError::Range(_))));
        assert!(matches!(Wires::new(mm(0.0), mm(0.5)), Err(WiresError::Range(_))));
    }
}
