//! What a sheet measures of an indication: its level, or its weighted rating.

use super::{Findings, Grouped, Indication};
use crate::acceptance::criteria::{Measure, Measured, Missing};
use crate::acceptance::rating::{Rating, Weighted};
use crate::calibration::level::{Bound, Level};
use crate::math;
use crate::record::examination::Pooled;
use crate::units::Decibels;

/// The sheet's measure of an indication, the reading it comes from, and the weighted rating if it is one.
pub(super) fn measured(indication: Indication<'_>) -> (Measured, Option<u32>, Option<(u32, Rating)>) {
    match indication.findings().measure() {
        Measure::Level => match indication.level() {
            Ok(found) => (by_bound(found.level), Some(found.finding.reading.number()), None),
            Err(_) => (Measured::Unknown(Missing::NoLevel), None, None),
        },
        Measure::Weighted(rule) => match lowest_rating(indication, &rule) {
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
fn rated(findings: &Findings<'_>, rule: &Weighted, reading: Pooled<'_>) -> Option<(Rating, Bound)> {
    let heard = findings.heard(reading);
    let (path, (level, b)) = (heard.path?, heard.level?);
    let rating = Decibels::new(b.get() - level.db.get()).and_then(|a| rule.rate(path, a, b));
    Some((rating.ok()?, level.bound))
}

const fn by_rating(rating: Rating, bound: Bound) -> Measured {
    match bound {
        Bound::Exact => Measured::Exact(rating.d),
        Bound::AtLeast => Measured::AtMost(rating.d),
        Bound::AtMost => Measured::AtLeast(rating.d),
    }
}

/// The sheet's measure of one reading by itself, and its rating if it is one; none where it has no level.
pub(super) fn measured_alone(
    findings: &Findings<'_>,
    reading: Pooled<'_>,
) -> Option<(Measured, Option<(u32, Rating)>)> {
    match findings.measure() {
        Measure::Level => Some((by_bound(findings.heard(reading).level?.0), None)),
        Measure::Weighted(rule) => {
            let (rating, bound) = rated(findings, &rule, reading)?;
            Some((by_rating(rating, bound), Some((reading.number(), rating))))
        }
    }
}

/// The lowest rating over the readings of an indication: the strongest reflector.
fn lowest_rating(indication: Indication<'_>, rule: &Weighted) -> Result<(u32, Rating, Bound), Missing> {
    let mut lowest = Lowest::default();
    for reading in indication.readings() {
        let points = indication.facts().probe(reading.probe()).map_or(0, |state| state.dac().points().len());
        if points > 1 {
            return Err(Missing::SeveralReferences);
        }
        let Some((rating, bound)) = rated(indication.findings(), rule, reading) else { continue };
        lowest.take(reading.number(), rating, bound);
    }
    lowest.told().ok_or(Missing::NoRating)
}

/// The lowest of some ratings, and what it is a bound for.
#[derive(Default)]
struct Lowest {
    held: Option<(u32, Rating, Bound)>,
    saturated: bool,
    /// The lowest rating of an echo that was looked for in vain, dB.
    unseen: Option<f32>,
}

impl Lowest {
    fn take(&mut self, number: u32, rating: Rating, bound: Bound) {
        self.saturated |= bound == Bound::AtLeast;
        if bound == Bound::AtMost {
            let d = rating.d.get();
            self.unseen = Some(self.unseen.map_or(d, |held| math::smaller(held, d)));
        }
        let beats = self.held.as_ref().is_none_or(|(_, held, held_bound)| {
            let (seen, held_seen) = (bound != Bound::AtMost, *held_bound != Bound::AtMost);
            if seen == held_seen { rating.d < held.d } else { seen }
        });
        if beats {
            self.held = Some((number, rating, bound));
        }
    }

    fn told(self) -> Option<(u32, Rating, Bound)> {
        let (number, rating, bound) = self.held?;
        // What was looked for in vain may be rated down to its own bound, even where its level is the lower one.
        let below = bound == Bound::Exact && self.unseen.is_some_and(|unseen| unseen < rating.d.get());
        Some((number, rating, if self.saturated || below { Bound::AtLeast } else { bound }))
    }
}

/// The strongest measure among the members of a group, which is "at least as strong" when one of them went over the
/// screen; of a member whose echo was not seen nothing is known that would tell how strong the group is.
pub(super) fn strongest_of(findings: &Findings<'_>, group: &Grouped) -> Measured {
    let measures = group.members.iter().map(|member| {
        let known = findings.ends(*member).proved.measure;
        known.unwrap_or_else(|| {
            let (measure, ..) = measured(findings.indication(*member));
            findings.prove(*member, |proved| proved.measure = Some(measure));
            measure
        })
    });
    strongest_measure(matches!(findings.measure(), Measure::Weighted(_)), measures)
}

/// The highest level or the lowest rating.
fn strongest_measure(weighted: bool, measures: impl Iterator<Item = Measured>) -> Measured {
    let mut strongest: Option<f32> = None;
    let mut saturated = false;
    for measure in measures {
        let (db, over) = match measure {
            Measured::Exact(db) => (db, false),
            Measured::AtLeast(db) if !weighted => (db, true),
            Measured::AtMost(db) if weighted => (db, true),
            Measured::AtLeast(_) | Measured::AtMost(_) => {
                return Measured::Unknown(Missing::NeighbourUnseen);
            }
            Measured::Unknown(_) => return measure,
        };
        saturated |= over;
        let stronger = if weighted { math::smaller } else { math::larger };
        strongest = Some(strongest.map_or(db.get(), |held| stronger(held, db.get())));
    }
    match strongest.map(Decibels::computed) {
        None => Measured::Unknown(Missing::NoLevel),
        Some(db) if !saturated => Measured::Exact(db),
        Some(db) if weighted => Measured::AtMost(db),
        Some(db) => Measured::AtLeast(db),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn db(value: f32) -> Decibels {
        Decibels::constant(value)
    }

    fn lowest<const N: usize>(ratings: [(f32, Bound); N]) -> Option<(u32, f32, Bound)> {
        let mut lowest = Lowest::default();
        for ((d, bound), number) in ratings.into_iter().zip(1..) {
            lowest.take(number, Rating { a: db(d), b: db(0.0), c: db(0.0), d: db(d) }, bound);
        }
        lowest.told().map(|(number, rating, bound)| (number, rating.d.get(), bound))
    }

    #[test]
    fn the_lowest_rating_counts_and_the_first_of_equals() {
        use Bound::Exact;
        assert_eq!(lowest([]), None);
        assert_eq!(lowest([(5.0, Exact), (3.0, Exact), (4.0, Exact)]), Some((2, 3.0, Exact)));
        assert_eq!(lowest([(3.0, Exact), (3.0, Exact)]), Some((1, 3.0, Exact)));
    }

    #[test]
    fn an_echo_over_the_screen_leaves_the_rating_open_downward() {
        use Bound::{AtLeast, Exact};
        assert_eq!(lowest([(3.0, Exact), (6.0, AtLeast)]), Some((1, 3.0, AtLeast)));
        assert_eq!(lowest([(6.0, AtLeast), (3.0, Exact)]), Some((2, 3.0, AtLeast)));
    }

    #[test]
    fn an_echo_not_seen_counts_by_what_it_may_be_rated() {
        use Bound::{AtLeast, AtMost, Exact};
        assert_eq!(lowest([(2.0, AtMost), (5.0, Exact)]), Some((2, 5.0, AtLeast)));
        assert_eq!(lowest([(5.0, Exact), (7.0, AtMost), (4.0, AtMost)]), Some((1, 5.0, AtLeast)));
        assert_eq!(lowest([(5.0, Exact), (4.0, AtMost), (7.0, AtMost)]), Some((1, 5.0, AtLeast)));
        assert_eq!(
            lowest([(5.0, Exact), (5.0, AtMost)]),
            Some((1, 5.0, Exact)),
            "no lower than the one seen"
        );
        assert_eq!(lowest([(4.0, AtMost), (3.0, AtMost)]), Some((2, 3.0, AtMost)));
    }

    #[test]
    fn a_group_is_as_strong_as_its_strongest_member_or_stronger() {
        use Measured::{AtLeast, AtMost, Exact, Unknown};
        let of = |weighted, measures: &[Measured]| strongest_measure(weighted, measures.iter().copied());
        let (one, three, four) = (db(1.0), db(3.0), db(4.0));
        assert_eq!(of(false, &[Exact(one), Exact(three), Exact(one)]), Exact(three));
        assert_eq!(of(false, &[AtLeast(one), Exact(four), Exact(three)]), AtLeast(four));
        assert_eq!(of(true, &[Exact(three), Exact(one), Exact(four)]), Exact(one));
        assert_eq!(of(true, &[AtMost(four), Exact(one)]), AtMost(one));
        assert_eq!(of(false, &[Exact(four), AtMost(one)]), Unknown(Missing::NeighbourUnseen));
        assert_eq!(of(true, &[Exact(one), AtLeast(four)]), Unknown(Missing::NeighbourUnseen));
        assert_eq!(of(true, &[Exact(one), Unknown(Missing::NoRating)]), Unknown(Missing::NoRating));
        assert_eq!(of(true, &[]), Unknown(Missing::NoLevel));
    }
}
