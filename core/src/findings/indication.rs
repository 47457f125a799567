//! Everything the examination says of one indication, apart from the sheet's verdict.

use super::geometry::geometry_by;
use super::point::{Views, echoes, point_by};
use super::tip::height_by;
use super::{HeightFinding, LengthRule, Match, NoLength, Point, Strongest, Undetermined};
use super::{extent, strongest};
use crate::evaluate::sizing::length::Length;
use crate::record::examination::Facts;

/// What one indication is.
#[derive(Clone)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct IndicationFinding<'a> {
    /// Its place in the list of indications.
    pub indication: u8,
    /// Where it lies; none when no reading has a place.
    pub point: Option<Point>,
    /// The feature of the joint that explains it; none when there is no such feature.
    pub geometry: Option<Match>,
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
    let (point, geometry) = placed(facts, indication);
    IndicationFinding {
        indication,
        point,
        geometry,
        strongest: strongest(facts, indication),
        length: extent::<N>(facts, indication, rule),
        height: height_by(facts, indication, point.as_ref()),
    }
}

/// Place and feature rest on the same views, which are sought once.
#[inline(never)]
fn placed(facts: &Facts<'_>, indication: u8) -> (Option<Point>, Option<Match>) {
    let mut views = Views::new();
    if echoes(facts, indication, &mut views).is_none() {
        return (None, None);
    }
    let geometry = geometry_by(facts, indication, &views);
    (point_by(facts, indication, &mut views), geometry)
}
