//! A drawing in characters, made row by row: one row is held at a time, and the points that lie on top of the shape.

use core::fmt;

use halfskip::part::joint::Point;
use heapless::Vec;

use super::COLUMNS;
use crate::answers::mark::{Mark, row};
use crate::answers::page::Page;

/// Points held at once.
const DOTS: usize = 384;

/// What the drawing shows: y from −half to half, z from above to below. A row is twice as high as a column is wide.
#[derive(Clone, Copy)]
pub(super) struct Window {
    half: f32,
    above: f32,
    below: f32,
}

impl Window {
    /// `above` counts up from the scanned face, `below` down from it.
    pub(super) const fn new(half: f32, above: f32, below: f32) -> Self {
        Self { half, above, below }
    }

    pub(super) const fn half(&self) -> f32 {
        self.half
    }

    /// Width of a column, mm.
    pub(super) const fn column(&self) -> f32 {
        2.0 * self.half / COLUMNS as f32
    }

    /// Height of a row, mm.
    pub(super) const fn row(&self) -> f32 {
        2.0 * self.column()
    }

    fn rows(&self) -> u8 {
        // The faces lie in the middle of rows: half a row more on either end.
        let rows = (self.above + self.below) / self.row() + 1.5;
        // A float turned into an integer stops at its limits.
        rows as u8
    }

    fn row_of(&self, z: f32) -> Option<u8> {
        let row = (z + self.above) / self.row() + 0.5;
        (row >= 0.0 && row < f32::from(self.rows())).then_some(row as u8)
    }

    fn column_of(&self, y: f32) -> Option<u8> {
        let column = (y + self.half) / self.column();
        (column >= 0.0 && column < COLUMNS as f32).then_some(column as u8)
    }

    /// The depths of a row.
    fn depths(&self, row: u8) -> (f32, f32) {
        let top = (f32::from(row) - 0.5) * self.row() - self.above;
        (top, top + self.row())
    }
}

/// One row of the drawing, and the points that lie on it.
pub(super) struct Canvas {
    window: Window,
    row: [Mark; COLUMNS],
    dots: Vec<(u8, u8, Mark), DOTS>,
    full: bool,
}

impl Canvas {
    pub(super) const fn new(window: Window) -> Self {
        Self { window, row: [Mark::Blank; COLUMNS], dots: Vec::new(), full: false }
    }

    pub(super) const fn window(&self) -> &Window {
        &self.window
    }

    pub(super) fn rows(&self) -> u8 {
        self.window.rows()
    }

    /// Whether points found no room.
    pub(super) const fn is_full(&self) -> bool {
        self.full
    }

    /// Whether a stand-off lies beside the drawing.
    pub(super) const fn is_outside(&self, standoff: f32) -> bool {
        standoff > self.window.half
    }

    pub(super) fn clear(&mut self) {
        self.row = [Mark::Blank; COLUMNS];
    }

    /// Adds a point; one outside the window, or where one like it lies, is not needed.
    pub(super) fn dot(&mut self, at: Point, mark: Mark) {
        let (Some(row), Some(column)) = (self.window.row_of(at.z), self.window.column_of(at.y)) else {
            return;
        };
        let held = (row, column, mark);
        if self.dots.last() != Some(&held) {
            self.full |= self.dots.push(held).is_err();
        }
    }

    /// Lays the points of a row on top.
    pub(super) fn dots(&mut self, row: u8) {
        for (_, column, mark) in self.dots.iter().filter(|(at, ..)| *at == row) {
            if let Some(cell) = self.row.get_mut(usize::from(*column)) {
                *cell = *mark;
            }
        }
    }

    /// Draws the part of a straight line that lies in a row.
    pub(super) fn line(&mut self, row: u8, from: Point, to: Point, mark: Mark) {
        let (top, bottom) = self.window.depths(row);
        let (high, low) = if from.z <= to.z { (from, to) } else { (to, from) };
        let within = |z: f32| z >= top && z < bottom;
        let height = low.z - high.z;
        let at =
            |z: f32| if height > 0.0 { high.y + (low.y - high.y) * ((z - high.z) / height) } else { high.y };
        let (start, end) = match (within(high.z), within(low.z)) {
            (true, true) => (high.y, low.y),
            (true, false) => (high.y, at(bottom)),
            (false, true) => (at(top), low.y),
            (false, false) if high.z < top && low.z >= bottom => (at(top), at(bottom)),
            (false, false) => return,
        };
        let mark = match mark {
            // Steep enough to look upright within one row.
            Mark::Upright if (end - start).abs() < 0.5 * self.window.column() => Mark::Upright,
            Mark::Upright if end > start => Mark::Falling,
            Mark::Upright => Mark::Rising,
            mark => mark,
        };
        let (left, right) = if start <= end { (start, end) } else { (end, start) };
        if mark == Mark::Falling || mark == Mark::Rising {
            // A slope is one character a row.
            return self.put(0.5 * (left + right), mark);
        }
        let column = self.window.column();
        self.put(left, mark);
        let mut y = left;
        while y < right {
            self.put(y, mark);
            y += column;
        }
        self.put(right - 0.001 * column, mark);
    }

    fn put(&mut self, y: f32, mark: Mark) {
        let cell = self.window.column_of(y).and_then(|column| self.row.get_mut(usize::from(column)));
        if let Some(cell) = cell {
            *cell = mark;
        }
    }

    /// Writes the row.
    pub(super) fn write(&self, page: &mut Page<'_>, utf8: bool) -> fmt::Result {
        row(&self.row, utf8, page)
    }
}
