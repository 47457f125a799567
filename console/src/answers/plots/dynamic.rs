//! `dynamic ID`: the echo-dynamic curves of an indication drawn, one for each way that the probe was moved.

use core::fmt;

use halfskip::calibration::level::Level;
use halfskip::findings::evaluate;
use halfskip::part::side::{Face, Side};
use halfskip::record::entry::Sweep;
use halfskip::record::examination::{Facts, Pooled};
use heapless::Vec;

use super::chart::{Axis, COLUMNS, Chart, bounds};
use crate::answers::Examined;
use crate::answers::locate::side;
use crate::answers::mark::Mark;
use crate::answers::page::Page;

/// One way in which a probe was moved over an indication.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Movement {
    pub sweep: Sweep,
    pub probe: u8,
    pub side: Side,
    pub face: Face,
}

impl Movement {
    fn of(reading: Pooled<'_>) -> Option<Self> {
        let (probe, side, face) = (reading.probe(), reading.side(), reading.face());
        Some(Self { sweep: reading.sweep()?, probe, side, face })
    }

    /// Whether the way is measured in mm, not in degrees.
    pub const fn in_lengths(self) -> bool {
        matches!(self.sweep, Sweep::Along | Sweep::Across)
    }

    /// Where on the way the readings with a level lie, and their levels.
    pub fn samples<'a>(
        self,
        facts: &'a Facts<'a>,
        indication: u8,
    ) -> impl Iterator<Item = (f32, Level)> + use<'a> {
        let members = facts.readings_of(indication).filter(move |reading| Self::of(*reading) == Some(self));
        members.filter_map(move |reading| {
            let found = evaluate(facts, reading);
            let travel = match self.sweep {
                // The reflector's own x, as for the length.
                Sweep::Along => found.place.map_or(reading.x(), |place| place.x).get(),
                Sweep::Across => reading.standoff().get(),
                Sweep::Swivel | Sweep::Orbit => reading.skew().map_or(0.0, |skew| skew.get()),
            };
            Some((travel, found.level.ok()?.level))
        })
    }
}

/// The movements over an indication, in the order in which they begin, and whether there were more than have room.
pub(crate) fn movements<const N: usize>(facts: &Facts<'_>, indication: u8) -> (Vec<Movement, N>, bool) {
    let mut movements = Vec::new();
    for movement in facts.readings_of(indication).filter_map(Movement::of) {
        if !movements.contains(&movement) && movements.push(movement).is_err() {
            return (movements, true);
        }
    }
    (movements, false)
}

/// Movements of one indication that are drawn.
const DRAWN: usize = 12;

/// Answers `dynamic`.
#[inline(never)]
pub(in crate::answers) fn answer<'a>(
    record: &impl Examined<'a>,
    name: &str,
    page: &mut Page<'_>,
) -> fmt::Result {
    let Some(indication) = crate::answers::indication(record, name, page)? else { return Ok(()) };
    let (movements, more) = movements::<DRAWN>(&record.facts, indication);
    if more {
        page.heading(format_args!("the probe was moved in more ways than are drawn: the first {DRAWN}"))?;
    }
    if movements.is_empty() {
        return page.heading(format_args!("no movement is recorded of indication {name} (sweep=)"));
    }
    for movement in &movements {
        drawn(record, indication, *movement, page)?;
    }
    let shown = |mark: Mark| mark.character(record.utf8);
    page.heading(format_args!(
        "{} from side A, {} from side B, {} at least, {} at most, {} between readings, {} the reference",
        shown(Mark::SideA),
        shown(Mark::SideB),
        shown(Mark::AtLeast),
        shown(Mark::AtMost),
        shown(Mark::Curve),
        shown(Mark::Level)
    ))
}

fn drawn<'a>(
    record: &impl Examined<'a>,
    indication: u8,
    movement: Movement,
    page: &mut Page<'_>,
) -> fmt::Result {
    let (facts, lengths) = (&record.facts, page.lengths);
    let samples = || {
        let travel = move |travel| if movement.in_lengths() { lengths.number(travel) } else { travel };
        movement.samples(facts, indication).map(move |(at, level)| (travel(at), level))
    };
    let (way, unit) = match movement.sweep {
        Sweep::Along => ("moved along the weld: x", page.lengths.word()),
        Sweep::Across => ("moved across the weld: stand-off", page.lengths.word()),
        Sweep::Swivel => ("swivelled: skew", "degrees"),
        Sweep::Orbit => ("orbited: skew", "degrees"),
    };
    let probe = facts.probe(movement.probe).map_or("", |state| state.name().as_str());
    let (name, side) = (record.name(indication), side(movement.side, movement.face));
    page.heading(format_args!(
        "Indication {name}, {probe} on side {side}, {way} in {unit}, level in dB over the reference"
    ))?;
    let all = samples().map(|(x, level)| [x, x, level.db.get(), level.db.get()]);
    let Some([left, right, low, high]) = bounds(all) else {
        return page.remark(format_args!("no reading of it has a level"));
    };
    let mut chart = Chart::new(Axis::across(left, right), Axis::falling(low - 2.0, high + 2.0));
    let mut tops: [Option<f32>; COLUMNS] = [None; COLUMNS];
    for (x, level) in samples() {
        let db = level.db.get();
        chart.put(x, db, Mark::reading(level.bound, movement.side));
        if let Some(top) = chart.across.place(x).and_then(|column| tops.get_mut(usize::from(column))) {
            *top = Some(top.map_or(db, |held| if db > held { db } else { held }));
        }
    }
    between(&mut chart, &tops);
    let ends = (movement.sweep == Sweep::Along)
        .then(|| record.length(indication, record.length_rule()).ok())
        .flatten();
    if let Some(length) = &ends {
        for (end, open) in [(length.start, length.open_start), (length.end, length.open_end)] {
            if !open {
                chart.upright(page.lengths.number(end.get()), Mark::Upright);
            }
        }
    }
    chart.level(0.0, Mark::Level);
    chart.write(page, record.utf8)?;
    match ends {
        Some(length) => {
            let lengths = page.lengths;
            let told = |open: bool| if open { ", open" } else { "" };
            page.remark(format_args!(
                "{} its ends by the rule in force: x {}{} to {}{}",
                Mark::Upright.character(record.utf8),
                lengths.of(length.start.get()),
                told(length.open_start),
                lengths.of(length.end.get()),
                told(length.open_end)
            ))
        }
        None => Ok(()),
    }
}

/// Straight lines between columns that hold a reading, under the marks.
fn between(chart: &mut Chart, tops: &[Option<f32>; COLUMNS]) {
    let mut last: Option<(u8, f32)> = None;
    for (column, top) in (0..=u8::MAX).zip(tops) {
        let Some(db) = *top else { continue };
        if let Some((from, start)) = last {
            let wide = f32::from(column.saturating_sub(from));
            for step in 1..column.saturating_sub(from) {
                let x = chart.across.value(from.saturating_add(step));
                chart.under(x, start + (db - start) * f32::from(step) / wide, Mark::Curve);
            }
        }
        last = Some((column, db));
    }
}
