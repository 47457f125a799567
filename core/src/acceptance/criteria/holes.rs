//! The hole finder: visits one case of every kind that a sheet tells apart.
//!
//! A condition changes its answer only at an edge: the first thousandth of its range, or the first behind it. Between
//! two neighbouring edges all cases are alike, so one of each such cell stands for all of them. A length limit in
//! multiples of t moves with t: the thicknesses where it passes a fixed limit are edges too. Where it meets one
//! exactly, no case arises that the neighbouring cells have not shown.

use core::ops::ControlFlow;

use super::error::RowGap;
use super::facts::Known;
use super::limit::LengthLimit;
use super::measures::{Measures, Ordered, only};
use super::row::{Answer, Row, RowShape, RowZone};
use super::span::{Span, Truth, number, thousandths};

/// The first case of the sheet's own range that no row decides.
pub(super) fn find<const ROWS: usize>(rows: &[Row], whole: bool) -> Option<RowGap> {
    let mut hole = None;
    let names_angles = rows.iter().any(|row| row.angle.is_some());
    let measures = Measures::<ROWS>::of(rows);
    let _ = visit(rows, measures.ordered(), whole, &mut |known, measure, first| {
        // Once a row names an angle, the angles that no row names are outside the sheet's own range.
        if first.is_some() || (names_angles && known.angle.is_none()) {
            return ControlFlow::Continue(());
        }
        let measure = measure.case(whole).map_or(Span::ALL, Span::exact);
        hole = Some(describe(rows, &Known { measure, ..*known }));
        ControlFlow::Break(())
    });
    hole
}

/// A bit for each row that is first to hold in no case.
pub(super) fn unreachable<const ROWS: usize>(rows: &[Row], whole: bool) -> [u32; 4] {
    let bit = |index: usize| (index / 32, 1 << (index % 32));
    let mut never = [0; 4];
    for (word, bit) in (0..rows.len()).map(bit) {
        if let Some(word) = never.get_mut(word) {
            *word |= bit;
        }
    }
    let measures = Measures::<ROWS>::of(rows);
    let _ = visit(rows, measures.ordered(), whole, &mut |_, _, first| {
        if let Some((word, bit)) = first.map(bit)
            && let Some(word) = never.get_mut(word)
        {
            *word &= !bit;
        }
        ControlFlow::Continue(())
    });
    never
}

/// Cases that behave alike: from one edge up to, not including, the next.
#[derive(Clone, Copy)]
struct Cell {
    from: i32,
    to: Option<i32>,
}

/// The cells from `from` on; `next` finds the first edge after a value.
fn cells(from: i32, next: impl Fn(i32) -> Option<i32>) -> impl Iterator<Item = Cell> {
    let cell = move |from| Cell { from, to: next(from) };
    let first = cell(from);
    core::iter::successors(Some(first), move |before| before.to.map(&cell))
}

/// The nearest multiple of `STEP` at or below.
fn below<const STEP: i32>(value: i32) -> i32 {
    value.div_euclid(STEP).saturating_mul(STEP)
}

impl Cell {
    /// A case that is easy to read: near the middle, or a unit beyond an end; in as few digits as fit.
    fn middle(self) -> i32 {
        let middle = match (self.from, self.to) {
            (i32::MIN, None) => 0,
            (i32::MIN, Some(to)) => to.saturating_sub(1),
            (from, None) => from.saturating_add(1000),
            (from, Some(to)) => {
                i32::try_from((i64::from(from) + i64::from(to)).div_euclid(2)).unwrap_or(from)
            }
        };
        let rounded = [below::<1000>(middle), below::<100>(middle), below::<10>(middle)];
        let fits = rounded.into_iter().find(|rounded| *rounded >= self.from);
        fits.unwrap_or(middle)
    }

    /// A case of the cell; none where it must be a whole unit and there is none.
    fn case(self, whole: bool) -> Option<i32> {
        if whole { self.whole() } else { Some(self.middle()) }
    }

    /// A whole unit of the cell, if it has one.
    fn whole(self) -> Option<i32> {
        if self.from == i32::MIN {
            return Some(below::<1000>(self.middle()));
        }
        let first = below::<1000>(self.from.saturating_add(999));
        (self.to.is_none_or(|to| first < to)).then_some(first)
    }
}

/// The first edge after a value, of the ranges that `spans` yields.
fn next_edge(spans: impl Iterator<Item = Span>, after: i32) -> Option<i32> {
    spans.flat_map(Span::edges).filter(|edge| *edge > after).min()
}

/// The first thickness after a value at which a multiple of t passes a fixed length.
fn next_crossing<'s>(rows: impl Iterator<Item = &'s Row> + Clone, after: i32) -> Option<i32> {
    let limits = rows.flat_map(Row::length_limits);
    let fixed = limits.clone().filter_map(|limit| match limit {
        LengthLimit::Fixed(_) => Some(limit.at(0)),
        LengthLimit::Thicknesses(_) => None,
    });
    let multiples = limits.filter_map(|limit| match limit {
        LengthLimit::Fixed(_) => None,
        LengthLimit::Thicknesses(multiple) => Some(multiple),
    });
    multiples
        .flat_map(|multiple| {
            let reach = fixed.clone();
            reach
                .flat_map(|length| [length, length.saturating_add(1)])
                .filter_map(move |length| multiple.reaching(length))
        })
        .filter(|thickness| *thickness > after)
        .min()
}

fn earlier(one: Option<i32>, other: Option<i32>) -> Option<i32> {
    one.into_iter().chain(other).min()
}

type Each<'f> = &'f mut dyn FnMut(&Known, Cell, Option<usize>) -> ControlFlow<()>;

/// Calls `each` with every case, its measures apart, and the index of the first row that holds in it. The last angle is one
/// that no row names.
fn visit(rows: &[Row], measures: Ordered<'_>, whole: bool, each: Each<'_>) -> ControlFlow<()> {
    let named = rows.iter().zip(0usize..).filter_map(|(row, index)| {
        let angle = thousandths(row.angle?.get());
        let seen = rows.iter().take(index).any(|row| row.angle.is_some() && row.is_for(Some(angle)));
        (!seen).then_some(angle)
    });
    for angle in named.map(Some).chain([None]) {
        let apply = rows.iter().filter(move |row| row.is_for(angle));
        let spans = apply.clone().map(|row| row.thickness.span());
        let low = spans.clone().map(|span| span.low).min();
        let high = spans.clone().map(|span| span.high).max();
        let (Some(low), Some(high)) = (low, high) else {
            continue;
        };
        let next = |after| earlier(next_edge(spans.clone(), after), next_crossing(apply.clone(), after));
        // Nothing is thinner than a thousandth.
        for cell in cells(low.max(1), next).take_while(|cell| cell.from <= high) {
            visit_thickness(rows, measures, whole, angle, cell.middle(), each)?;
        }
    }
    ControlFlow::Continue(())
}

fn visit_thickness(
    rows: &[Row],
    measures: Ordered<'_>,
    whole: bool,
    angle: Option<i32>,
    thickness: i32,
    each: Each<'_>,
) -> ControlFlow<()> {
    let asks_zone = rows.iter().any(|row| row.zone != RowZone::Any);
    let asks_shape = rows.iter().any(|row| row.shape != RowShape::Any);
    let zones = [RowZone::MiddleHalf, RowZone::OuterQuarters];
    for zone in zones.into_iter().take(if asks_zone { 2 } else { 1 }) {
        for planar in [false, true].into_iter().take(if asks_shape { 2 } else { 1 }) {
            let known = Known {
                thickness,
                angle,
                measure: Span::ALL,
                length: Span::ALL,
                zone: Some(zone),
                planar: Some(planar),
            };
            visit_lengths(rows, measures, whole, known, each)?;
        }
    }
    ControlFlow::Continue(())
}

fn visit_lengths(
    rows: &[Row],
    measures: Ordered<'_>,
    whole: bool,
    mut known: Known,
    each: Each<'_>,
) -> ControlFlow<()> {
    let outer = known;
    let apply = rows.iter().zip(0u8..).filter(move |(row, _)| row.answer(&outer) != Answer::Fails);
    let spans = apply.map(|(row, number)| (row.length_span(outer.thickness), number));
    // A length is above zero.
    for cell in cells(1, |after| next_edge(spans.clone().map(|(span, _)| span), after)) {
        let length = Span::exact(cell.middle());
        known.length = length;
        let held = spans.clone().filter(|(span, _)| span.holds(length) == Truth::Yes);
        let held = held.fold(0, |set, (_, number)| set | only(number));
        measures.each(held, |from, to, first| {
            let cell = Cell { from, to };
            if whole && cell.whole().is_none() {
                ControlFlow::Continue(())
            } else {
                each(&known, cell, first)
            }
        })?;
    }
    ControlFlow::Continue(())
}

/// The case in the units of the trade, without what the sheet never asks about.
fn describe(rows: &[Row], known: &Known) -> RowGap {
    let asks = |what: fn(&Row) -> bool| rows.iter().any(what);
    let multiple = |row: &Row| row.length_limits().any(|limit| matches!(limit, LengthLimit::Thicknesses(_)));
    let thickness = rows.iter().any(|row| multiple(row) || row.thickness.span() != Span::ALL);
    let length = asks(|row| row.length_limits().next().is_some());
    let measure = asks(|row| row.measure.span() != Span::ALL);
    RowGap {
        thickness: thickness.then(|| number(known.thickness)),
        angle: known.angle.map(number),
        measure: known.measure.value().filter(|_| measure).map(number),
        length: known.length.value().filter(|_| length).map(number),
        zone: known.zone.filter(|_| asks(|row| row.zone != RowZone::Any)),
        planar: known.planar.filter(|_| asks(|row| row.shape != RowShape::Any)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::*;
    use super::super::{Bounds, LengthLimit, Multiple, SheetError};
    use super::*;
    use crate::units::Degrees;
    use std::string::{String, ToString};

    fn hole<const N: usize>(rows: [Row; N]) -> String {
        sheet(rows).map(|_| ()).unwrap_err().to_string()
    }

    fn thick(low: f32, high: f32) -> Row {
        Row { thickness: between(from(mm(low)), over(mm(high))), ..reject() }
    }

    #[test]
    fn a_gap_between_thicknesses_is_named_to_the_point() {
        let above = Row { thickness: between(over(mm(15.0)), from(mm(50.0))), ..reject() };
        assert_eq!(hole([thick(8.0, 15.0), above]), "no row decides thickness 15 mm");
        assert_eq!(hole([thick(8.0, 15.0), thick(20.0, 30.0)]), "no row decides thickness 17 mm");
        assert!(sheet([thick(8.0, 15.0), thick(15.0, 30.0)]).is_ok());
    }

    #[test]
    fn a_gap_of_measure_length_zone_or_shape_is_named() {
        let loud = Row { measure: between(over(db(3.0)), None), ..reject() };
        let quiet = Row { measure: between(None, over(db(3.0))), ..accept() };
        assert_eq!(hole([loud, quiet]), "no row decides measure 3 dB");
        let long = Row { length_over: fixed_length(10.0), ..reject() };
        assert_eq!(hole([long]), "no row decides length 5 mm");
        let middle = Row { zone: RowZone::MiddleHalf, ..reject() };
        assert_eq!(hole([middle]), "no row decides outer quarters");
        let planar = Row { shape: RowShape::Planar, ..reject() };
        assert_eq!(hole([planar]), "no row decides not planar");
    }

    #[test]
    fn each_angle_has_its_own_range() {
        let at = |angle: f32, row: Row| Row { angle: Some(Degrees::constant(angle)), ..row };
        let thin_60 = at(60.0, thick(8.0, 15.0));
        assert!(sheet([thin_60.clone(), at(70.0, thick(8.0, 30.0))]).is_ok());
        assert_eq!(
            hole([thin_60.clone(), at(60.0, thick(20.0, 30.0)), at(70.0, thick(8.0, 30.0))]),
            "no row decides thickness 17 mm, angle 60 deg"
        );
        assert!(sheet([thin_60, thick(8.0, 30.0)]).is_ok());
    }

    #[test]
    fn a_multiple_of_t_leaves_a_hole_only_where_it_falls_short() {
        let half = Some(LengthLimit::Thicknesses(Multiple::new(1, 2).unwrap()));
        let pair = |from| {
            let long = Row { length_over: fixed_length(10.0), ..thick(from, 30.0) };
            let short = Row { length_up_to: half, ..thick(from, 30.0) };
            [long, short]
        };
        // t/2 reaches 10 mm from t = 20 mm on: below that, lengths between t/2 and 10 mm meet no row.
        assert_eq!(hole(pair(18.0)), "no row decides thickness 18 mm, length 9.5 mm");
        assert!(sheet(pair(20.0)).is_ok());
    }

    #[test]
    fn rows_of_whole_decibels_need_a_whole_measure() {
        let step = |low, high| Row { measure: Bounds { low, high }, ..accept() };
        let rows = [step(None, from(db(5.0))), step(from(db(6.0)), None)];
        assert_eq!(find::<2>(&rows, true), None);
        assert_eq!(find::<2>(&rows, false).unwrap().measure, Some(5.5));
        let gap = [step(None, from(db(5.0))), step(from(db(7.0)), None)];
        assert_eq!(find::<2>(&gap, true).unwrap().measure, Some(6.0));
    }

    #[test]
    fn a_covered_row_is_told_and_a_contradiction_refused() {
        let late = sheet([accept(), thick(8.0, 15.0)]).unwrap();
        assert!(late.unreachable_rows().eq([2]));
        assert_eq!(hole([thick(15.0, 15.0)]), "row 1: no thickness lies within its limits");
        assert_eq!(sheet([]).unwrap_err(), SheetError::Empty);
    }

    #[test]
    fn a_row_of_parts_thinner_than_a_thousandth_is_none() {
        let thin = |at: f32| hole([accept(), Row { thickness: between(None, from(mm(at))), ..accept() }]);
        assert_eq!(thin(0.0), "row 2: no thickness lies within its limits");
        let least = Row { thickness: between(None, from(mm(0.001))), ..accept() };
        assert!(sheet([least, accept()]).is_ok());
    }
}
