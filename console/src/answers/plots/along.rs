//! `along`: the indications along the weld, seen from the scanned face.

use core::fmt;

use super::chart::{Axis, Chart, Mark};
use crate::answers::Known;
use crate::answers::page::Page;
use halfskip::findings::Indication;
use halfskip::part::side::Side;

/// An indication as it is drawn, mm.
struct Lying {
    x: f32,
    y: f32,
    u_y: f32,
    /// Start and end, and whether each is open; none without a length.
    ends: Option<[(f32, bool); 2]>,
}

/// Answers `along`.
#[inline(never)]
pub(super) fn answer(known: &Known<'_>, page: &mut Page<'_>) -> fmt::Result {
    let section = known.facts.common().joint.as_ref().map(|(_, joint)| joint.section());
    let half = |side| section.as_ref().map_or(0.0, |section| section.weld_extent(side));
    let mut bounds: Option<[f32; 4]> = None;
    for found in known.indications().filter_map(|indication| lying(known, indication)) {
        let [(from, _), (to, _)] = found.ends.unwrap_or([(found.x, false), (found.x, false)]);
        let [left, right, top, bottom] = bounds.unwrap_or([from, to, 0.0 - half(Side::A), half(Side::B)]);
        let (least, most) =
            (|a: f32, b: f32| if b < a { b } else { a }, |a: f32, b: f32| if b > a { b } else { a });
        let (up, down) = (found.y - found.u_y, found.y + found.u_y);
        bounds = Some([least(left, from), most(right, to), least(top, up), most(bottom, down)]);
    }
    let Some([left, right, top, bottom]) = bounds else {
        return page.heading(format_args!("no indication has a place: there is nothing to draw"));
    };
    let number = |mm: f32| page.lengths.number(mm);
    let mut chart =
        Chart::new(Axis::across(number(left), number(right)), Axis::rising(number(top), number(bottom)));
    for indication in known.indications() {
        if let Some(found) = lying(known, indication) {
            put(&mut chart, &found, Mark::Indication(indication.number()), number);
        }
    }
    if section.is_some() {
        chart.level(number(0.0 - half(Side::A)), Mark::Edge);
        chart.level(number(half(Side::B)), Mark::Edge);
    }
    chart.level(0.0, Mark::Middle);
    page.heading(format_args!(
        "Along the weld, from the scanned face: x across, y down, side A at the top; {}",
        page.lengths.word()
    ))?;
    chart.write(page, known.utf8)?;
    legend(known, page)
}

/// Where an indication lies; none without a place.
fn lying(known: &Known<'_>, indication: Indication<'_>) -> Option<Lying> {
    let place = indication.place()?;
    let length = indication.length(known.length_rule()).ok();
    let ends =
        length.map(|length| [(length.start.get(), length.open_start), (length.end.get(), length.open_end)]);
    // Around a girth weld the peak is drawn where its ends are, which count on past the datum.
    let x = match (known.facts.girth(), ends) {
        (Some(girth), Some([(from, _), (to, _)])) => {
            let middle = 0.5 * (from + to);
            middle + girth.step(middle, place.x)
        }
        _ => place.x,
    };
    Some(Lying { x, y: place.y, u_y: place.u_y, ends })
}

fn put(chart: &mut Chart, found: &Lying, letter: Mark, number: impl Fn(f32) -> f32) {
    let y = number(found.y);
    if let Some([(from, from_open), (to, to_open)]) = found.ends {
        let (from, to) = (number(from), number(to));
        for column in chart.across.cells() {
            let x = chart.across.value(column);
            if x >= from && x <= to {
                chart.put(x, y, Mark::Between);
            }
        }
        for (x, open, last) in [(from, from_open, false), (to, to_open, true)] {
            chart.put(x, y, if open { Mark::Open(last) } else { Mark::Ends(last) });
        }
    }
    chart.put(number(found.x), y, letter);
}

fn legend(known: &Known<'_>, page: &mut Page<'_>) -> fmt::Result {
    let shown = |mark: Mark| mark.character(known.utf8);
    page.heading(format_args!(
        "[ ] ends, < > ends that were not found, {} between them; {} edges of the weld, {} centreline",
        shown(Mark::Between),
        shown(Mark::Edge),
        shown(Mark::Middle)
    ))?;
    for indication in known.indications() {
        let (name, letter, lengths) =
            (indication.name(), shown(Mark::Indication(indication.number())), page.lengths);
        match lying(known, indication) {
            None => page.heading(format_args!("indication {name} has no place and is not drawn"))?,
            Some(Lying { x, y, u_y, ends: None }) => page.heading(format_args!(
                "{letter}: indication {name}, x {}, y {}, no length",
                lengths.of(x),
                lengths.within(y, u_y)
            ))?,
            Some(Lying { y, u_y, ends: Some([(from, _), (to, _)]), .. }) => page.heading(format_args!(
                "{letter}: indication {name}, x {} to {}, y {}",
                lengths.bare(from),
                lengths.of(to),
                lengths.within(y, u_y)
            ))?,
        }
    }
    Ok(())
}
