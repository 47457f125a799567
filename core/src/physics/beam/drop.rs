//! The constants of beam spread: where the field has fallen a named number of decibels below the axis.
//!
//! A drop without its direction says nothing: the echo of a small reflector crosses the beam twice, so 6 dB in
//! pulse-echo is 3 dB of the one-way field. "6 dB" alone has been printed beside constants from 0.51 to 1.2.

use crate::physics::probe::Element;
use crate::units::Decibels;

/// Whether a level is that of the field, or of the echo it makes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Direction {
    /// The sound pressure of the transmitted beam.
    OneWay,
    /// The echo of a small reflector: the same beam twice, so twice the decibels.
    PulseEcho,
}

/// A beam edge: the drop below the axis, its direction, and k of sin g = k λ / D.
///
/// In the far field the pressure off the axis of a round element is 2 J₁(x) / x of that on it, of a side of a
/// rectangular one sin x / x, with x = π D sin g / λ. So k = x / π at the first root of "pressure = 10^(−drop / 20)",
/// J₁ being the Bessel function of the first kind. The roots were found with 30 digits and agree with the published
/// one-way constants: 0.37, 0.51, 0.7, 0.87 and 0.93 (NDT encyclopedia, ultrasonic formula sheet, item 7), and 1.08 (TWI,
/// frequently asked questions: beam spread in the far zone; a truncation of 1.089). Pulse-echo constants are those of
/// half the decibels.
///
/// ```
/// use halfskip::physics::beam::{Direction, EdgeDrop};
/// let field = EdgeDrop::find(3.0, Direction::OneWay).unwrap();
/// assert!((field.round() - 0.5137).abs() < 0.00005);
/// assert_eq!(field.round(), EdgeDrop::PULSE_ECHO_6.round());
/// assert!(EdgeDrop::find(7.0, Direction::OneWay).is_none());
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct EdgeDrop {
    below: Option<Decibels>,
    direction: Direction,
    round: f32,
    rectangular: f32,
}

/// k of a round and of a rectangular element for one-way drops of 1.5, 3, 6, 10, 12 and 20 dB.
const ROOTS: [(f32, f32); 6] = [
    (0.368_716_87, 0.318_390_04),
    (0.513_669_8, 0.442_243_4),
    (0.704_033_2, 0.602_479_8),
    (0.869_424_9, 0.738_026_4),
    (0.930_501_3, 0.786_778_5),
    (1.088_536_7, 0.907_928_6),
];

impl EdgeDrop {
    /// 6 dB, pulse-echo.
    pub const PULSE_ECHO_6: Self = Self::of(6.0, Direction::PulseEcho, ROOTS[1]);
    /// 20 dB, pulse-echo.
    pub const PULSE_ECHO_20: Self = Self::of(20.0, Direction::PulseEcho, ROOTS[3]);
    /// The first null of the main lobe, where no sound is left in either direction: the first root of J₁, and of sin.
    pub const FIRST_NULL: Self =
        Self { below: None, direction: Direction::OneWay, round: 1.219_669_9, rectangular: 1.0 };

    /// Every named drop but the null.
    pub const ALL: [Self; 12] = [
        Self::of(1.5, Direction::OneWay, ROOTS[0]),
        Self::of(3.0, Direction::OneWay, ROOTS[1]),
        Self::of(6.0, Direction::OneWay, ROOTS[2]),
        Self::of(10.0, Direction::OneWay, ROOTS[3]),
        Self::of(12.0, Direction::OneWay, ROOTS[4]),
        Self::of(20.0, Direction::OneWay, ROOTS[5]),
        Self::of(3.0, Direction::PulseEcho, ROOTS[0]),
        Self::PULSE_ECHO_6,
        Self::of(12.0, Direction::PulseEcho, ROOTS[2]),
        Self::PULSE_ECHO_20,
        Self::of(24.0, Direction::PulseEcho, ROOTS[4]),
        Self::of(40.0, Direction::PulseEcho, ROOTS[5]),
    ];

    const fn of(below: f32, direction: Direction, (round, rectangular): (f32, f32)) -> Self {
        Self { below: Some(Decibels::constant(below)), direction, round, rectangular }
    }

    /// The named drop of so many decibels below the axis; `None` where no constant stands.
    #[must_use]
    pub fn find(below: f32, direction: Direction) -> Option<Self> {
        Self::ALL
            .iter()
            .copied()
            .find(|one| one.direction == direction && one.below.is_some_and(|level| level.get() == below))
    }

    /// How far below the axis, in dB; `None` at the null, which is below everything.
    #[must_use]
    pub const fn below(&self) -> Option<Decibels> {
        self.below
    }

    /// Whether the drop is the field's or the echo's.
    #[must_use]
    pub const fn direction(&self) -> Direction {
        self.direction
    }

    /// k of a round element.
    #[must_use]
    pub const fn round(&self) -> f32 {
        self.round
    }

    /// k of either side of a rectangular element.
    #[must_use]
    pub const fn rectangular(&self) -> f32 {
        self.rectangular
    }

    /// k of that element.
    #[must_use]
    pub const fn factor(&self, element: &Element) -> f32 {
        match element {
            Element::Round { .. } => self.round,
            Element::Rectangular { .. } => self.rectangular,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math;
    use core::f64::consts::PI;

    /// Σ (−q)^m / (first · second) with the denominators growing by `step(m)`.
    fn series(q: f64, step: impl Fn(f64) -> f64) -> f64 {
        let (mut sum, mut term) = (1.0, 1.0);
        for m in 1..40 {
            term *= -q / step(f64::from(m));
            sum += term;
        }
        sum
    }

    /// 2 J₁(x) / x = Σ (−x²/4)^m / (m! (m + 1)!)
    fn round(k: f32) -> f64 {
        let x = f64::from(k) * PI;
        series(x * x / 4.0, |m| m * (m + 1.0))
    }

    /// sin x / x = Σ (−x²)^m / (2m + 1)!
    fn rectangular(k: f32) -> f64 {
        let x = f64::from(k) * PI;
        series(x * x, |m| 2.0 * m * (2.0 * m + 1.0))
    }

    #[test]
    fn every_constant_is_a_root_of_its_own_field() {
        for drop in EdgeDrop::ALL {
            let one_way = match drop.direction {
                Direction::OneWay => 1.0,
                Direction::PulseEcho => 2.0,
            };
            for pressure in [round(drop.round), rectangular(drop.rectangular)] {
                let level = 20.0 * one_way * math::log10(pressure as f32).unwrap();
                assert!((level + drop.below.unwrap().get()).abs() < 1e-4, "{drop:?}: {level}");
            }
        }
        assert!(round(EdgeDrop::FIRST_NULL.round).abs() < 1e-7);
        assert!(rectangular(EdgeDrop::FIRST_NULL.rectangular).abs() < 1e-12);
    }

    #[test]
    fn a_deeper_drop_is_further_out() {
        for pair in EdgeDrop::ALL.windows(2) {
            let [one, next] = pair else { panic!("two at a time") };
            if one.direction == next.direction {
                assert!(one.round < next.round && one.rectangular < next.rectangular);
            }
        }
    }
}
