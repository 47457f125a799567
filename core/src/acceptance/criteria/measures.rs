//! The measures that the rows of a sheet tell apart, put in order once: of any set of rows the first that holds is found by
//! walking along.

use core::ops::ControlFlow;

use super::row::Row;

/// A set of rows, the first row in the lowest bit.
pub(super) type Set = u128;

/// The rows that a set has room for.
pub(super) const MOST: usize = Set::BITS as usize;

/// The set of one row. A device has no such wide numbers: it does this in one place.
#[inline(never)]
pub(super) fn only(row: u8) -> Set {
    Set::checked_shl(1, u32::from(row)).unwrap_or(0)
}

/// The first measure of a row, or the first behind its measures.
#[derive(Clone, Copy)]
struct Edge {
    at: i32,
    row: u8,
}

/// The edges of all rows in their order.
pub(super) struct Measures<const ROWS: usize> {
    edges: [[Edge; 2]; ROWS],
    used: usize,
    /// The rows without a lower limit.
    unlimited: Set,
}

/// The same of any capacity.
#[derive(Clone, Copy)]
pub(super) struct Ordered<'m> {
    edges: &'m [Edge],
    unlimited: Set,
}

impl<const ROWS: usize> Measures<ROWS> {
    pub fn of(rows: &[Row]) -> Self {
        let mut measures = Self { edges: [[Edge { at: 0, row: 0 }; 2]; ROWS], used: 0, unlimited: 0 };
        for (row, number) in rows.iter().zip(0u8..) {
            let span = row.measure.span();
            if span.low == i32::MIN {
                measures.unlimited |= only(number);
            } else {
                measures.insert(Edge { at: span.low, row: number });
            }
            if let Some(behind) = span.high.checked_add(1) {
                measures.insert(Edge { at: behind, row: number });
            }
        }
        measures
    }

    /// Puts an edge in its place; a row has two at most, and there are no more rows than capacity.
    fn insert(&mut self, edge: Edge) {
        let mut carried = edge;
        for held in self.edges.as_flattened_mut().iter_mut().take(self.used) {
            if carried.at < held.at {
                core::mem::swap(held, &mut carried);
            }
        }
        if let Some(free) = self.edges.as_flattened_mut().get_mut(self.used) {
            *free = carried;
            self.used = self.used.saturating_add(1);
        }
    }

    pub fn ordered(&self) -> Ordered<'_> {
        let edges = self.edges.as_flattened().get(..self.used).unwrap_or_default();
        Ordered { edges, unlimited: self.unlimited }
    }
}

impl Ordered<'_> {
    /// Tells the measures that the rows of a set tell apart, from the least on: from where, up to where, not included, and
    /// the first row that holds there.
    pub fn each(
        &self,
        rows: Set,
        mut tell: impl FnMut(i32, Option<i32>, Option<usize>) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        let (mut from, mut holding) = (i32::MIN, rows & self.unlimited);
        let last = core::iter::once(None);
        for edge in self.edges.iter().map(Some).chain(last) {
            let row = edge.map_or(0, |edge| only(edge.row));
            if edge.is_some() && rows & row == 0 {
                continue;
            }
            let to = edge.map(|edge| edge.at);
            if to != Some(from) {
                let first = (holding != 0).then(|| holding.trailing_zeros() as usize);
                tell(from, to, first)?;
            }
            // It begins to hold, or held until here.
            holding ^= row;
            from = to.unwrap_or(from);
        }
        ControlFlow::Continue(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::*;
    use super::super::{Bounds, Row};
    use super::*;

    #[test]
    fn the_first_row_of_a_set_is_told_between_its_own_edges_only() {
        let row = |low, high| Row { measure: Bounds { low, high }, ..accept() };
        let rows = [
            row(from(db(6.0)), over(db(9.0))),
            row(None, over(db(7.0))),
            row(from(db(2.0)), None),
            row(from(db(6.0)), from(db(6.0))),
        ];
        let measures = Measures::<4>::of(&rows);
        let told = |set| {
            let mut told = std::vec::Vec::new();
            let _ = measures.ordered().each(set, |from, to, first| {
                told.push((from, to, first));
                ControlFlow::Continue(())
            });
            told
        };
        let none = i32::MIN;
        assert_eq!(told(0), [(none, None, None)]);
        assert_eq!(told(0b10), [(none, Some(7000), Some(1)), (7000, None, None)]);
        assert_eq!(
            told(0b101),
            [
                (none, Some(2000), None),
                (2000, Some(6000), Some(2)),
                (6000, Some(9000), Some(0)),
                (9000, None, Some(2))
            ]
        );
        assert_eq!(told(0b1000), [(none, Some(6000), None), (6000, Some(6001), Some(3)), (6001, None, None)]);
    }
}
