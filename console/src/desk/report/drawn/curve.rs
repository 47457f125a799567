//! The reference curve of a probe with every reading on it: how strong each echo is against the reference at its path.

use std::format;
use std::vec::Vec;

use halfskip::calibration::level::Level;
use halfskip::findings::evaluate;
use halfskip::part::side::Side;
use halfskip::record::examination::ProbeState;
use halfskip::units::Millimetres;

use super::{WIDTH, ink, shape};
use crate::desk::drawing::chart::TYPE;
use crate::desk::drawing::chart::{Chart, Scale};
use crate::desk::drawing::face::{Face, width};
use crate::desk::drawing::labels::Labels;
use crate::desk::drawing::{Align, Drawing, Ink, Pen, Shape, larger, smaller};
use crate::desk::report::known::Known;

const HEIGHT: f64 = 290.0;

/// A reading on the curve.
struct Reading {
    path: f32,
    curve: f32,
    level: Level,
    side: Side,
    indication: u8,
}

/// Echo height in dB at one gain against the path: the reference falls, a reading lies its level above or below it.
pub fn drawing(known: &Known<'_>, probe: u8, state: &ProbeState) -> Drawing {
    let points: Vec<_> = state.dac().points().map(|point| (point.path.get(), point.gain.get())).collect();
    let first = points.first().map_or(0.0, |point| point.1);
    // A(s) = G_ref(first) - G_ref(s): the reference echo at the gain of the first point.
    let fall = |gain: f32| first - gain;
    let readings = known.facts.readings().filter(|reading| reading.probe() == probe).filter_map(|reading| {
        let found = evaluate(&known.facts, reading);
        let (path, level) = (found.path.ok()?.get(), found.level.ok()?);
        let curve = fall(level.reference.gain.get());
        Some(Reading {
            path,
            curve,
            level: level.level,
            side: reading.side(),
            indication: reading.indication(),
        })
    });
    let readings: Vec<Reading> = readings.collect();
    let all_paths = points.iter().map(|point| point.0).chain(readings.iter().map(|reading| reading.path));
    let longest = all_paths.fold(1.0, larger);
    let heights = readings.iter().map(|reading| reading.curve + reading.level.db.get());
    let heights = points.iter().map(|point| fall(point.1)).chain(heights);
    let (low, high) = heights.fold((0.0f32, 0.0f32), |(low, high), db| (smaller(low, db), larger(high, db)));
    let chart = Chart {
        x: Scale::new(0.0, known.drawn(longest * 1.06), 46.0, WIDTH - 20.0),
        y: Scale::new(f64::from(low) - 4.0, f64::from(high) + 4.0, HEIGHT - 58.0, 26.0),
    };
    let title = format!("Reference curve of {} and every reading with it", state.name());
    let mut drawing = Drawing::new(WIDTH, HEIGHT, title);
    let unit = known.unit();
    chart.frame(&mut drawing, &format!("sound path, {unit}"), "echo height at one gain, dB");
    curve(known, &mut drawing, &chart, state, &points, first);
    let mut labels = Labels::default();
    let mut strongest: Vec<&Reading> = Vec::new();
    for reading in &readings {
        let at = chart.at(known.drawn(reading.path), f64::from(reading.curve + reading.level.db.get()));
        drawing.shape(at, shape(reading.side, reading.level), ink(reading.side));
        labels.keep_off((at.0 - 3.0, at.1 - 3.0), (at.0 + 3.0, at.1 + 3.0));
        match strongest.iter_mut().find(|held| held.indication == reading.indication) {
            Some(held) if reading.level.db > held.level.db => *held = reading,
            Some(_) => {}
            None => strongest.push(reading),
        }
    }
    for reading in strongest {
        let at = chart.at(known.drawn(reading.path), f64::from(reading.curve + reading.level.db.get()));
        let name = known.facts.name(reading.indication);
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
    known: &Known<'_>,
    drawing: &mut Drawing,
    chart: &Chart,
    state: &ProbeState,
    points: &[(f32, f32)],
    first: f32,
) {
    let at = |path: f32, gain: f32| chart.at(known.drawn(path), f64::from(first - gain));
    drawing.line(points.iter().map(|(path, gain)| at(*path, *gain)), Pen::solid(Ink::Text, 1.6));
    let (Some(start), Some(end)) = (points.first(), points.last()) else { return };
    let factor = if known.unit() == "in" { 25.4 } else { 1.0 };
    let (low, high) = chart.x.ends();
    for (edge, point) in [(larger(low, 0.5 / factor), start), (high, end)] {
        let path = (edge * factor) as f32;
        let beyond =
            Millimetres::new(path).ok().and_then(|path| state.dac().gain_at(path, state.beyond()).ok());
        if let Some(beyond) = beyond {
            let pen = Pen::dashed(Ink::Text, 1.2);
            drawing.line([at(point.0, point.1), at(path, beyond.gain.get())], pen);
        }
    }
    for (path, gain) in points {
        drawing.shape(at(*path, *gain), Shape::Cross, Ink::Text);
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
