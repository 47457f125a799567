//! Answers to questions: plain text that a person in the field reads. One file a question, and one frame on the stack: they
//! are not inlined into one another.

mod along;
mod beam;
mod chart;
mod coverage;
mod curve;
mod dynamic;
mod expect;
mod findings;
mod ground;
mod indication;
mod list;
mod locate;
mod margin;
mod nature;
mod plan;
mod rate;
mod recorded;
mod section;
mod sides;
mod size;
mod status;
mod why;

pub(crate) use ground::{Entries, Ground};
pub(crate) use recorded::Said;

use core::fmt::{self, Write};

use crate::help;
use crate::page::Page;
use crate::parse::Question;

/// Answers a question.
#[inline(never)]
pub(crate) fn answer<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    ground: &Ground<'_, INDICATIONS, SERIES, ROWS>,
    question: &Question,
    out: &mut dyn Write,
) -> fmt::Result {
    let mut page = Page::new(out, ground.facts.common().units);
    match question {
        Question::Beam(probe) => beam::answer(&ground.facts, probe, &mut page),
        Question::Size(name) => size::answer(ground, name, &mut page),
        Question::Sides(name) => sides::answer(ground, name, &mut page),
        Question::Rate(name) => rate::answer(ground, name, &mut page),
        Question::Margin(name) => margin::answer(ground, name, &mut page),
        Question::Status => status::answer(ground, &mut page),
        Question::Along => along::answer(ground, &mut page),
        Question::Curve(probe) => curve::answer(ground, probe, &mut page),
        Question::Dynamic(name) => dynamic::answer(ground, name, &mut page),
        Question::Locate => locate::answer(ground, &mut page),
        Question::Findings => findings::answer(ground, &mut page),
        Question::List => list::answer(ground.entries, &mut page),
        Question::Plan { legs, pulse_rate, pulses } => {
            plan::answer(&ground.facts, *legs, *pulse_rate, *pulses, &mut page)
        }
        Question::Coverage { legs } => coverage::answer(&ground.facts, *legs, &mut page),
        Question::Expect { probe, side, legs } => {
            expect::answer(&ground.facts, probe, *side, *legs, &mut page)
        }
        Question::Section { beam, standoff, legs } => {
            let beam =
                beam.as_ref().map(|(probe, side)| section::Beam { probe, side: *side, standoff: *standoff });
            section::answer(ground, beam, *legs, &mut page)
        }
        Question::Nature(name, given) => nature::answer(ground, name, given, &mut page),
        Question::Why(name) => why::answer(ground, name, &mut page),
        Question::Help(verb) => help::answer(&mut page, *verb),
    }
}

/// An indication by its name; when there is none, that is the answer.
pub(crate) fn indication<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>(
    ground: &Ground<'_, INDICATIONS, SERIES, ROWS>,
    name: &str,
    page: &mut Page<'_>,
) -> Result<Option<u8>, fmt::Error> {
    let found = ground.facts.indication(name);
    if found.is_none() {
        page.heading(format_args!("there is no reading of indication {name}"))?;
    }
    Ok(found)
}
