//! Which angles suit the joint.

use core::fmt;

use halfskip::decimal::Fixed;
use halfskip::examination::Facts;
use halfskip::joint::Joint;
use halfskip::plan::{CANDIDATES, Limits, suggest};
use halfskip::units::Millimetres;

use crate::page::Page;

pub(super) fn answer(facts: &Facts<'_>, joint: &Joint, legs: u32, page: &mut Page<'_>) -> fmt::Result {
    let probes = || facts.probes().iter().filter_map(|state| state.probe());
    // The longest nose at hand; not known as soon as one is not.
    let known = probes().all(|probe| probe.front().is_some());
    let longest =
        probes().filter_map(|probe| probe.front()).fold(None, |held: Option<Millimetres>, front| {
            Some(held.filter(|held| *held > front).unwrap_or(front))
        });
    let front = longest.filter(|_| known);
    let own = facts.probes().iter().filter_map(|state| state.axis().map(|axis| axis.angle()));
    let limits = Limits { legs, range: None };
    page.heading(format_args!("Angles for this joint, the most suitable first (advice)"))?;
    let ranked = suggest(joint, CANDIDATES.into_iter().chain(own), front, limits);
    for (place, one) in (1u8..).zip(&ranked) {
        page.hanging(7, format_args!("  {place}. {} deg: {one}", Fixed(one.angle.get(), 1)))?;
    }
    Ok(())
}
