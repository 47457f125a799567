//! x along a girth weld: an arc of the scanned face, which comes back to its datum after one turn.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | C | circumference of the scanned face: π od from outside, π (od − 2 t) from the bore | mm |
//! | x | along the weld from the datum; x and x + C are one place | mm |
//!
//! Geometry; common practice, no source \[R7\].

use core::fmt;

use crate::math;
use crate::part::joint::{Curvature, Joint, ScannedFrom};

/// Stretches of a turn that are told apart when places on it are put in order.
const BINS: u32 = 64;

/// A weld around a pipe, along which x comes back to its datum.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Girth {
    circumference: f32,
}

impl Girth {
    /// The girth weld of a joint; `None` of any other.
    ///
    /// ```
    /// use halfskip::part::girth::Girth;
    /// use halfskip::part::joint::{Curvature, Joint, JointSpec, Preparation, ScannedFrom};
    /// use halfskip::units::Millimetres;
    /// let mm = |value| Millimetres::new(value).unwrap();
    /// let joint = |curvature| {
    ///     let spec = JointSpec { gap: Some(mm(2.0)), curvature, ..JointSpec::new(mm(20.0), Preparation::Square) };
    ///     Joint::new(spec).unwrap()
    /// };
    /// let (od, from) = (mm(273.0), ScannedFrom::Outside);
    /// let girth = Girth::of(&joint(Some(Curvature::AlongPipe { od, from }))).unwrap();
    /// assert!((girth.circumference() - 857.655).abs() < 0.001);
    /// // From 850 on to 5, over the datum.
    /// assert!((girth.step(850.0, 5.0) - 12.655).abs() < 0.001);
    /// assert_eq!(girth.clock(857.655 / 4.0).to_string(), "3:00");
    /// assert!(Girth::of(&joint(None)).is_none());
    /// ```
    #[must_use]
    pub fn of(joint: &Joint) -> Option<Self> {
        let Some(Curvature::AlongPipe { od, from }) = joint.spec().curvature else { return None };
        let diameter = match from {
            ScannedFrom::Outside => od.get(),
            ScannedFrom::Inside => od.get() - 2.0 * joint.thickness().get(),
        };
        (diameter > 0.0).then_some(Self { circumference: core::f32::consts::PI * diameter })
    }

    /// C.
    #[must_use]
    pub const fn circumference(&self) -> f32 {
        self.circumference
    }

    /// The same place from 0 up to C.
    #[must_use]
    pub fn wrapped(&self, x: f32) -> f32 {
        let wrapped = x - self.circumference * math::floor(x / self.circumference);
        // Rounding of a place just before the datum may give C itself.
        if wrapped < self.circumference { wrapped } else { 0.0 }
    }

    /// From one place to another, the shorter way around, in the direction of x when positive.
    #[must_use]
    pub fn step(&self, from: f32, to: f32) -> f32 {
        let off = to - from;
        off - self.circumference * math::floor(off / self.circumference + 0.5)
    }

    /// How far around a place lies from the datum, degrees.
    #[must_use]
    pub fn turn(&self, x: f32) -> f32 {
        360.0 * self.wrapped(x) / self.circumference
    }

    /// A place as the hand of a clock shows it, the datum at 12.
    #[must_use]
    pub fn clock(&self, x: f32) -> Clock {
        // 720 minutes a turn
        let minutes = math::floor(2.0 * self.turn(x) + 0.5) as u32 % 720;
        Clock { hour: if minutes < 60 { 12 } else { minutes / 60 }, minute: minutes % 60 }
    }

    /// Opens the turn where nothing was seen for longest, so that what was seen lies on one stretch.
    #[must_use]
    pub fn opened(&self, places: impl Iterator<Item = f32>) -> Opened {
        let bin = self.circumference / BINS as f32;
        let mut seen = 0u64;
        for x in places {
            seen |= 1 << ((self.wrapped(x) / bin) as u32 % BINS);
        }
        let empty = |at: u32| seen & (1 << (at % BINS)) == 0;
        let (mut longest, mut cut) = (0, 0);
        for start in (0..BINS).filter(|start| empty(*start) && !empty(*start + BINS - 1)) {
            let length = (start..start + BINS).take_while(|at| empty(*at)).count() as u32;
            if length > longest {
                (longest, cut) = (length, start + length);
            }
        }
        // The first bin seen behind the gap; nothing crosses the datum where that is the first of all.
        let from = bin * (cut % BINS) as f32;
        let crosses = (0..cut % BINS).any(|at| !empty(at));
        Opened { girth: *self, cut: if crosses { from } else { 0.0 } }
    }
}

/// A turn that was opened: places count on past the datum.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Opened {
    girth: Girth,
    cut: f32,
}

impl Opened {
    /// A place from where the turn is opened on, 0 up to 2 C; beyond C it lies past the datum.
    #[must_use]
    pub fn along(&self, x: f32) -> f32 {
        let wrapped = self.girth.wrapped(x);
        if wrapped < self.cut { wrapped + self.girth.circumference } else { wrapped }
    }
}

/// A clock position: hours and minutes of the hour hand.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Clock {
    hour: u32,
    minute: u32,
}

impl fmt::Display for Clock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{:02}", self.hour, self.minute)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GIRTH: Girth = Girth { circumference: 640.0 };

    #[test]
    fn places_wrap_and_steps_take_the_shorter_way() {
        assert_eq!([0.0, 640.0, 650.0, -5.0].map(|x| GIRTH.wrapped(x)), [0.0, 0.0, 10.0, 635.0]);
        assert!(GIRTH.wrapped(-1e-6) < 640.0);
        assert_eq!((GIRTH.step(630.0, 5.0), GIRTH.step(5.0, 630.0)), (15.0, -15.0));
        assert_eq!((GIRTH.step(100.0, 400.0), GIRTH.step(0.0, 330.0)), (300.0, -310.0));
    }

    #[test]
    fn the_clock_has_its_twelve_at_the_datum() {
        let told = [0.0, 160.0, 320.0, 480.0, 639.9, 53.34].map(|x| std::format!("{}", GIRTH.clock(x)));
        assert_eq!(told, ["12:00", "3:00", "6:00", "9:00", "12:00", "1:00"]);
        assert_eq!(GIRTH.turn(-160.0), 270.0);
    }

    #[test]
    fn a_turn_opens_where_nothing_was_seen() {
        let at = |places: &[f32], x: f32| GIRTH.opened(places.iter().copied()).along(x);
        assert_eq!((at(&[630.0, 5.0], 630.0), at(&[630.0, 5.0], 5.0)), (630.0, 645.0));
        assert_eq!((at(&[5.0, 630.0], 5.0), at(&[-10.0, 5.0], -10.0)), (645.0, 630.0));
        // What does not cross the datum stays as it is, wherever the gap is.
        assert_eq!(
            (at(&[5.0, 50.0], 5.0), at(&[600.0, 630.0], 600.0), at(&[300.0], 300.0)),
            (5.0, 600.0, 300.0)
        );
        // All around there is no gap: it opens at the datum.
        let all: std::vec::Vec<f32> = (0..64).map(|n| n as f32 * 10.0 + 5.0).collect();
        assert_eq!((at(&all, 5.0), at(&all, 635.0)), (5.0, 635.0));
    }
}
