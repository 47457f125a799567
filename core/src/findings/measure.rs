//! What a sheet measures of an indication: its level, or its weighted rating.

use super::reading::heard;
use super::{Extent, Grouped, strongest};
use crate::criteria::{Measure, Measured, Sheet};
use crate::examination::Facts;
use crate::level::{Bound, Level};
use crate::rating::{Rating, Weighted};
use crate::units::Decibels;

/// The sheet's measure of an indication, the reading it comes from, and the weighted rating if it is one.
pub(super) fn measured<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    indication: u8,
) -> (Measured, Option<u32>, Option<(u32, Rating)>) {
    match sheet.head().measure {
        Measure::Level => match strongest(facts, indication) {
            Ok(found) => (by_bound(found.level), Some(found.finding.reading.number()), None),
            Err(_) => (Measured::Unknown("no reading has a level"), None, None),
        },
        Measure::Weighted(rule) => match lowest_rating(facts, &rule, indication) {
            Ok((number, rating, bound)) => {
                // A saturated echo needs less gain than was read: its rating is this or lower.
                let measure = match bound {
                    Bound::Exact => Measured::Exact(rating.d),
                    Bound::AtLeast => Measured::AtMost(rating.d),
                    Bound::AtMost => Measured::AtLeast(rating.d),
                };
                (measure, Some(number), Some((number, rating)))
            }
            Err(reason) => (Measured::Unknown(reason), None, None),
        },
    }
}

const fn by_bound(level: Level) -> Measured {
    match level.bound {
        Bound::Exact => Measured::Exact(level.db),
        Bound::AtLeast => Measured::AtLeast(level.db),
        Bound::AtMost => Measured::AtMost(level.db),
    }
}

/// The lowest rating d = a − b − c over the readings of an indication: the strongest reflector.
///
/// a = b − level: the gain that brings the indication to the reference height, any transfer correction taken off.
fn lowest_rating(
    facts: &Facts<'_>,
    rule: &Weighted,
    indication: u8,
) -> Result<(u32, Rating, Bound), &'static str> {
    let mut lowest: Option<(u32, Rating, Bound)> = None;
    let mut saturated = false;
    for reading in facts.readings_of(indication) {
        let points = facts.probe(reading.probe()).map_or(0, |state| state.dac().points().len());
        if points > 1 {
            return Err("a probe with several reference points cannot be rated against one");
        }
        let (Ok(path), Ok(found)) = heard(facts, reading) else { continue };
        let b = found.reference.gain;
        let rating = Decibels::new(b.get() - found.level.db.get()).and_then(|a| rule.rate(path, a, b));
        let Ok(rating) = rating else { continue };
        saturated |= found.level.bound == Bound::AtLeast;
        let beats = lowest.as_ref().is_none_or(|(_, held, bound)| {
            let (seen, held_seen) = (found.level.bound != Bound::AtMost, *bound != Bound::AtMost);
            if seen == held_seen { rating.d < held.d } else { seen }
        });
        if beats {
            lowest = Some((reading.number(), rating, found.level.bound));
        }
    }
    let (number, rating, bound) = lowest.ok_or("no reading can be rated")?;
    Ok((number, rating, if saturated { Bound::AtLeast } else { bound }))
}

/// The strongest measure among the members of a group: seen members before unseen ones, and only "at least as strong"
/// when one of them went over the screen.
pub(super) fn strongest_of<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    group: &Grouped,
    extents: &[Extent],
) -> Measured {
    let weighted = matches!(sheet.head().measure, Measure::Weighted(_));
    // A high level is strong, a low rating is.
    let strength = |measure: Measured| match measure {
        Measured::Exact(db) => Some((db, Bound::Exact)),
        Measured::AtLeast(db) => Some((db, if weighted { Bound::AtMost } else { Bound::AtLeast })),
        Measured::AtMost(db) => Some((db, if weighted { Bound::AtLeast } else { Bound::AtMost })),
        Measured::Unknown(_) => None,
    };
    let mut worst: Option<(Decibels, Bound)> = None;
    let mut saturated = false;
    for member in &group.members {
        let known = extents.iter().find(|extent| extent.indication == *member).and_then(|own| own.member);
        let measure = known.map_or_else(|| measured(facts, sheet, *member).0, |member| member.measure);
        let Some((db, bound)) = strength(measure) else { return measure };
        saturated |= bound == Bound::AtLeast;
        let stronger = worst.is_none_or(|(held, held_bound)| {
            match (bound != Bound::AtMost, held_bound != Bound::AtMost) {
                (true, false) => true,
                (false, true) => false,
                _ if weighted => db < held,
                _ => db > held,
            }
        });
        if stronger {
            worst = Some((db, bound));
        }
    }
    match worst {
        None => Measured::Unknown("no reading has a level"),
        Some((db, _)) if saturated && weighted => Measured::AtMost(db),
        Some((db, _)) if saturated => Measured::AtLeast(db),
        Some((db, Bound::AtMost)) if weighted => Measured::AtLeast(db),
        Some((db, Bound::AtMost)) => Measured::AtMost(db),
        Some((db, _)) => Measured::Exact(db),
    }
}
