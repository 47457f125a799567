//! The measures that the rows of a sheet tell apart, put in order once: of any set of rows the first that holds is found by
//! walking along.

use core::ops::ControlFlow;

use heapless::Vec;

use super::row::Row;

/// A set of rows, the first row in the lowest bit.
pub(super) type Set = u128;

/// The rows that a set has room for.
pub(super) const MOST: usize = Set::BITS as usize;

/// The set of one row.
pub(super) fn only(row: u32) -> Set {
    Set::checked_shl(1, row).unwrap_or(0)
}

/// The first measure of a row, or the first behind its measures.
#[derive(Clone, Copy)]
struct Edge {
    at: i32,
    row: u8,
}

type Edges<const ROWS: usize> = Vec<Edge, ROWS>;

/// The edges of all rows in their order.
pub(super) struct Measures<const ROWS: usize> {
    begins: Edges<ROWS>,
    ends: Edges<ROWS>,
    /// The rows without a lower limit.
    unlimited: Set,
}

/// The same of any capacity.
#[derive(Clone, Copy)]
pub(super) struct Ordered<'m> {
    begins: &'m [Edge],
    ends: &'m [Edge],
    unlimited: Set,
}

impl<const ROWS: usize> Measures<ROWS> {
    pub fn of(rows: &[Row]) -> Self {
        let mut measures = Self { begins: Vec::new(), ends: Vec::new(), unlimited: 0 };
        for (row, number) in rows.iter().zip(0u8..) {
            let span = row.measure.span();
            if span.low == i32::MIN {
                measures.unlimited |= only(u32::from(number));
            } else {
                insert(&mut measures.begins, Edge { at: span.low, row: number });
            }
            if let Some(behind) = span.high.checked_add(1) {
                insert(&mut measures.ends, Edge { at: behind, row: number });
            }
        }
        measures
    }

    pub fn ordered(&self) -> Ordered<'_> {
        Ordered { begins: &self.begins, ends: &self.ends, unlimited: self.unlimited }
    }
}

fn insert<const ROWS: usize>(edges: &mut Edges<ROWS>, edge: Edge) {
    let mut carried = edge;
    for held in edges.iter_mut() {
        if carried.at < held.at {
            core::mem::swap(held, &mut carried);
        }
    }
    // There are no more rows than capacity.
    let _ = edges.push(carried);
}

impl Ordered<'_> {
    /// Tells the measures that the rows of a set tell apart, from the least on: from where, up to where, not included, and
    /// the first row that holds there.
    pub fn each(
        &self,
        rows: Set,
        mut tell: impl FnMut(i32, Option<i32>, Option<usize>) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        let of_set = |edge: &&Edge| rows & only(u32::from(edge.row)) != 0;
        let mut begins = self.begins.iter().filter(of_set).peekable();
        let mut ends = self.ends.iter().filter(of_set).peekable();
        let (mut from, mut holding) = (i32::MIN, rows & self.unlimited);
        loop {
            let next = [begins.peek(), ends.peek()].into_iter().flatten().map(|edge| edge.at).min();
            let first = (holding != 0).then(|| holding.trailing_zeros() as usize);
            tell(from, next, first)?;
            let Some(at) = next else { return ControlFlow::Continue(()) };
            while let Some(begun) = begins.next_if(|edge| edge.at == at) {
                holding |= only(u32::from(begun.row));
            }
            while let Some(ended) = ends.next_if(|edge| edge.at == at) {
                holding &= !only(u32::from(ended.row));
            }
            from = at;
        }
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
