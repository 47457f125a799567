//! What a sheet measures of an indication: its level, or its weighted rating.

use super::reading::heard;
use super::{Extent, Grouped, strongest};
use crate::criteria::{Measure, Measured, Sheet};
use crate::examination::{Facts, Pooled};
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
            Ok((number, rating, bound)) => (by_rating(rating, bound), Some(number), Some((number, rating))),
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

/// The rating of one reading, d = a − b − c with a = b − level: the gain that brings the indication to the reference
/// height, any transfer correction taken off. A saturated echo needs less gain than was read: its rating is this or lower.
fn rated(facts: &Facts<'_>, rule: &Weighted, reading: Pooled<'_>) -> Option<(Rating, Bound)> {
    let (Ok(path), Ok(found)) = heard(facts, reading) else { return None };
    let b = found.reference.gain;
    let rating = Decibels::new(b.get() - found.level.db.get()).and_then(|a| rule.rate(path, a, b));
    Some((rating.ok()?, found.level.bound))
}

const fn by_rating(rating: Rating, bound: Bound) -> Measured {
    match bound {
        Bound::Exact => Measured::Exact(rating.d),
        Bound::AtLeast => Measured::AtMost(rating.d),
        Bound::AtMost => Measured::AtLeast(rating.d),
    }
}

/// The sheet's measure of one reading by itself, and its rating if it is one; none where it has no level.
pub(super) fn measured_alone<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    reading: Pooled<'_>,
) -> Option<(Measured, Option<(u32, Rating)>)> {
    match sheet.head().measure {
        Measure::Level => Some((by_bound(heard(facts, reading).1.ok()?.level), None)),
        Measure::Weighted(rule) => {
            let (rating, bound) = rated(facts, &rule, reading)?;
            Some((by_rating(rating, bound), Some((reading.number(), rating))))
        }
    }
}

/// The lowest rating over the readings of an indication: the strongest reflector.
fn lowest_rating(
    facts: &Facts<'_>,
    rule: &Weighted,
    indication: u8,
) -> Result<(u32, Rating, Bound), &'static str> {
    let mut lowest: Option<(u32, Rating, Bound)> = None;
    let (mut saturated, mut unseen) = (false, None::<Decibels>);
    for reading in facts.readings_of(indication) {
        let points = facts.probe(reading.probe()).map_or(0, |state| state.dac().points().len());
        if points > 1 {
            return Err("a probe with several reference points cannot be rated against one");
        }
        let Some((rating, bound)) = rated(facts, rule, reading) else { continue };
        saturated |= bound == Bound::AtLeast;
        if bound == Bound::AtMost && unseen.is_none_or(|held| rating.d < held) {
            unseen = Some(rating.d);
        }
        let beats = lowest.as_ref().is_none_or(|(_, held, held_bound)| {
            let (seen, held_seen) = (bound != Bound::AtMost, *held_bound != Bound::AtMost);
            if seen == held_seen { rating.d < held.d } else { seen }
        });
        if beats {
            lowest = Some((reading.number(), rating, bound));
        }
    }
    let (number, rating, bound) = lowest.ok_or("no reading can be rated")?;
    // What was looked for in vain may be rated down to its own bound, even where its level is the lower one.
    let below = bound == Bound::Exact && unseen.is_some_and(|unseen| unseen < rating.d);
    Ok((number, rating, if saturated || below { Bound::AtLeast } else { bound }))
}

/// The strongest measure among the members of a group, which is "at least as strong" when one of them went over the
/// screen; of a member whose echo was not seen nothing is known that would tell how strong the group is.
pub(super) fn strongest_of<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    group: &Grouped,
    extents: &[Extent],
) -> Measured {
    let weighted = matches!(sheet.head().measure, Measure::Weighted(_));
    let mut strongest: Option<Decibels> = None;
    let mut saturated = false;
    for member in &group.members {
        let known = extents.iter().find(|extent| extent.indication == *member).and_then(|own| own.member);
        let measure = known.map_or_else(|| measured(facts, sheet, *member).0, |member| member.measure);
        let (db, over) = match measure {
            Measured::Exact(db) => (db, false),
            Measured::AtLeast(db) if !weighted => (db, true),
            Measured::AtMost(db) if weighted => (db, true),
            Measured::AtLeast(_) | Measured::AtMost(_) => {
                return Measured::Unknown("a neighbour was not seen");
            }
            Measured::Unknown(_) => return measure,
        };
        saturated |= over;
        // A high level is strong, a low rating is.
        strongest = match strongest {
            Some(held) if weighted == (held < db) => Some(held),
            _ => Some(db),
        };
    }
    match strongest {
        None => Measured::Unknown("no reading has a level"),
        Some(db) if !saturated => Measured::Exact(db),
        Some(db) if weighted => Measured::AtMost(db),
        Some(db) => Measured::AtLeast(db),
    }
}
