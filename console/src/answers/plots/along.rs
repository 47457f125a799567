//! `along`: the indications along the weld, seen from the scanned face.

use core::fmt;

use halfskip::evaluate::sizing::length::Length;
use halfskip::findings::{Point, point};
use halfskip::part::side::Side;
use heapless::Vec;

use super::chart::{Axis, Chart, bounds};
use crate::answers::mark::Mark;
use crate::answers::page::Page;
use crate::answers::{Examined, Fitted, Record};

/// An indication along the weld, mm.
pub(crate) struct Lying {
    pub x: f32,
    pub y: f32,
    pub u_y: f32,
    /// Start and end, and whether each is open; none without a length.
    pub ends: Option<[(f32, bool); 2]>,
}

impl Lying {
    /// None without a place.
    fn new(point: Option<Point>, length: Option<Length>) -> Option<Self> {
        let point = point?;
        let ends = length
            .map(|length| [(length.start.get(), length.open_start), (length.end.get(), length.open_end)]);
        Some(Self { x: point.x, y: point.y, u_y: point.u_y, ends })
    }

    /// Of what was found of an indication.
    #[cfg(feature = "host")]
    pub fn of(found: &halfskip::findings::IndicationFinding<'_>) -> Option<Self> {
        Self::new(found.point, found.length.ok())
    }

    /// Its ends; its place without a length.
    pub fn span(&self) -> [f32; 2] {
        self.ends.map_or([self.x, self.x], |ends| ends.map(|(at, _)| at))
    }
}

/// Answers `along`.
#[inline(never)]
pub(in crate::answers) fn answer<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    record: &Fitted<'_, INDICATIONS, SERIES, ROWS>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let section = record.facts.common().joint.as_ref().map(|(_, joint)| joint.section());
    let half = |side| section.as_ref().map_or(0.0, |section| section.weld_extent(side));
    let mut all: Vec<(u8, Option<Lying>), INDICATIONS> = Vec::new();
    for indication in record.indications() {
        let point = point(&record.facts, indication);
        let length = point.and_then(|_| record.length(indication, record.length_rule()).ok());
        // There is room for every indication.
        let _ = all.push((indication, Lying::new(point, length)));
    }
    let weld = [f32::INFINITY, f32::NEG_INFINITY, 0.0 - half(Side::A), half(Side::B)];
    let lying = all.iter().filter_map(|(_, found)| found.as_ref());
    let lying = lying.map(|found| {
        let [from, to] = found.span();
        [from, to, found.y - found.u_y, found.y + found.u_y]
    });
    let found = bounds(lying).and_then(|found| bounds([found, weld].into_iter()));
    let Some([left, right, top, bottom]) = found else {
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
    chart.level(0.0, Mark::Level);
    page.heading(format_args!(
        "Along the weld, from the scanned face: x across, y down, side A at the top; {}",
        page.lengths.word()
    ))?;
    chart.write(page, record.utf8)?;
    legend(record, &all, page)
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

fn legend(record: &Record<'_>, all: &[(u8, Option<Lying>)], page: &mut Page<'_>) -> fmt::Result {
    let shown = |mark: Mark| mark.character(record.utf8);
    page.heading(format_args!(
        "[ ] ends, < > ends that were not found, {} between them; {} edges of the weld, {} centreline",
        shown(Mark::Between),
        shown(Mark::Edge),
        shown(Mark::Level)
    ))?;
    for (indication, found) in all {
        let (name, letter, lengths) =
            (record.name(*indication), shown(Mark::Indication(*indication)), page.lengths);
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
