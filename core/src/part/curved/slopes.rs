//! How a length in a curved part depends on what it is computed from.

use core::ops::{Add, Mul};

/// Partial derivatives of a length in a curved part.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Slopes {
    /// Per millimetre of path.
    pub path: f64,
    /// Per unit of arc of the refracted angle.
    pub angle: f64,
    /// Per millimetre of the scanned face's radius.
    pub scanned: f64,
    /// Per millimetre of the opposite face's radius.
    pub other: f64,
}

impl Add for Slopes {
    type Output = Self;

    fn add(self, more: Self) -> Self {
        Self {
            path: self.path + more.path,
            angle: self.angle + more.angle,
            scanned: self.scanned + more.scanned,
            other: self.other + more.other,
        }
    }
}

impl Mul<f64> for Slopes {
    type Output = Self;

    fn mul(self, factor: f64) -> Self {
        Self {
            path: self.path * factor,
            angle: self.angle * factor,
            scanned: self.scanned * factor,
            other: self.other * factor,
        }
    }
}
