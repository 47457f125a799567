//! How far an indication is from another verdict: in decibels and in millimetres of length.

use super::decide::{Judgement, judge};
use super::facts::{Asked, Known};
use super::row::{Class, Verdict};
use super::sheet::Criteria;
use super::sheet::Measure;
use super::span::{Span, number, thousandths};
use crate::acceptance::rating::{Rating, Rounding};
use crate::units::{Decibels, Millimetres};

/// The nearest limits that would change what the sheet says.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Margin {
    /// Along the measure; `None` when only a bound of it is known, or when no limit changes anything.
    pub measure: Option<Change<Decibels>>,
    /// Along the length; `None` likewise.
    pub length: Option<Change<Millimetres>>,
}

/// A limit, and what lies beyond it.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Change<Q> {
    /// From the indication to the limit; negative is downward, zero is on the limit.
    pub by: Q,
    /// The verdict beyond it; `None` is undetermined.
    pub verdict: Option<Verdict>,
    /// The class beyond it.
    pub class: Class,
    /// The deciding row beyond it.
    pub row: Option<usize>,
}

/// The distance to the nearest limit that would change the verdict or the class, along the measure and along the
/// length, all else as it is. Where the measure comes in whole decibels, the distance is to the first whole decibel
/// that changes it; [`margin_of_rating`] counts it from the rating as it was before.
///
/// ```
/// use halfskip::acceptance::criteria::*;
/// use halfskip::units::{Decibels, Degrees, Millimetres};
/// let mut rows = heapless::Vec::<Row, 24>::new();
/// let above = Some(Limit { at: Decibels::constant(0.0), included: false });
/// rows.push(Row { measure: Bounds { low: above, high: None }, ..Row::always(Verdict::Reject) }).ok();
/// rows.push(Row::always(Verdict::Accept)).ok();
/// let sheet = Sheet::new(Head::level("invented", "no document", LengthBy::Drop(Decibels::constant(6.0))), rows)?;
/// let facts = Asked {
///     thickness: Millimetres::constant(20.0),
///     angle: Degrees::constant(60.0),
///     measure: Measured::Exact(Decibels::constant(-2.5)),
///     length: LengthAlong::Unknown(Missing::NoLength),
///     depth: Depth::Unknown(Missing::NoDepth),
///     planar: None,
/// };
/// let change = margin(&sheet, &facts).measure.unwrap();
/// assert_eq!((change.by.get(), change.verdict), (2.5, Some(Verdict::Reject)));
/// # Ok::<(), SheetError>(())
/// ```
#[must_use]
pub fn margin(sheet: &Criteria, facts: &Asked) -> Margin {
    found(sheet, facts, if sheet.whole() { Steps::Whole } else { Steps::Thousandths })
}

/// The same for an indication that was rated: where the sheet rounds ratings, the distance along the measure is from the
/// rating before it is rounded to where it would be rounded otherwise.
///
/// Rounded down, d from 2 to 3 dB becomes 2 dB: from 2.9 dB it is 0.9 dB to where it becomes 1 dB, and 0.1 dB to 3 dB.
#[must_use]
pub fn margin_of_rating(sheet: &Criteria, facts: &Asked, rating: &Rating) -> Margin {
    let from = thousandths(rating.unrounded());
    let steps = match sheet.head().measure {
        Measure::Weighted(rule) => match rule.round_d {
            Rounding::None => Steps::Thousandths,
            Rounding::HalfUp => Steps::Rounded { from, half: 500 },
            Rounding::Floor => Steps::Rounded { from, half: 0 },
        },
        Measure::Level => Steps::Thousandths,
    };
    found(sheet, facts, steps)
}

fn found(sheet: &Criteria, facts: &Asked, steps: Steps) -> Margin {
    let known = Known::new(facts);
    let rows = sheet.rows();
    let measures = rows.iter().flat_map(|row| row.measure.stated());
    let lengths = rows
        .iter()
        .flat_map(|row| row.length_limits().map(|limit| limit.at(known.thickness)))
        .filter(|length| *length > 0);
    let measure = nearest(sheet, known, known.measure, measures, steps, |known, value| {
        known.measure = value;
    });
    let length = nearest(sheet, known, known.length, lengths, Steps::Thousandths, |known, value| {
        known.length = value;
    });
    Margin {
        measure: measure.and_then(|found| found.change(|by| Decibels::new(by).ok())),
        length: length.and_then(|found| found.change(|by| Millimetres::new(by).ok())),
    }
}

/// What the values of a fact come in.
#[derive(Clone, Copy)]
enum Steps {
    Thousandths,
    /// Whole decibels.
    Whole,
    /// Whole decibels, each rounded from the thousandths between `half` before it and one decibel on.
    Rounded {
        /// The value before it was rounded.
        from: i32,
        half: i32,
    },
}

impl Steps {
    /// From a value to where another one that was tried begins, past this limit.
    const fn between(self, value: i32, tried: i32, limit: i32) -> i32 {
        let (from, to) = match self {
            Self::Thousandths => (value, limit),
            Self::Whole => (value, tried),
            Self::Rounded { from, half } => {
                let begins = tried.saturating_sub(half);
                (from, if tried < value { begins.saturating_add(1000) } else { begins })
            }
        };
        to.saturating_sub(from)
    }
}

struct Found<'s> {
    by: i32,
    beyond: Judgement<'s>,
}

impl Found<'_> {
    fn change<Q>(&self, quantity: impl Fn(f32) -> Option<Q>) -> Option<Change<Q>> {
        let by = quantity(number(self.by))?;
        Some(match self.beyond {
            Judgement::Holds(number, row) => {
                Change { by, verdict: Some(row.verdict), class: row.class.clone(), row: Some(number) }
            }
            _ => Change { by, verdict: None, class: Class::new(), row: None },
        })
    }
}

/// Tries the values at and next to each limit.
fn nearest<'s>(
    sheet: &'s Criteria,
    known: Known,
    fact: Span,
    limits: impl Iterator<Item = i32>,
    steps: Steps,
    set: impl Fn(&mut Known, Span),
) -> Option<Found<'s>> {
    let now = judge(sheet.rows(), &known);
    let value = fact.value()?;
    let whole = !matches!(steps, Steps::Thousandths);
    let step = if whole { 1000 } else { 1 };
    let mut nearest: Option<(u32, Found<'s>)> = None;
    for limit in limits {
        let limit = if whole { limit.div_euclid(1000).saturating_mul(1000) } else { limit };
        for tried in [limit.saturating_sub(step), limit, limit.saturating_add(step)] {
            let by = steps.between(value, tried, limit);
            // Just past a limit is farther than the limit itself.
            let distance = if whole { by.unsigned_abs() } else { tried.abs_diff(value) };
            if nearest.as_ref().is_some_and(|(least, _)| *least <= distance) {
                continue;
            }
            let mut then = known;
            set(&mut then, Span::exact(tried));
            let beyond = judge(sheet.rows(), &then);
            if !beyond.agrees(&now) {
                nearest = Some((distance, Found { by, beyond }));
            }
        }
    }
    nearest.map(|(_, found)| found)
}

#[cfg(test)]
mod tests {
    use super::super::fixture::*;
    use super::super::{Head, LengthBy, Row, SheetError};
    use super::*;
    use crate::acceptance::rating::{Attenuation, PathUnit, ShorterPath, Weighted};

    fn margin_of(level: f32, length: f32) -> Result<Margin, SheetError> {
        let long =
            Row { measure: between(from(db(-10.0)), None), length_over: fixed_length(10.0), ..reject() };
        let strong = Row { measure: between(over(db(6.0)), None), ..reject() };
        let mut known = facts(level);
        known.length = long_closed(length);
        Ok(margin(&sheet([long, strong, accept()])?, &known))
    }

    fn long_closed(length: f32) -> super::super::LengthAlong {
        long(length, false)
    }

    #[test]
    fn a_length_of_nothing_is_no_distance_away() {
        let any = Row { length_over: fixed_length(0.0), ..reject() };
        let known = Asked { length: long_closed(5.0), ..facts(0.0) };
        assert_eq!(margin(&sheet([any, accept()]).unwrap(), &known).length, None);
    }

    #[test]
    fn the_nearest_limit_that_matters_is_found_in_both_directions() {
        let short = margin_of(2.0, 8.0).unwrap();
        assert_eq!(short.measure.unwrap().by.get(), 4.0);
        let length = short.length.unwrap();
        assert_eq!((length.by.get(), length.verdict), (2.0, Some(Verdict::Reject)));
        let long = margin_of(2.0, 13.5).unwrap();
        assert_eq!(long.measure.unwrap().by.get(), -12.0);
        assert_eq!(long.length.unwrap().by.get(), -3.5);
        // Above 6 dB every length is rejected: no length changes that.
        assert_eq!(margin_of(7.0, 8.0).unwrap().length, None);
    }

    #[test]
    fn on_the_limit_the_margin_is_zero() {
        assert_eq!(margin_of(2.0, 10.0).unwrap().length.unwrap().by.get(), 0.0);
    }

    /// Rejected up to 1 dB, recorded up to 3 dB, accepted above; d = a − 40, rounded.
    fn of_rounded(a: f32, round_d: Rounding) -> (f32, Option<Verdict>) {
        let rule = Weighted {
            attenuation: Attenuation::new(PathUnit::Inch, 2.0, 1.0).unwrap(),
            round: Rounding::HalfUp,
            round_d,
            shorter_path: ShorterPath::Negative,
        };
        let up_to = |limit, row| Row { measure: between(None, from(db(limit))), ..row };
        let rows = [up_to(1.0, reject()), up_to(3.0, Row::always(Verdict::Record)), accept()];
        let head = Head::level("invented", "no document", LengthBy::Drop(db(6.0)));
        let head = Head { measure: Measure::Weighted(rule), ..head };
        let sheet: super::super::Sheet = super::super::Sheet::new(head, rows.into_iter().collect()).unwrap();
        let rating = rule.rate(mm(25.4), db(a), db(40.0)).unwrap();
        let change = margin_of_rating(&sheet, &facts(rating.d.get()), &rating).measure.unwrap();
        (change.by.get(), change.verdict)
    }

    #[test]
    fn a_rounded_rating_is_as_far_from_a_limit_as_the_rating_before_it_is_rounded() {
        use Verdict::{Accept, Reject};
        // Anything below 2 dB is 1 dB, and nothing below 4 dB is.
        assert_eq!(of_rounded(42.0, Rounding::Floor), (0.0, Some(Reject)));
        assert_eq!(of_rounded(42.9, Rounding::Floor), (-0.9, Some(Reject)));
        assert_eq!(of_rounded(43.2, Rounding::Floor), (0.8, Some(Accept)));
        assert_eq!(of_rounded(41.6, Rounding::HalfUp), (-0.1, Some(Reject)));
        assert_eq!(of_rounded(43.25, Rounding::HalfUp), (0.25, Some(Accept)));
        assert_eq!(of_rounded(42.25, Rounding::None), (0.75, Some(Accept)));
    }

    #[test]
    fn a_bound_has_no_margin() {
        let mut known = facts(0.0);
        known.length = long(12.0, true);
        assert_eq!(margin(&sheet([accept()]).unwrap(), &known).length, None);
    }
}
