//! A frame with two scales for what is drawn over them.

use std::format;
use std::string::String;
use std::vec::Vec;

use super::{Align, Drawing, Ink, Pen, larger, smaller};

/// Size of words in a drawing, points.
pub const TYPE: f64 = 10.5;

/// Values along one direction, and where they lie in the drawing.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Scale {
    from: f64,
    to: f64,
    low: f64,
    high: f64,
}

impl Scale {
    /// Values `low` to `high` at `from` to `to`; a range of nothing is widened.
    #[must_use]
    pub fn new(low: f64, high: f64, from: f64, to: f64) -> Self {
        let (low, high) = if high - low > 1e-9 { (low, high) } else { (low - 0.5, low + 0.5) };
        Self { from, to, low, high }
    }

    /// Where a value lies.
    #[must_use]
    pub fn at(&self, value: f64) -> f64 {
        self.from + (value - self.low) / (self.high - self.low) * (self.to - self.from)
    }

    /// Whether a value lies on it.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Lowest and highest value.
    #[must_use]
    pub const fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// Round values, at least `apart` points from one to the next, and how many decimals they need.
    #[must_use]
    pub fn ticks(&self, apart: f64) -> (Vec<f64>, usize) {
        let steps = larger(((self.to - self.from).abs() / apart).floor(), 1.0);
        let raw = (self.high - self.low) / steps;
        // 0.001, 0.002, 0.005, 0.01, ...: whole powers of ten by multiplication, the same on every platform.
        let mut decade = 1e-3;
        let step = loop {
            let found =
                [1.0, 2.0, 5.0].map(|factor| factor * decade).into_iter().find(|step| *step >= raw * 0.999);
            match found {
                Some(step) => break step,
                None => decade *= 10.0,
            }
        };
        let (first, last) = ((self.low / step - 1e-6).ceil(), (self.high / step + 1e-6).floor());
        let count = (last - first).clamp(0.0, 100.0) as u32;
        let decimals = [1.0, 0.1, 0.01].into_iter().position(|least| step >= least * 0.999).unwrap_or(3);
        ((0..=count).map(|place| (first + f64::from(place)) * step).collect(), decimals)
    }
}

/// A frame for curves.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Chart {
    /// Rightward.
    pub x: Scale,
    /// Upward.
    pub y: Scale,
}

impl Chart {
    /// Where a pair of values lies.
    #[must_use]
    pub fn at(&self, x: f64, y: f64) -> (f64, f64) {
        (self.x.at(x), self.y.at(y))
    }

    /// Draws grid, frame and scales; `across` and `up` say what is measured.
    pub fn frame(&self, drawing: &mut Drawing, across: &str, up: &str) {
        let (left, right) = (self.x.from, self.x.to);
        let (bottom, top) = (larger(self.y.from, self.y.to), smaller(self.y.from, self.y.to));
        let grid = Pen::solid(Ink::Grid, 0.6);
        let (ticks, places) = self.x.ticks(56.0);
        for value in ticks {
            let x = self.x.at(value);
            drawing.line([(x, bottom), (x, top)], grid);
            drawing.words((x, bottom + 14.0), Align::Middle, Ink::Soft, decimal(value, places));
        }
        let (ticks, places) = self.y.ticks(22.0);
        for value in ticks {
            let y = self.y.at(value);
            drawing.line([(left, y), (right, y)], grid);
            drawing.words((left - 6.0, y + 3.6), Align::End, Ink::Soft, decimal(value, places));
        }
        drawing.area(
            [(left, bottom), (right, bottom), (right, top), (left, top)],
            None,
            Some(Pen::solid(Ink::Soft, 0.8)),
        );
        drawing.words((right, bottom + 29.0), Align::End, Ink::Soft, across);
        drawing.words((left, top - 7.0), Align::Start, Ink::Soft, up);
    }
}

/// A value with so many decimals and no negative zero.
#[must_use]
pub fn decimal(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    if text.trim_start_matches('-').chars().all(|char| matches!(char, '0' | '.')) {
        text.trim_start_matches('-').into()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_lie_on_the_scale() {
        let scale = Scale::new(108.3, 152.0, 0.0, 500.0);
        let (ticks, places) = scale.ticks(56.0);
        assert_eq!((ticks.as_slice(), places), ([110.0, 120.0, 130.0, 140.0, 150.0].as_slice(), 0));
        let (ticks, places) = Scale::new(0.0, 0.8, 0.0, 200.0).ticks(50.0);
        assert_eq!((ticks.len(), places), (5, 1));
        assert_eq!(Scale::new(3.0, 3.0, 0.0, 10.0).ends(), (2.5, 3.5));
    }

    #[test]
    fn what_rounds_to_nothing_has_no_sign() {
        assert_eq!([decimal(-0.04, 1), decimal(-0.06, 1), decimal(-0.0, 0)], ["0.0", "-0.1", "0"]);
    }
}
