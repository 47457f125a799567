//! A plot in characters: a frame with figures at its axes, and marks in it.

use core::fmt::{self, Write};

use halfskip::units::decimal::Fixed;
use heapless::String;

use crate::answers::mark::{Mark, row};
use crate::answers::page::{Page, Right};

/// Characters across.
pub(super) const COLUMNS: usize = 66;
/// Rows down.
pub(super) const ROWS: usize = 15;
/// Characters of a figure at the left.
const LABEL: usize = 8;
/// Columns from one figure below to the next, and rows from one at the left to the next.
const TICKS: (u8, u8) = (10, 2);

/// What one cell may be worth.
const STEPS: [f32; 24] = [
    0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0,
    500.0, 1e3, 2e3, 5e3, 1e4, 2e4, 5e4,
];

/// An axis whose cells are a round number apart.
#[derive(Clone, Copy)]
pub(super) struct Axis {
    /// The value in the middle of the first cell.
    first: f32,
    /// From one cell to the next; negative where values fall.
    step: f32,
    cells: u8,
}

impl Axis {
    /// An axis of at most so many cells from `low` to `high` at least, with a figure at every cell of `every`.
    fn covering(low: f32, high: f32, cells: usize, every: u8) -> Self {
        for step in STEPS {
            let tick = step * f32::from(every);
            // A hair more, so that a round number is not taken for the one before it.
            let first = whole(low / tick + 1e-4) * tick;
            let needed = (high - first) / step + 1.5;
            if needed <= cells as f32 {
                return Self { first, step, cells: needed as u8 };
            }
        }
        Self { first: low, step: 1.0, cells: 1 }
    }

    /// From left to right.
    pub(super) fn across(low: f32, high: f32) -> Self {
        Self::covering(low, high, COLUMNS, TICKS.0)
    }

    /// From the top down, the greatest first.
    pub(super) fn falling(low: f32, high: f32) -> Self {
        let mirrored = Self::covering(0.0 - high, 0.0 - low, ROWS, TICKS.1);
        Self { first: 0.0 - mirrored.first, step: 0.0 - mirrored.step, ..mirrored }
    }

    /// From the top down, the least first.
    pub(super) fn rising(low: f32, high: f32) -> Self {
        Self::covering(low, high, ROWS, TICKS.1)
    }

    /// The cell of a value.
    pub(super) fn place(&self, value: f32) -> Option<u8> {
        let place = (value - self.first) / self.step + 0.5;
        (place >= 0.0 && place < f32::from(self.cells)).then_some(place as u8)
    }

    /// The value in the middle of a cell.
    pub(super) fn value(&self, cell: u8) -> f32 {
        self.first + f32::from(cell) * self.step
    }

    /// Its cells.
    pub(super) fn cells(&self) -> core::ops::Range<u8> {
        0..self.cells
    }

    /// The figure at a cell, with the decimals that its neighbours need.
    fn figure(&self, cell: u8, every: u8) -> Fixed {
        let apart = self.step.abs() * f32::from(every) * 1.001;
        let places = match apart {
            apart if apart >= 1.0 => 0,
            apart if apart >= 0.1 => 1,
            apart if apart >= 0.01 => 2,
            _ => 3,
        };
        Fixed(self.value(cell), places)
    }
}

/// The whole number at or below one.
fn whole(value: f32) -> f32 {
    // A float turned into an integer stops at its limits.
    let cut = value as i32 as f32;
    if cut > value { cut - 1.0 } else { cut }
}

/// What encloses every point: left, right, low, high.
pub(super) fn bounds(points: impl Iterator<Item = [f32; 4]>) -> Option<[f32; 4]> {
    let least = |a: f32, b: f32| if b < a { b } else { a };
    let most = |a: f32, b: f32| if b > a { b } else { a };
    points.reduce(|[left, right, low, high], [from, to, under, over]| {
        [least(left, from), most(right, to), least(low, under), most(high, over)]
    })
}

/// A plot.
pub(super) struct Chart {
    pub across: Axis,
    pub down: Axis,
    cells: [[Mark; COLUMNS]; ROWS],
}

impl Chart {
    pub(super) const fn new(across: Axis, down: Axis) -> Self {
        Self { across, down, cells: [[Mark::Blank; COLUMNS]; ROWS] }
    }

    fn cell(&mut self, x: f32, y: f32) -> Option<&mut Mark> {
        let (column, row) = (self.across.place(x)?, self.down.place(y)?);
        self.cells.get_mut(usize::from(row))?.get_mut(usize::from(column))
    }

    /// Puts a mark on top.
    pub(super) fn put(&mut self, x: f32, y: f32, mark: Mark) {
        if let Some(cell) = self.cell(x, y) {
            *cell = mark;
        }
    }

    /// Puts a mark where nothing stands yet.
    pub(super) fn under(&mut self, x: f32, y: f32, mark: Mark) {
        if let Some(cell) = self.cell(x, y).filter(|cell| **cell == Mark::Blank) {
            *cell = mark;
        }
    }

    /// A line from left to right, under all that stands there.
    pub(super) fn level(&mut self, y: f32, mark: Mark) {
        for column in self.across.cells() {
            self.under(self.across.value(column), y, mark);
        }
    }

    /// A line from the top down, under all that stands there.
    pub(super) fn upright(&mut self, x: f32, mark: Mark) {
        for row in self.down.cells() {
            self.under(x, self.down.value(row), mark);
        }
    }

    /// Writes the plot and its axes.
    pub(super) fn write(&self, page: &mut Page<'_>, utf8: bool) -> fmt::Result {
        let (side, corner, tick, line) =
            if utf8 { ('│', '└', '┴', '─') } else { ('|', '+', '+', '-') };
        for (cell, marks) in self.down.cells().zip(&self.cells) {
            let figure = self.down.figure(cell, TICKS.1);
            let shown: &dyn fmt::Display = if cell.is_multiple_of(TICKS.1) { &figure } else { &"" };
            write!(page, "{} {side}", Right(LABEL, shown))?;
            row(marks, utf8, page)?;
        }
        write!(page, "{} {corner}", Right(LABEL, &""))?;
        for column in self.across.cells() {
            page.write_char(if column.is_multiple_of(TICKS.0) { tick } else { line })?;
        }
        writeln!(page)?;
        self.figures(page)
    }

    /// The figures below, each around its column.
    fn figures(&self, page: &mut Page<'_>) -> fmt::Result {
        let mut at = 0usize;
        for column in self.across.cells().filter(|column| column.is_multiple_of(TICKS.0)) {
            let mut figure = String::<12>::new();
            write!(figure, "{}", self.across.figure(column, TICKS.0))?;
            let middle = usize::from(column).saturating_add(LABEL + 2);
            let start = middle.saturating_sub(figure.len() / 2);
            while at < start {
                page.write_char(' ')?;
                at = at.saturating_add(1);
            }
            page.write_str(&figure)?;
            at = at.saturating_add(figure.len());
        }
        writeln!(page)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_has_round_steps_and_room_for_its_ends() {
        for (low, high, step, first) in [
            (0.0, 100.0, 2.0, 0.0),
            (112.0, 148.0, 1.0, 110.0),
            (-0.31, 0.42, 0.02, -0.4),
            (5.0, 5.0, 0.001, 5.0),
        ] {
            let axis = Axis::across(low, high);
            assert!(
                (axis.step - step).abs() < 1e-5 && (axis.first - first).abs() < 1e-4,
                "{low} {}",
                axis.step
            );
            assert!(axis.place(low).is_some() && axis.place(high).is_some(), "{low} to {high}");
            assert!(usize::from(axis.cells) <= COLUMNS);
        }
        let down = Axis::falling(-22.0, 7.0);
        assert_eq!((down.first, down.step, down.place(7.0), down.place(-23.0)), (10.0, -5.0, Some(1), None));
    }

    #[test]
    fn the_same_plot_is_drawn_in_ascii_and_with_lines() {
        use halfskip::record::entry::LengthUnit;
        let mut chart = Chart::new(Axis::across(0.0, 19.0), Axis::falling(-2.0, 2.0));
        chart.upright(0.0, Mark::Upright);
        chart.level(0.0, Mark::Level);
        chart.put(10.0, 2.0, Mark::Point);
        let drawn = |utf8| {
            let mut out = std::string::String::new();
            chart.write(&mut Page::new(&mut out, LengthUnit::Mm), utf8).unwrap();
            out
        };
        let (plain, lines) = (drawn(false), drawn(true));
        assert!(
            plain.is_ascii() && lines.contains("│") && lines.contains("×") && lines.contains("┴"),
            "{lines}"
        );
        let widths = |text: &str| text.lines().map(|line| line.chars().count()).collect::<std::vec::Vec<_>>();
        assert_eq!(widths(&plain), widths(&lines));
    }
}
