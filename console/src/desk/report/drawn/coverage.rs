//! The coverage map: what the beams cross, in how many directions, and the holes that they leave.

use std::format;
use std::vec::Vec;

use halfskip::findings;
use halfskip::part::joint::{Joint, Point};
use halfskip::planning::coverage::{Cell, Grid, Hole, Holes};

use super::canvas::Canvas;
use crate::desk::drawing::chart::TYPE;
use crate::desk::drawing::face::{Face, width};
use crate::desk::drawing::{Align, Drawing, Ink, Pen, larger, smaller};
use crate::desk::json::{LEGS, SCANS};
use crate::desk::report::known::Known;

/// What was found of a cell.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Crossed {
    Not,
    Once,
    Twice,
}

/// A run of cells of one row that are alike.
struct Run {
    row: u8,
    from: u8,
    to: u8,
    crossed: Crossed,
}

/// Every hole, and the area of those that found no room in the list, mm²; nothing where the coverage is not known.
pub fn holes(known: &Known<'_>, joint: &Joint) -> Option<(Vec<Hole>, f32)> {
    let grid = Grid::new(joint)?;
    let mut holes: Holes<64> = Holes::new(&grid);
    findings::coverage::<SCANS>(&known.facts, None, LEGS, |cell| holes.take(cell))?.ok()?;
    Some((holes.iter().copied().collect(), holes.unlisted()))
}

/// The map over the volume looked at.
pub fn drawing(known: &Known<'_>, joint: &Joint, holes: &[Hole]) -> Option<Drawing> {
    let grid = Grid::new(joint)?;
    let mut runs: Vec<Run> = Vec::new();
    findings::coverage::<SCANS>(&known.facts, None, LEGS, |cell| take(&mut runs, cell))?.ok()?;
    let title = "Coverage by the probes in force, wherever cap and joint let them stand";
    let mut canvas = Canvas::new(known, joint, title, [], 0.0);
    canvas.metal(joint);
    let (across, down) = (0.5 * grid.column(), 0.5 * grid.row());
    for run in runs.iter().filter(|run| run.crossed != Crossed::Twice) {
        let (y, z) = ((grid.y(run.from), grid.y(run.to)), grid.z(run.row));
        let (from, to) = (canvas.at(y.0 - across, z - down), canvas.at(y.1 + across, z + down));
        match run.crossed {
            // A little more downward, so that no seam shows between rows.
            Crossed::Not => canvas.drawing.rectangle(from, (to.0, to.1 + 0.3), Some(Ink::Soft), None),
            _ => {
                let middle = 0.5 * (from.1 + to.1);
                canvas.drawing.line([(from.0, middle), (to.0, middle)], Pen::solid(Ink::SideA, 0.7));
            }
        }
    }
    for (number, hole) in (1u32..).zip(holes) {
        if let Some(within) = within(&grid, &runs, hole) {
            let (x, y) = canvas.at(within.y, within.z);
            canvas.drawing.oval((x, y), (8.5, 8.5), Some(Ink::Paper), Some(Pen::solid(Ink::Text, 1.0)));
            canvas.drawing.heavy((x, y + 3.8), Align::Middle, Ink::Text, format!("{number}"));
        }
    }
    key(&mut canvas.drawing);
    canvas.drawing.about = format!(
        "Weld and heat-affected zone seen along the weld: dark where no beam's axis can be put through, {} such places, \
         numbered; lined where only one direction can; plain where two directions can.",
        holes.len()
    );
    Some(canvas.finished())
}

fn take(runs: &mut Vec<Run>, cell: &Cell) {
    let crossed = match (cell.crossed, cell.twice) {
        (false, _) => Crossed::Not,
        (true, false) => Crossed::Once,
        (true, true) => Crossed::Twice,
    };
    match runs.last_mut() {
        Some(run)
            if run.row == cell.row && run.crossed == crossed && run.to.saturating_add(1) == cell.column =>
        {
            run.to = cell.column;
        }
        _ => runs.push(Run { row: cell.row, from: cell.column, to: cell.column, crossed }),
    }
}

/// The place in a hole that lies nearest to its middle.
fn within(grid: &Grid, runs: &[Run], hole: &Hole) -> Option<Point> {
    let (y, z) = (0.5 * (hole.from.y + hole.to.y), 0.5 * (hole.from.z + hole.to.z));
    let inside = |point: &Point| {
        (hole.from.y..=hole.to.y).contains(&point.y) && (hole.from.z..=hole.to.z).contains(&point.z)
    };
    let off = |point: &Point| (point.y - y).abs() + (point.z - z).abs();
    let nearest = |run: &Run| {
        let (from, to) = (grid.y(run.from), grid.y(run.to));
        Point { y: smaller(larger(y, from), to), z: grid.z(run.row) }
    };
    let places = runs.iter().filter(|run| run.crossed == Crossed::Not).map(nearest).filter(inside);
    places.reduce(|held, other| if off(&other) < off(&held) { other } else { held })
}

/// What dark and lined mean, in the upper right corner's line.
fn key(drawing: &mut Drawing) {
    let y = drawing.height - 9.0;
    // Left of the scale's own words.
    let mut x = drawing.width - 60.0;
    for words in ["one direction", "not crossed"] {
        x -= width(words, Face::Plain, TYPE);
        drawing.words((x, y), Align::Start, Ink::Soft, words);
        x -= 17.0;
        let (from, to) = ((x, y - 8.0), (x + 12.0, y));
        if words == "not crossed" {
            drawing.rectangle(from, to, Some(Ink::Soft), None);
        } else {
            drawing.rectangle(from, to, Some(Ink::Paper), Some(Pen::solid(Ink::Soft, 0.8)));
            for line in [2.0, 4.0, 6.0] {
                drawing.line([(x, y - line), (x + 12.0, y - line)], Pen::solid(Ink::SideA, 0.7));
            }
        }
        x -= 15.0;
    }
}
