//! What speaks against the findings of one indication.

use super::super::{HeightFinding, Point};

/// What speaks against the findings of one indication.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Doubts {
    /// Its views disagree.
    pub views_disagree: bool,
    /// The observations of its height disagree.
    pub heights_disagree: bool,
    /// Its height comes out below zero, of observations that do not disagree.
    pub height_below_zero: bool,
}

impl Doubts {
    /// Those that point and height of an indication leave.
    #[must_use]
    pub fn of(point: Option<&Point>, height: Option<&HeightFinding>) -> Self {
        Self {
            views_disagree: point.is_some_and(|point| point.consistent == Some(false)),
            heights_disagree: height.is_some_and(HeightFinding::disagrees),
            height_below_zero: height.is_some_and(|found| found.height < 0.0 && !found.disagrees()),
        }
    }
}
