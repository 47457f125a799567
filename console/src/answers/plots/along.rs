//! `along`: the indications along the weld, seen from the scanned face.

use core::fmt;

use halfskip::findings::{extent, point};
use halfskip::part::side::Side;
use heapless::Vec;

use super::chart::{Axis, Chart, Mark};
use crate::answers::Known;
use crate::answers::page::Page;

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
pub(super) fn answer<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let section = known.facts.common().joint.as_ref().map(|(_, joint)| joint.section());
    let half = |side| section.as_ref().map_or(0.0, |section| section.weld_extent(side));
    let mut bounds: Option<[f32; 4]> = None;
    let mut all: Vec<(u8, Option<Lying>), INDICATIONS> = Vec::new();
    for indication in known.indications() {
        // There is room for every indication.
        let _ = all.push((indication, lying(known, indication)));
    }
    for found in all.iter().filter_map(|(_, found)| found.as_ref()) {
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
    for (indication, found) in &all {
        if let Some(found) = found {
            put(&mut chart, found, Mark::Indication(*indication), number);
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
    legend(known, &all, page)
}

/// Where an indication lies; none without a place.
fn lying<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
    indication: u8,
) -> Option<Lying> {
    let point = point(&known.facts, indication)?;
    let length = extent::<SERIES>(&known.facts, indication, known.length_rule()).ok();
    let ends =
        length.map(|length| [(length.start.get(), length.open_start), (length.end.get(), length.open_end)]);
    Some(Lying { x: point.x, y: point.y, u_y: point.u_y, ends })
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

fn legend<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
    all: &[(u8, Option<Lying>)],
    page: &mut Page<'_>,
) -> fmt::Result {
    let shown = |mark: Mark| mark.character(known.utf8);
    page.heading(format_args!(
        "[ ] ends, < > ends that were not found, {} between them; {} edges of the weld, {} centreline",
        shown(Mark::Between),
        shown(Mark::Edge),
        shown(Mark::Middle)
    ))?;
    for (indication, found) in all {
        let (name, letter, lengths) =
            (known.name(*indication), shown(Mark::Indication(*indication)), page.lengths);
        match found {
            None => page.heading(format_args!("indication {name} has no place and is not drawn"))?,
            Some(Lying { x, y, u_y, ends: None }) => page.heading(format_args!(
                "{letter}: indication {name}, x {}, y {}, no length",
                lengths.of(*x),
                lengths.within(*y, *u_y)
            ))?,
            Some(Lying { y, u_y, ends: Some([(from, _), (to, _)]), .. }) => page.heading(format_args!(
                "{letter}: indication {name}, x {} to {}, y {}",
                lengths.bare(*from),
                lengths.of(*to),
                lengths.within(*y, *u_y)
            ))?,
        }
    }
    Ok(())
}
