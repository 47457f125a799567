//! Drawn sheets and cases, and the plain evaluation that they are held against.

use halfskip::acceptance::criteria::{
    Asked, Bounds, Depth, LengthAlong, LengthLimit, Limit, Measured, Multiple, Row, RowShape, RowZone,
    Verdict,
};
use halfskip::units::{Decibels, Degrees, Millimetres};
use halfskip_host_tests::drawn::Drawn;

pub type Rows = heapless::Vec<Row, 8>;

pub fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

pub fn db(value: f32) -> Decibels {
    Decibels::new(value).unwrap()
}

/// One reflector, all of it known.
#[derive(Clone, Copy, Debug)]
pub struct Case {
    pub thickness: f32,
    pub angle: f32,
    pub level: f32,
    pub length: f32,
    pub depth: f32,
    pub planar: bool,
}

impl Case {
    pub fn facts(self) -> Asked {
        Asked {
            thickness: mm(self.thickness),
            angle: Degrees::new(self.angle).unwrap(),
            measure: Measured::Exact(db(self.level)),
            length: LengthAlong::Known { length: mm(self.length), open: false },
            depth: Depth::Within { from: mm(self.depth), to: mm(self.depth) },
            planar: Some(self.planar),
        }
    }
}

pub fn chance(drawn: &mut Drawn, of: u64) -> bool {
    drawn.bits().is_multiple_of(of)
}

/// A number on the half grid from `low` on.
pub fn grid(drawn: &mut Drawn, low: f32, steps: u64) -> f32 {
    low + (drawn.bits() % steps) as f32 * 0.5
}

/// A number on the half grid, or a hundredth beside it.
pub fn near_grid(drawn: &mut Drawn, low: f32, steps: u64) -> f32 {
    grid(drawn, low, steps) + drawn.one_of(&[0.0, 0.0, 0.01, -0.01])
}

/// Cut to what is typed.
pub fn hundredths(value: f32) -> f32 {
    (value * 100.0).round() / 100.0
}

pub fn maybe<T>(drawn: &mut Drawn, make: impl Fn(&mut Drawn) -> T) -> Option<T> {
    chance(drawn, 2).then(|| make(drawn))
}

pub fn bounds<Q>(drawn: &mut Drawn, of: u64, make: impl Fn(&mut Drawn) -> Q) -> Bounds<Q> {
    let mut limit =
        |skip| (drawn.bits() % of >= skip).then(|| Limit { at: make(drawn), included: chance(drawn, 2) });
    Bounds { low: limit(of / 2), high: limit(of / 2) }
}

pub fn length_limit(drawn: &mut Drawn) -> LengthLimit {
    if chance(drawn, 2) {
        LengthLimit::Fixed(mm(grid(drawn, 0.5, 12)))
    } else {
        let (times, divisor) = drawn.one_of(&[(1, 1), (1, 2), (1, 3), (3, 2)]);
        LengthLimit::Thicknesses(Multiple::new(times, divisor).unwrap())
    }
}

pub fn row(drawn: &mut Drawn) -> Row {
    let verdict = drawn.one_of(&[Verdict::Reject, Verdict::Reject, Verdict::Accept, Verdict::Record]);
    Row {
        thickness: bounds(drawn, 4, |drawn| mm(grid(drawn, 2.0, 8))),
        angle: chance(drawn, 4).then(|| Degrees::new(drawn.one_of(&[60.0, 70.0])).unwrap()),
        measure: bounds(drawn, 2, |drawn| db(grid(drawn, -1.0, 5))),
        length_over: maybe(drawn, length_limit),
        length_up_to: maybe(drawn, length_limit),
        zone: drawn.one_of(&[RowZone::Any, RowZone::Any, RowZone::MiddleHalf, RowZone::OuterQuarters]),
        shape: drawn.one_of(&[RowShape::Any, RowShape::Any, RowShape::Planar]),
        class: drawn.one_of(&["", "", "X"]).try_into().unwrap(),
        verdict,
    }
}

pub fn rows(drawn: &mut Drawn) -> Rows {
    let count = 1 + drawn.bits() % 6;
    // Half of the sheets ask for length alone, where multiples of t pass fixed limits.
    let by_length = chance(drawn, 2);
    let mut rows: Rows = (0..count)
        .map(|_| {
            let row = row(drawn);
            if by_length {
                Row {
                    thickness: row.thickness,
                    length_over: row.length_over,
                    length_up_to: row.length_up_to,
                    ..Row::always(row.verdict)
                }
            } else {
                row
            }
        })
        .collect();
    // Most of the others end with a row for all that is left, or nearly all would have holes.
    if !by_length && !chance(drawn, 4) {
        let last = Row {
            thickness: bounds(drawn, 4, |drawn| mm(grid(drawn, 2.0, 8))),
            ..Row::always(drawn.one_of(&[Verdict::Accept, Verdict::Record, Verdict::Reject]))
        };
        rows.push(last).unwrap();
    }
    rows
}

pub fn case(drawn: &mut Drawn) -> Case {
    let thickness = near_grid(drawn, 1.5, 10);
    Case {
        thickness,
        angle: drawn.one_of(&[60.0, 70.0, 45.0]),
        level: near_grid(drawn, -1.5, 7),
        length: near_grid(drawn, 0.5, 14),
        depth: hundredths(thickness * drawn.one_of(&[0.0, 0.2, 0.25, 0.3, 0.5, 0.7, 0.75, 0.8, 1.0])),
        planar: chance(drawn, 2),
    }
}

/// Thousandths as an exact number, so that the plain evaluation compares what was typed.
pub fn typed(value: f32) -> f64 {
    (f64::from(value) * 1000.0).round() / 1000.0
}

pub fn within(low: Option<(f64, bool)>, high: Option<(f64, bool)>, value: f64) -> bool {
    let above = low.is_none_or(|(at, included)| value > at || (included && value == at));
    let below = high.is_none_or(|(at, included)| value < at || (included && value == at));
    above && below
}

pub fn limit_of(limit: LengthLimit, thickness: f64) -> f64 {
    match limit {
        LengthLimit::Fixed(length) => typed(length.get()),
        LengthLimit::Thicknesses(multiple) => {
            let (times, divisor): (u32, u32) = multiple.into();
            (thickness * f64::from(times) / f64::from(divisor) * 1000.0).round() / 1000.0
        }
    }
}

pub fn plainly_holds(row: &Row, case: &Case) -> bool {
    let end = |limit: Limit<Millimetres>| (typed(limit.at.get()), limit.included);
    let level = |limit: Limit<Decibels>| (typed(limit.at.get()), limit.included);
    let (t, length) = (typed(case.thickness), typed(case.length));
    let thousandths = |value: f32| (f64::from(value) * 1000.0).round() as i64;
    let (z, whole) = (4 * thousandths(case.depth), thousandths(case.thickness));
    let middle = z > whole && z < 3 * whole;
    within(row.thickness.low.map(end), row.thickness.high.map(end), t)
        && row.angle.is_none_or(|angle| angle.get() == case.angle)
        && within(row.measure.low.map(level), row.measure.high.map(level), typed(case.level))
        && row.length_over.is_none_or(|limit| length > limit_of(limit, t))
        && row.length_up_to.is_none_or(|limit| length <= limit_of(limit, t))
        && match row.zone {
            RowZone::Any => true,
            RowZone::MiddleHalf => middle,
            RowZone::OuterQuarters => !middle,
        }
        && (row.shape == RowShape::Any || case.planar)
}

pub fn first<'r>(rows: &'r Rows, case: &Case) -> Option<(usize, &'r Row)> {
    (1..).zip(rows).find(|(_, row)| plainly_holds(row, case))
}

/// Whether the sheet's own range, as its documentation draws it, has the case in it.
pub fn in_own_range(rows: &Rows, case: &Case) -> bool {
    let names_angles = rows.iter().any(|row| row.angle.is_some());
    let named = rows.iter().any(|row| row.angle.is_some_and(|angle| angle.get() == case.angle));
    let apply = || rows.iter().filter(|row| row.angle.is_none_or(|angle| angle.get() == case.angle));
    let t = mm(case.thickness);
    let reaches_down = apply().any(|row| Bounds { high: None, ..row.thickness }.contain(t));
    let reaches_up = apply().any(|row| Bounds { low: None, ..row.thickness }.contain(t));
    (!names_angles || named) && reaches_down && reaches_up
}
