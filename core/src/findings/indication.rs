//! Everything the examination says of one indication, apart from the sheet's verdict.

use super::tip::height_by;
use super::{HeightFinding, LengthRule, NoLength, Point, Strongest, Undetermined};
use super::{extent, point, strongest};
use crate::examination::Facts;
use crate::sizing::length::Length;

/// What one indication is.
#[derive(Clone)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct IndicationFinding<'a> {
    /// Its place in the list of indications.
    pub indication: u8,
    /// Where it lies; none when no reading has a place.
    pub point: Option<Point>,
    /// How strong it is, or why nobody can tell.
    pub strongest: Result<Strongest<'a>, Option<(u32, Undetermined)>>,
    /// How long it is along the weld.
    pub length: Result<Length, NoLength>,
    /// How high it is.
    pub height: Option<HeightFinding>,
}

/// Evaluates one indication; its sweep along the weld may have `N` samples.
#[must_use]
pub fn indication<'a, const N: usize>(
    facts: &Facts<'a>,
    indication: u8,
    rule: LengthRule,
) -> IndicationFinding<'a> {
    let point = point(facts, indication);
    IndicationFinding {
        indication,
        point,
        strongest: strongest(facts, indication),
        length: extent::<N>(facts, indication, rule),
        height: height_by(facts, indication, point.as_ref()),
    }
}
