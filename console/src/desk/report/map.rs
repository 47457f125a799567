//! The volume that a coverage looked at, cell by cell.

use std::vec::Vec;

use halfskip::planning::coverage::Cell;

/// What was found of a cell.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Ways {
    /// Not at all.
    None,
    /// In one direction.
    One,
    /// In two.
    Two,
}

/// A run of cells of one row that are alike.
pub struct Run {
    pub row: u8,
    pub from: u8,
    pub to: u8,
    pub ways: Ways,
}

/// The cells of the volume looked at, in runs.
#[derive(Default)]
pub struct Map {
    /// In the order of the cells.
    pub runs: Vec<Run>,
}

impl Map {
    /// Takes the next cell.
    pub fn take(&mut self, cell: &Cell) {
        let ways = match (cell.crossed, cell.twice) {
            (false, _) => Ways::None,
            (true, false) => Ways::One,
            (true, true) => Ways::Two,
        };
        let alike = |run: &&mut Run| {
            run.row == cell.row && run.ways == ways && run.to.saturating_add(1) == cell.column
        };
        match self.runs.last_mut().filter(alike) {
            Some(run) => run.to = cell.column,
            None => self.runs.push(Run { row: cell.row, from: cell.column, to: cell.column, ways }),
        }
    }
}
