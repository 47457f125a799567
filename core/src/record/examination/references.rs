//! Where the points of a gain line come from: their entries, and the side-drilled hole that they share.

use heapless::Vec;

use super::Refusal;
use crate::units::{Decibels, Millimetres};

/// Points of one gain line.
const POINTS: usize = 16;
/// The top bit of a stored number: the entry names the hole. Numbers of entries are far smaller.
const HOLE: u32 = 1 << 31;

/// A point of the gain line with the entry that it comes from.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct ReferencePoint {
    /// The entry.
    pub number: u32,
    /// Sound path.
    pub path: Millimetres,
    /// The gain that brings the reference reflector there to the reference height.
    pub gain: Decibels,
    /// Diameter of the side-drilled hole; `None` where the entry names none.
    pub hole: Option<Millimetres>,
}

/// The entries of a line's points in order of path. Points of one line come from holes of one size, so one is kept.
#[derive(Clone)]
pub(super) struct References {
    numbers: Vec<u32, POINTS>,
    hole: Option<Millimetres>,
}

impl References {
    pub(super) const fn new() -> Self {
        Self { numbers: Vec::new(), hole: None }
    }

    /// Refuses a hole of another size than that of the points before.
    pub(super) fn fits(&self, hole: Option<Millimetres>) -> Result<(), Refusal> {
        match (self.hole, hole) {
            (Some(held), Some(hole)) if held != hole => {
                let of_hole = self.numbers.iter().filter(|number| **number & HOLE != 0);
                let number = of_hole.map(|number| number & !HOLE).min().unwrap_or(0);
                Err(Refusal::HoleDiffers { number, hole: held })
            }
            _ => Ok(()),
        }
    }

    /// Puts an entry in its place; the line, of the same capacity, has taken its point.
    pub(super) fn insert(&mut self, place: usize, number: u32, hole: Option<Millimetres>) {
        let mut carried = if hole.is_some() { number | HOLE } else { number };
        self.hole = hole.or(self.hole);
        for held in self.numbers.iter_mut().skip(place) {
            core::mem::swap(held, &mut carried);
        }
        let _ = self.numbers.push(carried);
    }

    /// Entry and hole of each point, in order of path.
    pub(super) fn iter(&self) -> impl Iterator<Item = (u32, Option<Millimetres>)> + Clone + '_ {
        self.numbers.iter().map(|number| (number & !HOLE, self.hole.filter(|_| number & HOLE != 0)))
    }
}
