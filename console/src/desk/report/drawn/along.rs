//! The plan view: where each indication begins and ends along the weld, and how far off the centreline it lies.

use std::format;
use std::vec::Vec;

use halfskip::part::joint::Joint;
use halfskip::part::side::Side;

use super::WIDTH;
use crate::answers::Lying;
use crate::desk::drawing::chart::{Chart, Scale};
use crate::desk::drawing::labels::Labels;
use crate::desk::drawing::{Drawing, Ink, Pen, larger, smaller};
use crate::desk::findings::Indication;
use crate::desk::report::basis::Basis;

const LEFT: f64 = 46.0;
const RIGHT: f64 = 20.0;
const TOP: f64 = 26.0;
const HEIGHT: f64 = 220.0;
const BOTTOM: f64 = 36.0;

/// Seen from the scanned face, side A at the top; the scale across is not the one along.
pub fn drawing(basis: &Basis<'_>, joint: Option<&Joint>) -> Drawing {
    let placed: Vec<(&Indication<'_>, Lying)> = basis
        .findings
        .indications
        .iter()
        .filter_map(|found| Some((found, Lying::new(found.point, found.length, basis.facts.girth())?)))
        .collect();
    let ends = placed.iter().flat_map(|(_, lying)| lying.span());
    let (low, high) =
        ends.fold((f32::INFINITY, f32::NEG_INFINITY), |(low, high), x| (smaller(low, x), larger(high, x)));
    let margin = larger(0.08 * (high - low), 10.0);
    let half = |side| joint.map_or(0.0, |joint| joint.section().weld_extent(side));
    let off = placed.iter().map(|(_, lying)| lying.y.abs() + lying.u_y);
    let off = 1.25 * off.chain([half(Side::A), half(Side::B)]).fold(5.0, larger);
    let chart = Chart {
        x: Scale::new(basis.drawn(low - margin), basis.drawn(high + margin), LEFT, WIDTH - RIGHT),
        // Side A, where y is negative, at the top.
        y: Scale::new(basis.drawn(-off), basis.drawn(off), TOP, HEIGHT - BOTTOM),
    };
    let unit = basis.unit();
    let mut drawing = Drawing::new(WIDTH, HEIGHT, "Plan view along the weld".into());
    if joint.is_some() {
        let (from, to) = (
            chart.at(chart.x.ends().0, basis.drawn(-half(Side::A))),
            chart.at(chart.x.ends().1, basis.drawn(half(Side::B))),
        );
        drawing.rectangle(from, to, Some(Ink::Weld), None);
    }
    chart.frame(&mut drawing, &format!("x along the weld, {unit}"), &format!("y, {unit}; side A at the top"));
    let middle = chart.y.at(0.0);
    drawing.line([(LEFT, middle), (WIDTH - RIGHT, middle)], Pen::dotted(Ink::Soft, 0.8));
    let mut labels = Labels::default();
    for (found, lying) in &placed {
        indication(basis, &mut drawing, &chart, &mut labels, found, lying);
    }
    drawing.about = format!(
        "{} indications from their start to their end along the weld. An arrow is an end that was not found; a cross is \
         one without a length. The scale across the weld is larger than the one along it.{}",
        placed.len(),
        if basis.facts.girth().is_some() {
            " Times are those of a clock around the pipe, the datum at 12."
        } else {
            ""
        }
    );
    drawing
}

fn indication(
    basis: &Basis<'_>,
    drawing: &mut Drawing,
    chart: &Chart,
    labels: &mut Labels,
    found: &Indication<'_>,
    lying: &Lying,
) {
    let ([from, to], y) = (lying.span(), basis.drawn(lying.y));
    let (start, end) = (chart.at(basis.drawn(from), y), chart.at(basis.drawn(to), y));
    let peak = chart.at(basis.drawn(lying.x), y);
    let pen = Pen::solid(Ink::Found, 2.2);
    if let Some([(_, open_start), (_, open_end)]) = lying.ends {
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
        &match basis.facts.girth() {
            Some(girth) => format!("{}: {}, {}", found.id, found.verdict(), girth.clock(lying.x)),
            None => format!("{}: {}", found.id, found.verdict()),
        },
    );
}
