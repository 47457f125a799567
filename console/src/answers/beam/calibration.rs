//! What the calibration of a probe says: angle and index point, time base, sensitivity.

use core::fmt;

use halfskip::calibration::curve::Beyond;
use halfskip::physics::probe::Probe;
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::decimal::{Fixed, fixed};

use super::{judged, marked};
use crate::answers::page::{Page, Right, percent, plus};

/// Nominal and measured angle, index point, and how well the holes fit.
pub(super) fn angle(
    facts: &Facts<'_>,
    state: &ProbeState,
    probe: &Probe,
    page: &mut Page<'_>,
) -> fmt::Result {
    page.item("angle, nominal", format_args!("{}", marked(probe)))?;
    of_block(facts, state, probe, page)?;
    in_part(state, page)
}

/// What the angle in use was measured or stated as, and its index point.
fn of_block(facts: &Facts<'_>, state: &ProbeState, probe: &Probe, page: &mut Page<'_>) -> fmt::Result {
    let (lengths, budget) = (page.lengths, &facts.common().budget);
    let as_marked = state.angle_as_marked().unwrap_or(probe.nominal());
    let (off, at) = (as_marked.get() - probe.nominal().get(), at(state));
    let judged_angle = judged(off.abs() <= budget.angle.get());
    if let Some((_, stated)) = state.angle_stated() {
        page.item(
            "angle, stated",
            format_args!(
                "{} deg{at}, {} deg off nominal: {judged_angle} {} deg",
                Fixed(stated.get(), 1),
                plus(off, 1),
                fixed(budget.angle.get())
            ),
        )?;
        let Some(index) = state.index_stated() else {
            return page.item("index point", format_args!("not stated: the mark is used"));
        };
        let within = judged(index.get().abs() <= budget.index.get());
        let (ahead, tolerance) = (lengths.ahead(index.get()), lengths.typed(budget.index.get()));
        return page.item("index point", format_args!("{ahead}, stated: {within} {tolerance}"));
    }
    let Some(check) = state.angle_check() else {
        return page.item("angle, measured", format_args!("no hole was peaked: the nominal angle is used"));
    };
    let holes = state.holes().len();
    page.item(
        "angle, measured",
        format_args!(
            "{} deg from {holes} hole{}{at}, {} deg off nominal: {judged_angle} {} deg",
            Fixed(check.angle().get(), 1),
            if holes == 1 { "" } else { "s" },
            plus(off, 1),
            fixed(budget.angle.get())
        ),
    )?;
    match (check.index(), check.index_verdict(budget.index)) {
        (Some(index), Some(within)) => page.item(
            "index point",
            format_args!(
                "{}: {} {}",
                lengths.ahead(index.get()),
                judged(within),
                lengths.typed(budget.index.get())
            ),
        )?,
        _ => page.item("index point", format_args!("one hole cannot tell: the mark is used"))?,
    }
    if check.largest_residual().is_none() {
        return Ok(());
    }
    for hole in state.holes() {
        if let Ok(off) = check.residual(*hole) {
            page.item(
                "",
                format_args!(
                    "hole {} deep: {} off the fitted line",
                    lengths.of(hole.0.get()),
                    lengths.signed(off.get())
                ),
            )?;
        }
    }
    Ok(())
}

/// The temperature of the block, and what the angle comes to at the marked one.
fn at(state: &ProbeState) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let (Some(at), Some(marked)) = (state.block_at(), state.angle_as_marked()) else { return Ok(()) };
        write!(f, " at {} C", fixed(at))?;
        match state.probe().and_then(|probe| probe.spec().temperature) {
            Some(heat) => write!(f, ": {} deg at {} C", Fixed(marked.get(), 1), fixed(heat.marked_at())),
            None => Ok(()),
        }
    })
}

/// The angle in the part, where it is another than on the block.
fn in_part(state: &ProbeState, page: &mut Page<'_>) -> fmt::Result {
    if let Some(why) = state.no_beam() {
        return page.item("angle, in the part", format_args!("NONE: {why}"));
    }
    let warmed =
        state.block_at().is_some() && state.probe().is_some_and(|probe| probe.spec().temperature.is_some());
    let Some(axis) = state.axis().filter(|_| warmed || state.velocities().is_some()) else { return Ok(()) };
    let angle = Fixed(axis.angle().get(), 1);
    match state.velocities() {
        Some(turned) => page.item(
            "angle, in the part",
            format_args!(
                "{angle} deg, path as shown x {} / {}",
                Fixed(turned.part().get(), 3),
                Fixed(turned.block().get(), 3)
            ),
        ),
        None => page.item("angle, in the part", format_args!("{angle} deg")),
    }
}

/// Velocity, delay, and how well the echoes fit.
pub(super) fn timebase(facts: &Facts<'_>, state: &ProbeState, page: &mut Page<'_>) -> fmt::Result {
    let (lengths, tolerance) = (page.lengths, facts.common().budget.path);
    let Some(fit) = state.timebase() else {
        return page.item("time base", format_args!("none recorded: paths are taken as shown"));
    };
    let (velocity, delay) = (fit.base().velocity.get(), fit.base().delay.get());
    page.item("time base", format_args!("{} mm/us, delay {} us", Fixed(velocity, 3), Fixed(delay, 2)))?;
    if let Some((_, true)) = state.timebase_entry() {
        return page.item("", format_args!("stated, not measured"));
    }
    match (fit.largest_residual(), fit.verdict(tolerance)) {
        (Some(largest), Some(within)) => page.item(
            "",
            format_args!(
                "echoes off by {} at most: {} {}",
                lengths.of(largest.get()),
                judged(within),
                lengths.typed(tolerance.get())
            ),
        ),
        _ => page.item("", format_args!("two echoes leave nothing to judge the fit by")),
    }
}

/// Reference points, transfer, scanning margin.
pub(super) fn sensitivity(facts: &Facts<'_>, state: &ProbeState, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    let reference = facts.common().screen.reference();
    let points = state.dac().points();
    let count = points.len();
    if count == 0 {
        page.item("reference", format_args!("none: no reference point has been recorded"))?;
    } else {
        page.item("reference", format_args!("gain that brings it to {}", percent(reference.get())))?;
    }
    for point in points {
        page.item(
            "",
            format_args!(
                "path {} {}  {} dB",
                Right(6, &lengths.bare(point.path.get())),
                lengths.unit(),
                Right(5, &Fixed(point.gain.get(), 1))
            ),
        )?;
    }
    let outside = match (count, state.beyond()) {
        (0, _) => "",
        (1, _) => "one point alone is the reference at every path",
        (_, Beyond::Refuse) => "outside these paths there is no level",
        (_, Beyond::Hold) => "outside these paths the end value is held",
        (_, Beyond::Slope) => "outside these paths the fitted slope goes on",
    };
    if !outside.is_empty() {
        page.item("", format_args!("{outside}"))?;
    }
    transfer(state, page)?;
    match state.margin() {
        Some(margin) => page.item(
            "scanning margin",
            format_args!("{} dB, recorded only: it enters no level", fixed(margin.get())),
        ),
        None => page.item("scanning margin", format_args!("none recorded")),
    }
}

fn transfer(state: &ProbeState, page: &mut Page<'_>) -> fmt::Result {
    let Some(transfer) = state.transfer() else {
        return page.item("transfer", format_args!("none recorded: 0 dB is used"));
    };
    let surface = plus(transfer.surface().get(), 1);
    let off = transfer.largest_departure().map(|departure| Fixed(departure.get(), 1));
    let Some(slope) = transfer.slope().filter(|slope| *slope != 0.0) else {
        page.item("transfer", format_args!("{surface} dB at every path"))?;
        if transfer.slope().is_none() && matches!(state.transfer_entry(), Some((_, false))) {
            page.item("", format_args!("shots too few or too close together for a slope"))?;
        }
        return match off {
            Some(off) if transfer.slope().is_none() => {
                page.item("", format_args!("shots off their mean by {off} dB at most"))
            }
            _ => Ok(()),
        };
    };
    page.item("transfer", format_args!("{surface} dB and {} dB for each mm of path", plus(slope, 4)))?;
    match off {
        Some(off) => page.item("", format_args!("shots off their lines by {off} dB at most")),
        None => Ok(()),
    }
}
