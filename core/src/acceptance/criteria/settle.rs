//! Whether a fact that a sheet asks for would settle its verdict, whatever the fact turns out to be.

use super::decide::{Because, Decision, Need, explain};
use super::facts::{Asked, Known};
use super::row::{Row, RowZone};
use super::sheet::Criteria;
use super::span::Span;

/// What the sheet would still ask, or why it would still say nothing, once `need` is known: in the first case that a row
/// tells apart from the others. None when some row decides in every case, all else as it is.
///
/// A level or a rating becomes exact, a length one with both ends, not shorter than what was seen of it, a depth one in a
/// single zone. A condition changes its answer only at an edge, so one case next to each edge stands for all of them.
///
/// ```
/// use halfskip::acceptance::criteria::*;
/// use halfskip::units::{Decibels, Degrees, Millimetres};
/// let mut rows = heapless::Vec::<Row, 24>::new();
/// let above = |at| Bounds { low: Some(Limit { at: Decibels::constant(at), included: false }), high: None };
/// let longer = Some(LengthLimit::Fixed(Millimetres::constant(10.0)));
/// rows.push(Row { measure: above(0.0), length_over: longer, ..Row::always(Verdict::Reject) }).ok();
/// rows.push(Row::always(Verdict::Accept)).ok();
/// let sheet = Sheet::new(Head::level("invented", "no document", LengthBy::Drop(Decibels::constant(6.0))), rows)?;
/// let unknown = Measured::Unknown(Missing::NoLevel);
/// let facts = Asked {
///     thickness: Millimetres::constant(20.0),
///     angle: Degrees::constant(60.0),
///     measure: unknown,
///     length: LengthAlong::Unknown(Missing::NoLength),
///     depth: Depth::Unknown(Missing::NoDepth),
///     planar: None,
/// };
/// // A level above 0 dB leaves the length to be asked for, a length above 10 mm the level.
/// assert!(matches!(open_after(&sheet, &facts, &Need::Level(unknown)), Some(Because::Needs { row: 1, .. })));
/// let known = Asked { measure: Measured::Exact(Decibels::constant(3.0)), ..facts };
/// assert_eq!(open_after(&sheet, &known, &Need::Length(known.length)), None);
/// # Ok::<(), SheetError>(())
/// ```
#[must_use]
pub fn open_after(sheet: &Criteria, facts: &Asked, need: &Need) -> Option<Because> {
    let known = Known::new(facts);
    let open = |known: Known| {
        let Decision { verdict, because, .. } = explain(sheet, facts, &known);
        verdict.is_none().then_some(because)
    };
    let rows = sheet.rows().iter();
    match need {
        Need::Level(_) | Need::Rating(_) => {
            let edges = rows.flat_map(|row| row.measure.span().edges());
            let asked = |edge| if sheet.whole() { whole_above(edge) } else { edge };
            let cases = core::iter::once(i32::MIN).chain(edges.map(asked));
            cases.map(Span::exact).find_map(|measure| open(Known { measure, ..known }))
        }
        Need::Length(_) => {
            let least = known.length.low;
            let edges = rows.flat_map(|row: &Row| row.length_span(known.thickness).edges());
            let cases = core::iter::once(least).chain(edges.filter(|edge| *edge > least));
            cases.map(Span::exact).find_map(|length| open(Known { length, ..known }))
        }
        Need::Depth(_) => [RowZone::MiddleHalf, RowZone::OuterQuarters]
            .into_iter()
            .find_map(|zone| open(Known { zone: Some(zone), ..known })),
        Need::Shape => {
            [true, false].into_iter().find_map(|planar| open(Known { planar: Some(planar), ..known }))
        }
    }
}

/// The first whole number at a value in thousandths or above it.
const fn whole_above(value: i32) -> i32 {
    value.saturating_add(999).div_euclid(1000).saturating_mul(1000)
}

#[cfg(test)]
mod tests {
    use super::super::fixture::*;
    use super::super::{Measured, Missing, RowShape};
    use super::*;
    use std::string::ToString;

    #[test]
    fn a_row_between_two_whole_decibels_is_not_missed() {
        let tenths = between(from(db(2.1)), over(db(2.4)));
        let narrow = Row { measure: tenths, length_over: fixed_length(10.0), ..reject() };
        let sheet = sheet([narrow, accept()]).unwrap();
        let known = Asked { measure: Measured::Unknown(Missing::NoLevel), ..facts(0.0) };
        let open = open_after(&sheet, &known, &Need::Level(known.measure)).unwrap();
        assert_eq!(open.to_string(), "row 1 needs the length: no length along the weld was found");
        let known = Asked { length: long(9.0, false), ..known };
        assert_eq!(open_after(&sheet, &known, &Need::Level(known.measure)), None);
    }

    #[test]
    fn a_limit_far_beyond_the_length_that_was_seen_is_not_missed() {
        let longest = Row { length_over: fixed_length(300.0), shape: RowShape::Planar, ..reject() };
        let sheet = sheet([longest, accept()]).unwrap();
        for length in [facts(0.0).length, long(12.0, true)] {
            let known = Asked { length, ..facts(0.0) };
            let open = open_after(&sheet, &known, &Need::Length(length)).unwrap();
            assert!(open.to_string().starts_with("row 1 needs the shape"), "{open}");
            let known = Asked { planar: Some(true), ..known };
            assert_eq!(open_after(&sheet, &known, &Need::Length(length)), None);
        }
    }
}
