//! The reference curve of a probe with every reading on it: how strong each echo is against the reference at its path.

use std::format;
use std::vec::Vec;

use super::{WIDTH, ink, shape};
use crate::answers::{Curve, OnCurve};
use crate::desk::drawing::chart::{Chart, Scale, TYPE};
use crate::desk::drawing::face::{Face, width};
use crate::desk::drawing::labels::Labels;
use crate::desk::drawing::{Align, Drawing, Ink, Pen, Shape, larger, smaller};
use crate::desk::report::basis::Basis;

const HEIGHT: f64 = 290.0;

/// Echo height in dB at one gain against the path: the reference falls, a reading lies its level above or below it.
pub fn drawing(basis: &Basis<'_>, reference: &Curve<'_>) -> Drawing {
    let points: Vec<_> = reference.points().collect();
    let readings: Vec<OnCurve> = reference.readings().collect();
    let all = || points.iter().copied().chain(readings.iter().map(|reading| (reading.path, reading.height)));
    let longest = all().map(|(path, _)| path).fold(1.0, larger);
    let (low, high) =
        all().fold((0.0f32, 0.0f32), |(low, high), (_, db)| (smaller(low, db), larger(high, db)));
    let chart = Chart {
        x: Scale::new(0.0, basis.drawn(longest * 1.06), 46.0, WIDTH - 20.0),
        y: Scale::new(f64::from(low) - 4.0, f64::from(high) + 4.0, HEIGHT - 58.0, 26.0),
    };
    let title = format!("Reference curve of {} and every reading with it", reference.name());
    let mut drawing = Drawing::new(WIDTH, HEIGHT, title);
    let unit = basis.unit();
    chart.frame(&mut drawing, &format!("sound path, {unit}"), "echo height at one gain, dB");
    curve(basis, &mut drawing, &chart, reference, &points);
    let mut labels = Labels::default();
    let mut strongest: Vec<&OnCurve> = Vec::new();
    for reading in &readings {
        let at = chart.at(basis.drawn(reading.path), f64::from(reading.height));
        drawing.shape(at, shape(reading.side, reading.level), ink(reading.side));
        labels.keep_off((at.0 - 3.0, at.1 - 3.0), (at.0 + 3.0, at.1 + 3.0));
        match strongest.iter_mut().find(|held| held.indication == reading.indication) {
            Some(held) if reading.level.db > held.level.db => *held = reading,
            Some(_) => {}
            None => strongest.push(reading),
        }
    }
    for reading in strongest {
        let at = chart.at(basis.drawn(reading.path), f64::from(reading.height));
        let name = basis.facts.name(reading.indication);
        labels.write(&mut drawing, at, (3.0, 3.0), Ink::Text, name);
    }
    key(&mut drawing);
    drawing.about = format!(
        "{} reference points and {} readings. A reading lies as far above or below the curve as its level says, the \
         transfer correction in it. The strongest of each indication has its number.",
        points.len(),
        readings.len()
    );
    drawing
}

/// The curve as the level looks it up, in dashes where it rests on no recorded point.
fn curve(
    basis: &Basis<'_>,
    drawing: &mut Drawing,
    chart: &Chart,
    reference: &Curve<'_>,
    points: &[(f32, f32)],
) {
    let at = |path: f32, height: f32| chart.at(basis.drawn(path), f64::from(height));
    drawing.line(points.iter().map(|(path, height)| at(*path, *height)), Pen::solid(Ink::Text, 1.6));
    let (Some(start), Some(end)) = (points.first(), points.last()) else { return };
    let factor = if basis.unit() == "in" { 25.4 } else { 1.0 };
    let (low, high) = chart.x.ends();
    for (edge, point) in [(larger(low, 0.5 / factor), start), (high, end)] {
        let path = (edge * factor) as f32;
        if let Some(height) = reference.at(path) {
            let pen = Pen::dashed(Ink::Text, 1.2);
            drawing.line([at(point.0, point.1), at(path, height)], pen);
        }
    }
    for (path, height) in points {
        drawing.shape(at(*path, *height), Shape::Cross, Ink::Text);
    }
}

fn key(drawing: &mut Drawing) {
    let y = HEIGHT - 10.0;
    let entries = [
        (Shape::Cross, Ink::Text, "reference echo"),
        (Shape::Disc, Ink::SideA, "from side A"),
        (Shape::Square, Ink::SideB, "from side B"),
        (Shape::Up, Ink::Soft, "at least"),
        (Shape::Down, Ink::Soft, "at most"),
    ];
    let mut x = 52.0;
    for (shape, ink, words) in entries {
        drawing.shape((x, y - 3.6), shape, ink);
        drawing.words((x + 9.0, y), Align::Start, Ink::Soft, words);
        x += 34.0 + width(words, Face::Plain, TYPE);
    }
}
