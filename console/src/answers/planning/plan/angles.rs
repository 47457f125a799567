//! Which angles suit the joint.

use core::fmt;

use halfskip::part::joint::Joint;
use halfskip::planning::plan::{Barrier, CANDIDATES, Limits, PlanError, RootMissed, Suggestion, suggest};
use halfskip::record::examination::Facts;
use halfskip::units::Millimetres;
use halfskip::units::decimal::Fixed;

use crate::answers::page::{Lengths, Page};

/// As many as angles are compared.
const MARKS: [&str; 8] = ["  1. ", "  2. ", "  3. ", "  4. ", "  5. ", "  6. ", "  7. ", "  8. "];

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
    let limits = Limits { legs, ..Limits::default() };
    page.heading(format_args!("Angles for this joint, the most suitable first (advice)"))?;
    let ranked = suggest(joint, CANDIDATES.into_iter().chain(own), front, limits);
    for (mark, one) in MARKS.iter().zip(&ranked) {
        page.marked(mark, format_args!("{} deg: {}", Fixed(one.angle.get(), 1), suits(one, page.lengths)))?;
    }
    Ok(())
}

/// What speaks for an angle and against it, in the session's unit.
fn suits(one: &Suggestion, lengths: Lengths) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        if let Some(largest) = one.bore_missed {
            return write!(f, "misses the bore, which is met below {} deg", Fixed(largest.get(), 1));
        }
        match one.root {
            Ok(()) => f.write_str("root in leg 1")?,
            Err(RootMissed::Barred(Barrier::Cap { standoff, least })) => write!(
                f,
                "root not in leg 1, the cap in the way: stand-off {}, {} clears it",
                lengths.of(standoff),
                lengths.of(least)
            )?,
            Err(RootMissed::Barred(barrier)) => write!(f, "root not in leg 1, {barrier}")?,
            Err(RootMissed::NoPlan(PlanError::NoFront)) => {
                f.write_str("root in leg 1 not known without the probe's nose (front=)")?;
            }
            Err(RootMissed::NoPlan(error)) => write!(f, "{error}")?,
        }
        match one.off_square {
            Some(off) => {
                write!(f, "; fusion faces {} deg off square at worst, at mid-depth", Fixed(off.get(), 0))?
            }
            None => f.write_str("; no fusion face met")?,
        }
        write!(f, "; a leg of {}", lengths.of(one.leg))
    })
}
