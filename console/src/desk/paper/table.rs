//! A table over as many sheets as it takes, its head repeated on each.

use std::string::String;
use std::vec::Vec;

use super::flow::{Flow, LINE, TYPE};
use super::{words, wrap};
use crate::desk::drawing::face::Face;
use crate::desk::drawing::{Align, Ink, Pen, larger};
use crate::desk::report::document::{Cell, Column, Row, Table};

/// Between the words of one column and the next.
const GAP: f64 = 9.0;
/// Above and below the words of a row.
const PAD: f64 = 2.0;

/// A cell laid out.
struct Laid {
    left: f64,
    right: f64,
    figures: bool,
    lines: Vec<String>,
    face: Face,
    ink: Ink,
}

/// Puts a table on the sheets.
pub fn put(flow: &mut Flow, table: &Table) {
    let columns = columns(flow, table);
    let head = head(table, &columns);
    let first = table.rows.first().map_or(0.0, |row| height(&laid(row, table, &columns)));
    flow.room(2.0 * LINE + height(&head) + first + 8.0);
    flow.down(5.0);
    flow.words(&table.caption, Face::Plain, TYPE, Ink::Soft);
    line(flow, &head, false, Pen::solid(Ink::Text, 1.0));
    for row in &table.rows {
        let cells = laid(row, table, &columns);
        if flow.room(height(&cells)) {
            line(flow, &head, false, Pen::solid(Ink::Text, 1.0));
        }
        line(flow, &cells, row.struck, Pen::solid(Ink::Grid, 0.6));
    }
    flow.down(5.0);
}

/// Left and right end of every column.
fn columns(flow: &Flow, table: &Table) -> Vec<(f64, f64)> {
    let whole: f64 = table.columns.iter().map(|column| column.share).sum();
    let mut left = flow.place().0;
    let ends = table.columns.iter().map(|column| {
        let wide = flow.width() * column.share / whole;
        let ends = (left, left + wide - GAP);
        left += wide;
        ends
    });
    ends.collect()
}

fn head(table: &Table, columns: &[(f64, f64)]) -> Vec<Laid> {
    let cells = table.columns.iter().zip(columns);
    cells.map(|(column, ends)| cell(column, *ends, &column.heading, Face::Heavy, Ink::Text)).collect()
}

fn laid(row: &Row, table: &Table, columns: &[(f64, f64)]) -> Vec<Laid> {
    let cells = row.cells.iter().zip(&table.columns).zip(columns);
    let laid = cells.map(|((found, column), ends)| match found {
        Cell::Missing(text) => cell(column, *ends, text, Face::Slanted, Ink::Soft),
        found => cell(column, *ends, found.shown(), Face::Plain, Ink::Text),
    });
    laid.collect()
}

fn cell(column: &Column, (left, right): (f64, f64), text: &str, face: Face, ink: Ink) -> Laid {
    Laid {
        left,
        right,
        figures: column.figures,
        lines: wrap::lines(text, face, TYPE, right - left),
        face,
        ink,
    }
}

fn height(cells: &[Laid]) -> f64 {
    let lines = cells.iter().map(|cell| cell.lines.len()).fold(1, larger);
    lines as f64 * LINE + 2.0 * PAD
}

/// One row and the line under it.
fn line(flow: &mut Flow, cells: &[Laid], struck: bool, pen: Pen) {
    let (_, top) = flow.place();
    for cell in cells {
        for (place, text) in (0u32..).zip(&cell.lines) {
            let base = top + PAD + (f64::from(place) + 0.78) * LINE;
            let (x, align) = if cell.figures { (cell.right, Align::End) } else { (cell.left, Align::Start) };
            let wide = crate::desk::drawing::face::width(text, cell.face, TYPE);
            let start = if cell.figures { x - wide } else { x };
            flow.mark(|sheet| {
                sheet.marks.push(words((x, base), text.clone(), cell.face, TYPE, align, cell.ink));
                if struck && wide > 0.0 {
                    sheet.line([(start, base - 2.8), (start + wide, base - 2.8)], Pen::solid(Ink::Text, 0.7));
                }
            });
        }
    }
    flow.down(height(cells));
    flow.rule(pen);
}
