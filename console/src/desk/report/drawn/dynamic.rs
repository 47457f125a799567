//! The echo-dynamic curve: the level as the probe moves, and the ends of the indication on it.

use std::format;
use std::string::String;
use std::vec::Vec;

use halfskip::calibration::level::{Bound, Level};
use halfskip::evaluate::sizing::length::Length;
use halfskip::findings::Scan;
use halfskip::record::entry::Sweep;

use super::{WIDTH, ink, shape};
use crate::answers::in_lengths;
use crate::desk::drawing::chart::{Chart, Scale};
use crate::desk::drawing::{Align, Drawing, Ink, Pen, larger, smaller};
use crate::desk::findings::Indication;
use crate::desk::report::basis::{Basis, stand};

const HEIGHT: f64 = 210.0;

/// A drawing for every scan of an indication, in the order in which they begin.
pub fn drawings(basis: &Basis<'_>, found: &Indication<'_>) -> Vec<Drawing> {
    let drawn = basis.shell.evaluated(|findings| {
        let scans = findings.indication(found.number).scans();
        scans.into_iter().filter_map(|scan| drawing(basis, found, &scan)).collect()
    });
    drawn.unwrap_or_default()
}

fn drawing(basis: &Basis<'_>, found: &Indication<'_>, scan: &Scan<'_>) -> Option<Drawing> {
    let (sweep, probe, side, face) = (scan.movement(), scan.probe(), scan.side(), scan.face());
    let travel = |travel| if in_lengths(sweep) { basis.drawn(travel) } else { f64::from(travel) };
    let mut samples: Vec<(f64, Level)> = scan.samples().map(|(at, level)| (travel(at), level)).collect();
    samples.sort_by(|one, other| one.0.total_cmp(&other.0));
    let (first, last) = (samples.first()?.0, samples.last()?.0);
    let levels = samples.iter().map(|(_, level)| f64::from(level.db.get()));
    let (low, high) = levels
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), db| (smaller(low, db), larger(high, db)));
    let margin = larger(0.04 * (last - first), 0.5);
    let chart = Chart {
        x: Scale::new(first - margin, last + margin, 46.0, WIDTH - 20.0),
        y: Scale::new(low - 2.0, high + 3.0, HEIGHT - 40.0, 26.0),
    };
    let name = basis.facts.probe(probe).map_or("", |state| state.name().as_str());
    let (moved, across) = axis(sweep, basis.unit());
    let title = format!("Indication {}, {moved}: {name}, side {}", found.id, stand(side, face));
    let mut drawing = Drawing::new(WIDTH, HEIGHT, title);
    chart.frame(&mut drawing, &across, "level, dB over the reference");
    if chart.y.holds(0.0) {
        let y = chart.y.at(0.0);
        drawing.line(
            [(chart.x.at(first - margin), y), (chart.x.at(last + margin), y)],
            Pen::dashed(Ink::Soft, 0.9),
        );
    }
    drawing.line(
        samples.iter().map(|(x, level)| chart.at(*x, f64::from(level.db.get()))),
        Pen::solid(ink(side), 1.3),
    );
    for (x, level) in &samples {
        drawing.shape(chart.at(*x, f64::from(level.db.get())), shape(side, *level), ink(side));
    }
    let mut about = format!("{} readings, from {low:.1} to {high:.1} dB.", samples.len());
    if let (Sweep::Along, Some(length)) = (sweep, found.length) {
        ends(basis, &mut drawing, &chart, &length);
        about.push_str(" Upright lines are the ends of the indication by the rule in force.");
    }
    if samples.iter().any(|(_, level)| level.bound != Bound::Exact) {
        about.push_str(" A triangle up is a level of at least that, one down of at most.");
    }
    drawing.about = about;
    Some(drawing)
}

fn axis(sweep: Sweep, unit: &str) -> (&'static str, String) {
    match sweep {
        Sweep::Along => ("moved along the weld", format!("x along the weld, {unit}")),
        Sweep::Across => ("moved across the weld", format!("stand-off, {unit}")),
        Sweep::Swivel => ("swivelled about the index point", "skew, degrees".into()),
        Sweep::Orbit => ("orbited about the reflector", "skew, degrees".into()),
    }
}

/// The ends of the indication; an open one is told to be.
fn ends(basis: &Basis<'_>, drawing: &mut Drawing, chart: &Chart, length: &Length) {
    let ends = [(length.start, length.open_start, Align::Start), (length.end, length.open_end, Align::End)];
    for (value, open, align) in ends {
        let value = value.get();
        let x = chart.x.at(basis.drawn(value));
        let (low, high) = chart.y.ends();
        drawing.line([(x, chart.y.at(low)), (x, chart.y.at(high))], Pen::dashed(Ink::Found, 1.2));
        let words = if open { "open".into() } else { std::format!("{}", basis.lengths.bare(value)) };
        let aside = if align == Align::Start { 4.0 } else { -4.0 };
        drawing.words((x + aside, chart.y.at(low) - 5.0), align, Ink::Found, words);
    }
}
