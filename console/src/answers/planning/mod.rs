//! Answers of the feature `planning`: before the probe touches steel.

mod coverage;
mod expect;
mod plan;
mod section;

use core::fmt;

use super::Known;
use crate::answers::page::Page;
use crate::language::parse::Planning;

/// Answers a question of planning.
pub(super) fn answer<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    known: &Known<'_, INDICATIONS, SERIES, ROWS>,
    question: &Planning,
    page: &mut Page<'_>,
) -> fmt::Result {
    match question {
        Planning::Plan { legs, pulse_rate, pulses } => {
            plan::answer(&known.facts, *legs, *pulse_rate, *pulses, page)
        }
        Planning::Coverage { legs } => coverage::answer(&known.facts, *legs, page),
        Planning::Expect { probe, side, legs } => expect::answer(&known.facts, probe, *side, *legs, page),
        Planning::Section { beam, standoff, legs } => {
            let beam =
                beam.as_ref().map(|(probe, side)| section::Beam { probe, side: *side, standoff: *standoff });
            section::answer(known, beam, *legs, page)
        }
    }
}
