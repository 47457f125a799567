//! What a beam can be aimed at: pieces of prepared face, and the edges of the root.

use super::{FaceKind, Point};
use crate::math;
use crate::part::side::Side;
use crate::units::Degrees;

/// A piece of prepared face.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct FusionFace {
    /// The side of the groove it lies on.
    pub side: Side,
    /// What it is.
    pub kind: FaceKind,
    /// Its upper end, nearer to the scanned face.
    pub from: Point,
    /// Its lower end.
    pub to: Point,
}

impl FusionFace {
    /// Its angle from the vertical; positive where the groove opens toward the scanned face.
    #[must_use]
    pub fn tilt(&self) -> Option<Degrees> {
        let opens = f64::from(self.from.y.abs()) - f64::from(self.to.y.abs());
        Degrees::new(math::atan2(opens, f64::from(self.to.z) - f64::from(self.from.z))).ok()
    }
}

/// One edge of the root: the land of one side, or what an upright face has opposite to it. Without a land both ends
/// coincide. A square preparation is root over its whole thickness.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct RootEdge {
    /// The side of the gap it lies on.
    pub side: Side,
    /// Its upper end.
    pub from: Point,
    /// Its lower end: at the far face, except with a double preparation.
    pub to: Point,
}
