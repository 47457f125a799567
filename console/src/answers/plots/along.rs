//! `along`: the indications along the weld, seen from the scanned face.

use core::fmt;

use halfskip::evaluate::sizing::length::Length;
use halfskip::findings::{Indication, Point};
use halfskip::part::girth::Girth;
use halfskip::part::side::Side;

use super::chart::{Axis, Chart, bounds};
use crate::answers::Record;
use crate::answers::mark::Mark;
use crate::answers::page::Page;

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
    pub fn new(point: Option<Point>, length: Option<Length>, girth: Option<Girth>) -> Option<Self> {
        let point = point?;
        let ends = length
            .map(|length| [(length.start.get(), length.open_start), (length.end.get(), length.open_end)]);
        // Around a girth weld the peak is drawn where its ends are, which count on past the datum.
        let x = match (girth, ends) {
            (Some(girth), Some([(from, _), (to, _)])) => {
                let middle = 0.5 * (from + to);
                middle + girth.step(middle, point.x)
            }
            _ => point.x,
        };
        Some(Self { x, y: point.y, u_y: point.u_y, ends })
    }

    fn of(indication: Indication<'_>) -> Option<Self> {
        let rule = indication.findings().length_rule();
        Self::new(Some(indication.place()?), indication.length(rule).ok(), indication.facts().girth())
    }

    /// Its ends; its place without a length.
    pub fn span(&self) -> [f32; 2] {
        self.ends.map_or([self.x, self.x], |ends| ends.map(|(at, _)| at))
    }
}

/// Answers `along`.
#[inline(never)]
pub(in crate::answers) fn answer(record: &Record<'_>, page: &mut Page<'_>) -> fmt::Result {
    let section = record.facts.common().joint.as_ref().map(|(_, joint)| joint.section());
    let half = |side| section.as_ref().map_or(0.0, |section| section.weld_extent(side));
    let weld = [f32::INFINITY, f32::NEG_INFINITY, 0.0 - half(Side::A), half(Side::B)];
    let lying = record.indications().filter_map(Lying::of).map(|found| {
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
    for indication in record.indications() {
        if let Some(found) = Lying::of(indication) {
            put(&mut chart, &found, Mark::Indication(indication.number()), number);
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
    legend(record, page)
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

fn legend(record: &Record<'_>, page: &mut Page<'_>) -> fmt::Result {
    let shown = |mark: Mark| mark.character(record.utf8);
    page.heading(format_args!(
        "[ ] ends, < > ends that were not found, {} between them; {} edges of the weld, {} centreline",
        shown(Mark::Between),
        shown(Mark::Edge),
        shown(Mark::Level)
    ))?;
    for indication in record.indications() {
        let (name, letter, lengths) =
            (indication.name(), shown(Mark::Indication(indication.number())), page.lengths);
        match Lying::of(indication) {
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
