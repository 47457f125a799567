//! What no beam crosses: connected patches of cells, each with what is in the way.

use core::fmt;

use heapless::Vec;

use super::{COLUMNS, Cell, Grid};
use crate::math;
use crate::part::joint::Point;
use crate::planning::plan::Barrier;

/// What keeps beams from a place, of all that look at it.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Reasons(u8);

impl Reasons {
    const CAP: u8 = 1;
    const RANGE: u8 = 2;
    const BORE: u8 = 4;
    const NOT_SCANNED: u8 = 8;
    const CENTRELINE: u8 = 16;
    const TURN: u8 = 32;
    const SHORT: u8 = 64;
    const WORDS: [(u8, &str); 7] = [
        (Self::CAP, "cap in the way"),
        (Self::TURN, "cap or bead where it turns"),
        (Self::CENTRELINE, "beyond the centreline"),
        (Self::BORE, "bore missed"),
        (Self::RANGE, "beyond range"),
        (Self::SHORT, "no reference so near"),
        (Self::NOT_SCANNED, "not scanned"),
    ];

    /// Adds a reason.
    pub const fn add(&mut self, barrier: &Barrier) {
        self.0 |= match barrier {
            Barrier::Cap { .. } => Self::CAP,
            Barrier::Range { .. } => Self::RANGE,
            Barrier::Short { .. } => Self::SHORT,
            Barrier::Turn { .. } => Self::TURN,
            Barrier::BoreMissed { .. } => Self::BORE,
            Barrier::NotScanned => Self::NOT_SCANNED,
            Barrier::Centreline => Self::CENTRELINE,
        };
    }

    /// Each reason in words.
    pub fn words(&self) -> impl Iterator<Item = &'static str> + use<> {
        let bits = self.0;
        Self::WORDS.into_iter().filter(move |(bit, _)| bits & bit != 0).map(|(_, word)| word)
    }
}

impl fmt::Display for Reasons {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut words = self.words();
        f.write_str(words.next().unwrap_or("no beam looks there"))?;
        words.try_for_each(|word| write!(f, ", {word}"))
    }
}

/// A patch that no beam crosses.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Hole {
    /// Its corner toward side A and the scanned face.
    pub from: Point,
    /// Its corner toward side B and the far face.
    pub to: Point,
    /// Its area, mm².
    pub area: f32,
    /// What keeps the beams from it.
    pub reasons: Reasons,
    /// The patch that it turned out to be a part of, by its place.
    joined: Option<u8>,
}

/// Gathers holes from the cells of a [`survey`](super::survey), `N` patches at once at most.
///
/// Cells that touch along a side are one patch. When a raster has more patches at once than fit, the area of what does
/// not fit is kept apart: see [`unlisted`](Self::unlisted).
#[derive(Clone, Debug)]
pub struct Holes<const N: usize = 16> {
    patches: Vec<Hole, N>,
    above: [Option<u8>; COLUMNS as usize],
    row: u8,
    last: Option<(u8, u8)>,
    current: [Option<u8>; COLUMNS as usize],
    half: (f32, f32),
    unlisted: f32,
}

impl<const N: usize> Holes<N> {
    /// No holes yet, on a raster.
    #[must_use]
    pub fn new(grid: &Grid) -> Self {
        Self {
            patches: Vec::new(),
            above: [None; COLUMNS as usize],
            row: 0,
            last: None,
            current: [None; COLUMNS as usize],
            half: (0.5 * grid.column(), 0.5 * grid.row()),
            unlisted: 0.0,
        }
    }

    /// Takes a cell, in the order of the survey.
    pub fn take(&mut self, cell: &Cell) {
        if cell.row != self.row {
            // A row that was passed over leaves nothing above.
            let follows = cell.row == self.row.saturating_add(1);
            self.above = if follows { self.current } else { [None; COLUMNS as usize] };
            self.current = [None; COLUMNS as usize];
            (self.row, self.last) = (cell.row, None);
        }
        if cell.crossed {
            return;
        }
        let column = usize::from(cell.column);
        let beside = self.last.filter(|(at, _)| at.saturating_add(1) == cell.column).map(|(_, patch)| patch);
        let above = self.above.get(column).copied().flatten().map(|patch| self.root(patch));
        let patch = match (beside.map(|patch| self.root(patch)), above) {
            (Some(one), Some(other)) if one != other => self.join(one, other),
            (Some(one), _) | (None, Some(one)) => Some(one),
            (None, None) => self.start(cell),
        };
        let Some(patch) = patch else {
            self.unlisted += cell.area;
            return;
        };
        self.grow(patch, cell);
        self.last = Some((cell.column, patch));
        if let Some(held) = self.current.get_mut(column) {
            *held = Some(patch);
        }
    }

    fn root(&self, mut patch: u8) -> u8 {
        // Every join points to an earlier patch, so that this ends.
        while let Some(joined) = self.patches.get(usize::from(patch)).and_then(|hole| hole.joined) {
            patch = joined;
        }
        patch
    }

    fn start(&mut self, cell: &Cell) -> Option<u8> {
        let place = u8::try_from(self.patches.len()).ok()?;
        let hole = Hole { from: cell.at, to: cell.at, area: 0.0, reasons: Reasons::default(), joined: None };
        self.patches.push(hole).ok().map(|()| place)
    }

    fn grow(&mut self, patch: u8, cell: &Cell) {
        let (across, down) = self.half;
        if let Some(hole) = self.patches.get_mut(usize::from(patch)) {
            let low = Point { y: cell.at.y - across, z: cell.at.z - down };
            let high = Point { y: cell.at.y + across, z: cell.at.z + down };
            enclose(hole, low, high);
            hole.area += cell.area;
            hole.reasons.0 |= cell.kept.0;
        }
    }

    /// Joins two patches; the earlier one remains.
    fn join(&mut self, one: u8, other: u8) -> Option<u8> {
        let (kept, gone) = if one < other { (one, other) } else { (other, one) };
        let joined = self.patches.get_mut(usize::from(gone))?;
        joined.joined = Some(kept);
        let part = *joined;
        let hole = self.patches.get_mut(usize::from(kept))?;
        enclose(hole, part.from, part.to);
        hole.area += part.area;
        hole.reasons.0 |= part.reasons.0;
        Some(kept)
    }

    /// The holes, in the order in which they begin from the top.
    pub fn iter(&self) -> impl Iterator<Item = &Hole> + Clone {
        self.patches.iter().filter(|hole| hole.joined.is_none())
    }

    /// The area of holes that did not fit, mm².
    #[must_use]
    pub const fn unlisted(&self) -> f32 {
        self.unlisted
    }
}

fn enclose(hole: &mut Hole, low: Point, high: Point) {
    hole.from = Point { y: math::smaller(hole.from.y, low.y), z: math::smaller(hole.from.z, low.z) };
    hole.to = Point { y: math::larger(hole.to.y, high.y), z: math::larger(hole.to.z, high.z) };
}

#[cfg(test)]
mod tests {
    use super::super::CellZone;
    use super::*;
    use crate::part::joint::{Joint, JointSpec, Preparation};
    use crate::units::Millimetres;

    /// Cells that no beam crosses, by column, row and bit of the reason.
    fn holes(cells: &[(u8, u8, u8)]) -> Holes {
        let mm = Millimetres::constant;
        let spec = JointSpec { gap: Some(mm(2.0)), ..JointSpec::new(mm(20.0), Preparation::Square) };
        let mut holes = Holes::new(&Grid::new(&Joint::new(spec).unwrap()).unwrap());
        for &(column, row, reason) in cells {
            holes.take(&Cell {
                column,
                row,
                at: Point { y: column.into(), z: row.into() },
                area: 1.0,
                zone: CellZone::Body,
                crossed: false,
                twice: false,
                legs: [false; 3],
                kept: Reasons(reason),
            });
        }
        holes
    }

    #[test]
    fn patches_that_meet_further_down_are_one_in_the_place_of_the_earlier() {
        let (cap, range, bore) = (Reasons::CAP, Reasons::RANGE, Reasons::BORE);
        let first_row = [(0, 0, cap), (2, 0, range), (4, 0, bore)];
        let second_row = [(0, 1, cap), (4, 1, bore)];
        let third_row = [0, 1, 2, 3, 4].map(|column| (column, 2, cap));
        let holes = holes(&[&first_row[..], &second_row, &third_row].concat());
        let found: std::vec::Vec<_> = holes.iter().map(|hole| (hole.area, hole.reasons.0)).collect();
        assert_eq!(found, [(9.0, cap | bore), (1.0, range)]);
    }
}
