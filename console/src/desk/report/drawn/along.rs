//! The plan view: where each indication begins and ends along the weld, and how far off the centreline it lies.

use std::format;

use halfskip::part::joint::Joint;
use halfskip::part::side::Side;

use super::WIDTH;
use crate::desk::drawing::chart::{Chart, Scale};
use crate::desk::drawing::labels::Labels;
use crate::desk::drawing::{Drawing, Ink, Pen, larger, smaller};
use crate::desk::json::Indication;
use crate::desk::report::known::Known;

const LEFT: f64 = 46.0;
const RIGHT: f64 = 20.0;
const TOP: f64 = 26.0;
const HEIGHT: f64 = 220.0;
const BOTTOM: f64 = 36.0;

/// Seen from the scanned face, side A at the top; the scale across is not the one along.
pub fn drawing(known: &Known<'_>, joint: Option<&Joint>) -> Drawing {
    let placed = known.findings.indications.iter().filter(|found| found.x_mm.is_some());
    let ends = placed.clone().flat_map(|found| {
        let (from, to) = span(found);
        [from, to]
    });
    let (low, high) =
        ends.fold((f32::INFINITY, f32::NEG_INFINITY), |(low, high), x| (smaller(low, x), larger(high, x)));
    let margin = larger(0.08 * (high - low), 10.0);
    let half = |side| joint.map_or(0.0, |joint| joint.section().weld_extent(side));
    let off = placed.clone().filter_map(|found| Some(found.y_mm?.abs() + found.u_y_mm.unwrap_or(0.0)));
    let off = 1.25 * off.chain([half(Side::A), half(Side::B)]).fold(5.0, larger);
    let chart = Chart {
        x: Scale::new(known.drawn(low - margin), known.drawn(high + margin), LEFT, WIDTH - RIGHT),
        // Side A, where y is negative, at the top.
        y: Scale::new(known.drawn(-off), known.drawn(off), TOP, HEIGHT - BOTTOM),
    };
    let unit = known.unit();
    let mut drawing = Drawing::new(WIDTH, HEIGHT, "Plan view along the weld".into());
    if joint.is_some() {
        let (from, to) = (
            chart.at(chart.x.ends().0, known.drawn(-half(Side::A))),
            chart.at(chart.x.ends().1, known.drawn(half(Side::B))),
        );
        drawing.rectangle(from, to, Some(Ink::Weld), None);
    }
    chart.frame(&mut drawing, &format!("x along the weld, {unit}"), &format!("y, {unit}; side A at the top"));
    let middle = chart.y.at(0.0);
    drawing.line([(LEFT, middle), (WIDTH - RIGHT, middle)], Pen::dotted(Ink::Soft, 0.8));
    let mut labels = Labels::default();
    for found in placed.clone() {
        indication(known, &mut drawing, &chart, &mut labels, found);
    }
    drawing.about = format!(
        "{} indications from their start to their end along the weld. An arrow is an end that was not found; a cross is \
         one without a length. The scale across the weld is larger than the one along it.{}",
        placed.count(),
        if known.facts.girth().is_some() {
            " Times are those of a clock around the pipe, the datum at 12."
        } else {
            ""
        }
    );
    drawing
}

fn span(found: &Indication<'_>) -> (f32, f32) {
    let at = found.x_mm.unwrap_or(0.0);
    (found.x_start_mm.unwrap_or(at), found.x_end_mm.unwrap_or(at))
}

fn indication(
    known: &Known<'_>,
    drawing: &mut Drawing,
    chart: &Chart,
    labels: &mut Labels,
    found: &Indication<'_>,
) {
    let (from, to) = span(found);
    let girth = known.facts.girth();
    // Around a girth weld the ends count on past the datum, and the peak is drawn between them.
    let x = found.x_mm.map(|x| {
        let middle = 0.5 * (from + to);
        girth.map_or(x, |girth| middle + girth.step(middle, x))
    });
    let y = known.drawn(found.y_mm.unwrap_or(0.0));
    let (start, end) = (chart.at(known.drawn(from), y), chart.at(known.drawn(to), y));
    let peak = chart.at(known.drawn(x.unwrap_or(from)), y);
    let pen = Pen::solid(Ink::Found, 2.2);
    let (open_start, open_end) = found.open_ends;
    if found.length_mm.is_some() {
        drawing.line([start, end], pen);
        for (at, toward, open) in [(start, -1.0, open_start), (end, 1.0, open_end)] {
            if open {
                let tip = (at.0 + toward * 9.0, at.1);
                drawing.area([(at.0, at.1 - 5.0), (at.0, at.1 + 5.0), tip], Some(Ink::Found), None);
            } else {
                drawing.line([(at.0, at.1 - 5.0), (at.0, at.1 + 5.0)], pen);
            }
        }
        drawing.oval(peak, (3.0, 3.0), Some(Ink::Found), None);
    } else {
        drawing.shape(peak, crate::desk::drawing::Shape::Cross, Ink::Found);
    }
    labels.keep_off((start.0, start.1 - 5.0), (end.0, end.1 + 5.0));
    labels.write(
        drawing,
        (larger(end.0, peak.0), end.1),
        (9.0, 5.0),
        Ink::Found,
        &match girth.zip(x) {
            Some((girth, x)) => format!("{}: {}, {}", found.id, found.verdict, girth.clock(x)),
            None => format!("{}: {}", found.id, found.verdict),
        },
    );
}
