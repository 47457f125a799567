//! Weld metal at a face: how wide it is there, where its middle lies, and what stands above the face.

use super::Point;
use crate::part::side::Side;
use crate::units::Millimetres;

/// Corners of a cap's or a bead's outline.
pub const CAP_CORNERS: usize = 9;

/// The cap at the scanned face or the bead at the far one, by width, height and the y of its middle.
///
/// Only these are ever known, so the shape between is a parabola: height · (1 − (2 (y − middle) / width)²). Common
/// practice, no source.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Reinforcement {
    half_width: Option<f32>,
    height: f32,
    middle: f32,
}

impl Reinforcement {
    /// Without a height it is flush, without a width not known.
    pub(super) fn new(width: Option<Millimetres>, height: Option<Millimetres>, middle: f32) -> Self {
        Self {
            half_width: width.map(|width| 0.5 * width.get()),
            height: height.map_or(0.0, Millimetres::get),
            middle,
        }
    }

    /// y of its middle.
    pub(super) const fn middle(&self) -> f32 {
        self.middle
    }

    /// Whether it stands above its face.
    pub(super) fn is_raised(&self) -> bool {
        self.height > 0.0
    }

    /// How far it reaches from the centreline on a side, negative where it ends before it; `None` when its width is not
    /// known.
    pub(super) fn edge(&self, side: Side) -> Option<f32> {
        self.half_width.map(|half_width| half_width - side.sign() * self.middle)
    }

    /// Whether a point that far beyond the face lies in it.
    pub(super) fn contains(&self, y: f32, beyond: f32) -> bool {
        beyond >= 0.0 && self.is_raised() && self.height_at(y).is_some_and(|limit| beyond <= limit)
    }

    fn height_at(&self, y: f32) -> Option<f32> {
        // h (1 − ((y − m) / w)²), w the half width, m the middle
        let part = (y - self.middle) / self.half_width?;
        (part.abs() <= 1.0).then_some(self.height * (1.0 - part * part))
    }

    /// Corners from side A to side B; `face` and `down` put it on its face. `None` unless it stands above it.
    pub(super) fn outline(&self, face: f32, down: f32) -> Option<heapless::Vec<Point, CAP_CORNERS>> {
        let half_width = self.half_width.filter(|_| self.is_raised())?;
        let mut outline = heapless::Vec::new();
        let half = (CAP_CORNERS / 2) as f32;
        for corner in 0..CAP_CORNERS {
            let part = (corner as f32 - half) / half;
            let y = self.middle + part * half_width;
            let point = Point { y, z: face + down * self.height * (1.0 - part * part) };
            // As many corners as the outline takes.
            let _ = outline.push(point);
        }
        Some(outline)
    }
}
