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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_height_of_nothing_is_not_below_zero_and_one_that_disagrees_is_told_as_that_alone() {
        let doubts = |height: f32, consistent| {
            let (lowest, highest) = (height, height);
            let found = HeightFinding {
                height,
                uncertainty: 1.0,
                observations: 2,
                consistent,
                lowest,
                highest,
                lean: None,
                if_upright: false,
            };
            let Doubts { heights_disagree, height_below_zero, .. } = Doubts::of(None, Some(&found));
            (heights_disagree, height_below_zero)
        };
        assert_eq!(doubts(0.0, None), (false, false));
        assert_eq!((doubts(-0.1, None), doubts(-0.1, Some(true))), ((false, true), (false, true)));
        assert_eq!((doubts(-0.1, Some(false)), doubts(0.1, Some(false))), ((true, false), (true, false)));
    }
}
