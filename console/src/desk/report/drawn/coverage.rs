//! The coverage map: what the beams cross, in how many directions, and the holes that they leave.

use std::format;

use halfskip::part::joint::{Joint, Point};
use halfskip::planning::coverage::{Grid, Hole};

use super::canvas::Canvas;
use crate::answers::Crossed;
use crate::desk::drawing::chart::TYPE;
use crate::desk::drawing::face::{Face, width};
use crate::desk::drawing::{Align, Drawing, Ink, Pen, larger, smaller};
use crate::desk::report::basis::Basis;
use crate::desk::report::map::{Run, Ways};

/// The map over the volume looked at; nothing where the coverage is not known.
pub fn drawing<const N: usize>(basis: &Basis<'_>, joint: &Joint, crossed: &Crossed<N>) -> Option<Drawing> {
    crossed.shares.as_ref().ok()?;
    let (grid, runs) = (Grid::new(joint)?, &basis.map.runs);
    let title = "Coverage by the probes in force, wherever cap and joint let them stand";
    let mut canvas = Canvas::new(basis, joint, title, [], 0.0);
    canvas.metal(joint);
    let (across, down) = (0.5 * grid.column(), 0.5 * grid.row());
    for run in runs.iter().filter(|run| run.ways != Ways::Two) {
        let (y, z) = ((grid.y(run.from), grid.y(run.to)), grid.z(run.row));
        let (from, to) = (canvas.at(y.0 - across, z - down), canvas.at(y.1 + across, z + down));
        match run.ways {
            // A little more downward, so that no seam shows between rows.
            Ways::None => canvas.drawing.rectangle(from, (to.0, to.1 + 0.3), Some(Ink::Soft), None),
            _ => {
                let middle = 0.5 * (from.1 + to.1);
                canvas.drawing.line([(from.0, middle), (to.0, middle)], Pen::solid(Ink::SideA, 0.7));
            }
        }
    }
    for (number, hole) in (1u32..).zip(crossed.holes.iter()) {
        if let Some(within) = within(&grid, runs, hole) {
            let (x, y) = canvas.at(within.y, within.z);
            canvas.drawing.oval((x, y), (8.5, 8.5), Some(Ink::Paper), Some(Pen::solid(Ink::Text, 1.0)));
            canvas.drawing.heavy((x, y + 3.8), Align::Middle, Ink::Text, format!("{number}"));
        }
    }
    key(&mut canvas.drawing);
    canvas.drawing.about = format!(
        "Weld and heat-affected zone seen along the weld: dark where no beam's axis can be put through, {} such places, \
         numbered; lined where only one direction can; plain where two directions can.",
        crossed.holes.iter().count()
    );
    Some(canvas.finished())
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
    let places = runs.iter().filter(|run| run.ways == Ways::None).map(nearest).filter(inside);
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
