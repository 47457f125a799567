//! How one probe is moved: time-base range, raster step, highest speed.

use core::fmt;

use halfskip::part::joint::Section;
use halfskip::physics::probe::Probe;
use halfskip::planning::plan::{Raster, Scan, fastest, raster, targets};
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::Millimetres;
use halfskip::units::decimal::Fixed;

use crate::answers::page::{Lengths, Page};

/// Answers for one probe; `pulses` is the pulse rate with the pulses wanted on each step.
pub(super) fn answer(
    facts: &Facts<'_>,
    state: &ProbeState,
    probe: &Probe,
    scan: &Scan,
    section: &Section,
    pulses: Option<(u32, Option<u32>)>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let lengths = page.lengths;
    let longest = scan.limits().legs as f32 * scan.legs().length();
    match super::super::expect::time(facts, state, longest) {
        Some((time, basis)) => page.item(
            "time base",
            format_args!("to {} at least, {} us{basis}", lengths.of(longest), Fixed(time, 1)),
        )?,
        None => page.item(
            "time base",
            format_args!("to {} at least; no material and no time base tell the time", lengths.of(longest)),
        )?,
    }
    let Some((_, material)) = facts.common().material.as_ref() else {
        return page.item("raster step", format_args!("not known: no material is recorded"));
    };
    let Some(shortest) = shortest(scan, section) else { return Ok(()) };
    let axis = state.axis().map_or(probe.refracted(), |axis| axis.angle());
    let found = match raster(probe, axis, material.shear(), shortest) {
        Ok(Some(found)) => found,
        Ok(None) => {
            return page
                .item("raster step", format_args!("not known: the element is too small to have an edge"));
        }
        Err(error) => return page.item("raster step", format_args!("not known: {error}")),
    };
    let Raster { step, width, path, .. } = found;
    let at = at(path, lengths);
    page.item(
        "raster step",
        format_args!(
            "{}: 10 % less than the beam, {} wide along the weld (-6 dB) {at}",
            lengths.finely(step),
            lengths.finely(width)
        ),
    )?;
    page.item("", format_args!("10 % from memory of ASME V article 4 T-471.1"))?;
    let Some((rate, wanted)) = pulses else { return Ok(()) };
    let wanted = wanted.unwrap_or(1);
    match fastest(step, rate as f32, wanted as f32) {
        Ok(speed) => page.item(
            "highest speed",
            format_args!("{} a second: {wanted} of {rate} pulses a second on each step", lengths.of(speed)),
        ),
        Err(error) => page.item("highest speed", format_args!("not known: {error}")),
    }
}

/// Where the beam's width was taken.
fn at(path: Option<f32>, lengths: Lengths) -> impl fmt::Display {
    fmt::from_fn(move |f| match path {
        Some(path) => write!(f, "at path {}", lengths.of(path)),
        None => f.write_str("where it is narrowest, at the end of the near field"),
    })
}

/// The shortest path by which a leg meets a target.
fn shortest(scan: &Scan, section: &Section) -> Option<Millimetres> {
    let mut shortest: Option<f32> = None;
    targets(section, |target| {
        for leg in scan.allowed() {
            if let Ok(reach) = scan.reach(leg, &target)
                && shortest.is_none_or(|held| reach.shortest.0 < held)
            {
                shortest = Some(reach.shortest.0);
            }
        }
    });
    Millimetres::new(shortest?).ok()
}
