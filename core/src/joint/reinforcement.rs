//! Weld metal that stands above the scanned face or below the far one.

use super::Point;
use crate::units::Millimetres;

/// Corners of a cap's or a bead's outline.
pub const CAP_CORNERS: usize = 9;

/// The cap at the scanned face or the bead at the far one, by width and height.
///
/// Only these two are ever known, so the shape between is a parabola: height · (1 − (2 y / width)²). Common practice, no
/// source.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Reinforcement {
    half_width: f32,
    height: f32,
}

impl Reinforcement {
    /// `None` unless width and height are known and the height is more than flush.
    pub(super) fn new(width: Option<Millimetres>, height: Option<Millimetres>) -> Option<Self> {
        let (half_width, height) = (0.5 * width?.get(), height?.get());
        (height > 0.0).then_some(Self { half_width, height })
    }

    /// Whether a point that far beyond the face lies in it.
    pub(super) fn contains(&self, y: f32, beyond: f32) -> bool {
        beyond >= 0.0 && self.height_at(y).is_some_and(|limit| beyond <= limit)
    }

    fn height_at(&self, y: f32) -> Option<f32> {
        // h (1 − (y / w)²), w the half width
        let part = y / self.half_width;
        (part.abs() <= 1.0).then_some(self.height * (1.0 - part * part))
    }

    /// Corners from side A to side B; `face` and `down` put it on its face.
    pub(super) fn outline(&self, face: f32, down: f32) -> heapless::Vec<Point, CAP_CORNERS> {
        let mut outline = heapless::Vec::new();
        let half = (CAP_CORNERS / 2) as f32;
        for corner in 0..CAP_CORNERS {
            let part = (corner as f32 - half) / half;
            let point =
                Point { y: part * self.half_width, z: face + down * self.height * (1.0 - part * part) };
            // As many corners as the outline takes.
            let _ = outline.push(point);
        }
        outline
    }
}
