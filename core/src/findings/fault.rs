//! What in the readings of an indication stands in the way of a good word.

use super::caution::corner_off_axis;
use super::{Basis, Blocked, Indication, Point, ReadingFinding, evaluate, suspicion};
use crate::calibration::level::Bound;
use crate::record::entry::PointPeaked;

/// What in the readings of an indication keeps an accept or a record from being passed on.
pub(super) fn fault(indication: Indication<'_>, place: Option<&Point>) -> Option<Blocked> {
    let facts = indication.facts();
    let strongest = indication.level().ok().map(|found| found.level);
    if strongest.is_some_and(|level| level.bound == Bound::AtMost) {
        return Some(Blocked::NeverSeen);
    }
    let strongest = strongest.map(|level| level.db);
    for reading in indication.readings() {
        let (heard, number) = (indication.heard(reading), reading.number());
        match heard.level {
            None => {
                let reason = evaluate(facts, reading).level.err()?;
                return Some(Blocked::WithoutLevel { number, reason });
            }
            Some((level, _)) if level.bound == Bound::AtMost && Some(level.db) > strongest => {
                return Some(Blocked::MayBeStronger { number });
            }
            Some(_) => {}
        }
        if heard.spot.is_none() {
            let reason = evaluate(facts, reading).place.err()?;
            return Some(Blocked::WithoutPlace { number, reason });
        }
        if let Some(suspicion) = suspicion(facts, reading) {
            return Some(Blocked::Suspect { number, suspicion });
        }
    }
    let Some(place) = place else { return Some(Blocked::WithoutPoint) };
    if place.consistent == Some(false) {
        let Point { chi_squared, degrees_of_freedom, .. } = *place;
        return Some(Blocked::ViewsDisagree { chi_squared, degrees_of_freedom });
    }
    let peaked = indication.readings().filter(|reading| reading.sweep().is_none());
    peaked.map(|reading| evaluate(facts, reading)).find_map(|finding| {
        let number = finding.reading.number();
        match corner_off_axis(facts, &finding) {
            Some((ray, _)) => Some(Blocked::NoCorner { number, ray }),
            None => elsewhere(&finding, place).then_some(Blocked::Elsewhere { number }),
        }
    })
}

/// Whether a peaked echo lies off the indication's point by more than both uncertainties. Of one probe, side and leg only
/// the best reading is among the views that are held against each other: this holds the others to what those say. A tip
/// lies off the point by nature.
fn elsewhere(finding: &ReadingFinding<'_>, point: &Point) -> bool {
    let tip = matches!(finding.reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip);
    let (Ok(place), Some((u_y, u_z))) = (finding.place, finding.uncertainty()) else { return false };
    let off = apart((place.y.get(), u_y), (point.y, point.u_y))
        || apart((place.z.get(), u_z), (point.z, point.u_z));
    off && !tip && point.basis == Basis::Echoes && !finding.unseen()
}

/// Whether two values differ by more than both their uncertainties.
fn apart(one: (f32, f32), other: (f32, f32)) -> bool {
    (one.0 - other.0).abs() > one.1 + other.1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_apart_where_both_uncertainties_do_not_reach() {
        assert!(!apart((2.0, 0.25), (1.0, 0.75)), "they just reach");
        assert!(!apart((1.0, 0.75), (2.0, 0.25)));
        assert!(apart((2.0, 0.25), (1.0, 0.5)));
        assert!(apart((1.0, 0.25), (2.0, 0.5)));
    }
}
