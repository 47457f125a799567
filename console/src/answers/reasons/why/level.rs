//! From a reading to its level over the reference.

use core::fmt;

use halfskip::calibration::curve::{How, ReferenceGain};
use halfskip::calibration::level::{Bound, level_uncertainty};
use halfskip::findings::ReadingFinding;
use halfskip::record::entry::EnteredHeight;
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::decimal::{Fixed, fixed};

use super::steps::{Source, Steps};
use crate::answers::page::{level, plus};

/// Steps to the level, or why there is none.
#[inline(never)]
pub(super) fn answer(
    facts: &Facts<'_>,
    state: &ProbeState,
    found: &ReadingFinding<'_>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let strength = match found.level {
        Ok(strength) => strength,
        Err(reason) => return steps.given("L", format_args!("not known: {reason}")),
    };
    let path = found.path.map_or(0.0, |path| path.get());
    reference(state, path, &strength.reference, steps)?;
    transfer(state, path, strength.transfer.get(), steps)?;
    let screen = &facts.common().screen;
    let height = match (strength.level.bound, found.reading.height()) {
        (Bound::AtLeast, _) => screen.max(),
        (Bound::AtMost, _) => screen.noise(),
        (Bound::Exact, EnteredHeight::Shown(height)) => height.quantity(),
        (Bound::Exact, _) => return Ok(()),
    };
    let put_in = match strength.level.bound {
        Bound::Exact => "",
        Bound::AtLeast => ", h the highest that the screen can measure",
        Bound::AtMost => ", h the noise",
    };
    steps.step(
        "L",
        format_args!(
            "20 log10(h / H_ref) + G_ref + T - G = 20 log10({} / {}) + {} + {} - {} = {}{put_in}",
            fixed(height.get()),
            fixed(screen.reference().get()),
            Fixed(strength.reference.gain.get(), 2),
            Fixed(strength.transfer.get(), 2),
            Fixed(found.reading.gain().get(), 2),
            level(strength.level)
        ),
        Source::Sensitivity,
    )?;
    if strength.level.bound != Bound::Exact {
        return Ok(());
    }
    match level_uncertainty(height, found.budget.height) {
        Ok(expanded) => steps.step(
            "U(L)",
            format_args!(
                "2 (20 / ln 10) (w / h) / sqrt 3 = 2 x 8.686 x {} / {} / 1.732 = {} dB, of the height alone",
                fixed(found.budget.height.get()),
                fixed(height.get()),
                Fixed(expanded.get(), 1)
            ),
            Source::Gum,
        ),
        Err(error) => steps.given("U(L)", format_args!("not known: {error}")),
    }
}

/// The reference gain at the path, from the points that it lies between.
fn reference(state: &ProbeState, path: f32, found: &ReferenceGain, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let lengths = steps.page.lengths;
    let gain = Fixed(found.gain.get(), 2);
    let mut points = state.dac().points();
    let below = points.clone().filter(|point| point.path.get() <= path).last();
    let above = points.find(|point| point.path.get() >= path);
    match (found.how, below, above) {
        (How::Flat, ..) => {
            steps.step("G_ref", format_args!("{gain}, of the only reference point"), Source::Sensitivity)
        }
        (How::Between, Some(below), Some(above)) if below.path < above.path => {
            let (from, to) = (below.gain.get(), above.gain.get());
            let (s1, s2) = (lengths.fine(below.path.get()), lengths.fine(above.path.get()));
            steps.step(
                "G_ref",
                format_args!(
                    "G1 + (G2 - G1) (s - s1) / (s2 - s1) = {} + ({}) ({} - {s1}) / ({s2} - {s1}) = {gain}",
                    Fixed(from, 2),
                    plus(to - from, 2),
                    lengths.fine(path)
                ),
                Source::Sensitivity,
            )
        }
        (How::Held, ..) => steps.step(
            "G_ref",
            format_args!("{gain}, the end value held outside the recorded points"),
            Source::Practice,
        ),
        (How::Sloped, ..) => steps.step(
            "G_ref",
            format_args!("{gain}, along the fitted slope outside the recorded points"),
            Source::Practice,
        ),
        _ => steps.step("G_ref", format_args!("{gain}, of the point at this path"), Source::Sensitivity),
    }
}

/// What the lines, or the means, of measured shots go through.
const LESS_SPREADING: &str = ", of shots less 20 log10 s each";

fn transfer(state: &ProbeState, path: f32, found: f32, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let Some(transfer) = state.transfer() else {
        return steps.given("T", format_args!("0: no transfer correction is recorded"));
    };
    let total = Fixed(found, 2);
    let Some(slope) = transfer.slope().filter(|slope| *slope != 0.0) else {
        let shots = if matches!(state.transfer_entry(), Some((_, false))) { LESS_SPREADING } else { "" };
        return steps.step("T", format_args!("{total} at every path{shots}"), Source::Sensitivity);
    };
    steps.step(
        "T",
        format_args!(
            "surface + slope s = {} + {} dB/mm x {} mm = {total}{LESS_SPREADING}",
            Fixed(transfer.surface().get(), 2),
            Fixed(slope, 4),
            Fixed(path, 2)
        ),
        Source::Sensitivity,
    )
}
