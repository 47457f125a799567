//! `dynamic ID`: the echo-dynamic curves of an indication drawn, one for each way that the probe was moved.

use core::fmt;

use halfskip::findings::{SCANS, Scan};
use halfskip::record::entry::Sweep;

use super::chart::{Axis, COLUMNS, Chart, bounds};
use crate::answers::Record;
use crate::answers::locate::side;
use crate::answers::mark::Mark;
use crate::answers::page::Page;

/// Whether the way of a movement is measured in mm, not in degrees.
pub(crate) const fn in_lengths(movement: Sweep) -> bool {
    matches!(movement, Sweep::Along | Sweep::Across)
}

/// Answers `dynamic`.
#[inline(never)]
pub(in crate::answers) fn answer(record: &Record<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let Some(indication) = crate::answers::indication(record, name, page)? else { return Ok(()) };
    let scans = indication.scans();
    if scans.is_full() {
        page.heading(format_args!("the probe was moved in more ways than are drawn: the first {SCANS}"))?;
    }
    if scans.is_empty() {
        return page.heading(format_args!("no movement is recorded of indication {name} (sweep=)"));
    }
    for scan in &scans {
        drawn(record, scan, name, page)?;
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

fn drawn(record: &Record<'_>, scan: &Scan<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let (lengths, movement) = (page.lengths, scan.movement());
    let samples = || {
        let travel = move |travel| if in_lengths(movement) { lengths.number(travel) } else { travel };
        scan.samples().map(move |(at, level)| (travel(at), level))
    };
    let (way, unit) = match movement {
        Sweep::Along => ("moved along the weld: x", page.lengths.word()),
        Sweep::Across => ("moved across the weld: stand-off", page.lengths.word()),
        Sweep::Swivel => ("swivelled: skew", "degrees"),
        Sweep::Orbit => ("orbited: skew", "degrees"),
    };
    let probe = record.facts.probe(scan.probe()).map_or("", |state| state.name().as_str());
    let side = side(scan.side(), scan.face());
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
        chart.put(x, db, Mark::reading(level.bound, scan.side()));
        if let Some(top) = chart.across.place(x).and_then(|column| tops.get_mut(usize::from(column))) {
            *top = Some(top.map_or(db, |held| if db > held { db } else { held }));
        }
    }
    between(&mut chart, &tops);
    let ends = scan.length(record.length_rule()).ok();
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
