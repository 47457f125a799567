//! Answers to questions: plain text that a person in the field reads. One file a question, and one frame on the stack: they
//! are not inlined into one another. Features of this package say which of them an image has.

mod beam;
mod findings;
mod grounds;
mod indication;
mod list;
mod locate;
#[cfg(any(feature = "planning", feature = "plots"))]
mod mark;
#[cfg(feature = "character")]
mod nature;
pub mod page;
#[cfg(feature = "planning")]
mod planning;
#[cfg(feature = "plots")]
mod plots;
mod rate;
#[cfg(feature = "reasons")]
mod reasons;
mod record;
mod recorded;
mod sides;
mod size;
mod status;

#[cfg(feature = "host")]
pub(crate) use planning::coverage::{Crossed, SCANS, crossed};
#[cfg(feature = "host")]
pub(crate) use plots::{
    along::Lying,
    curve::{Curve, OnCurve},
    dynamic::in_lengths,
};
pub(crate) use record::Record;
pub(crate) use recorded::Said;
#[cfg(not(feature = "terse"))]
pub(crate) use recorded::of_sheet;

use core::fmt::{self, Write};

use halfskip::findings::Indication;
use halfskip::record::examination::Facts;

use crate::answers::page::Page;
use crate::commands::Verb;
use crate::commands::help;
use crate::commands::parse::Question;

/// Answers a question.
#[inline(never)]
pub(crate) fn answer(record: &Record<'_>, question: &Question, out: &mut dyn Write) -> fmt::Result {
    let mut page = Page::new(out, record.facts.common().units);
    match question {
        Question::Beam(probe) => beam::answer(&record.facts, probe, &mut page),
        #[cfg(feature = "planning")]
        Question::Plan { legs, faces, pulse_rate, pulses } => {
            let faces = planning::listed(&record.facts, *faces);
            planning::plan::answer(&record.facts, (*legs, faces), *pulse_rate, *pulses, &mut page)
        }
        #[cfg(feature = "planning")]
        Question::Coverage { legs, faces } => {
            let faces = planning::listed(&record.facts, *faces);
            planning::coverage::answer(&record.facts, *legs, faces, &mut page)
        }
        #[cfg(feature = "planning")]
        Question::Expect { probe, side, legs } => {
            planning::expect::answer(&record.facts, probe, *side, *legs, &mut page)
        }
        #[cfg(feature = "planning")]
        Question::Section { beam, standoff, legs } => {
            planning::section::answer(record, beam.as_ref(), *standoff, *legs, &mut page)
        }
        #[cfg(feature = "plots")]
        Question::Along => plots::along::answer(record, &mut page),
        #[cfg(feature = "plots")]
        Question::Curve(probe) => plots::curve::answer(record, probe, &mut page),
        #[cfg(feature = "plots")]
        Question::Dynamic(name) => plots::dynamic::answer(record, name, &mut page),
        Question::Locate => locate::answer(record, &mut page),
        Question::Size(name) => size::answer(record, name, &mut page),
        Question::Sides(name) => sides::answer(record, name, &mut page),
        #[cfg(feature = "character")]
        Question::Nature(name, given) => nature::answer(record, name, given, &mut page),
        Question::Rate(name) => rate::answer(record, name, &mut page),
        #[cfg(feature = "reasons")]
        Question::Margin(name) => reasons::margin::answer(record, name, &mut page),
        #[cfg(feature = "reasons")]
        Question::Why(name) => reasons::why::answer(record, name, &mut page),
        Question::Grounds(name) => grounds::answer(record, name.as_ref(), &mut page),
        Question::Findings => findings::answer(record, &mut page),
        Question::List => list::answer(&record.facts, &mut page),
        Question::Status => status::answer(record, &mut page),
        Question::Help(verb) => help::answer(&mut page, *verb),
    }
}

/// Answers a question about the record itself, in a console that has only some of the verbs.
#[inline(never)]
pub(crate) fn of_the_record(
    facts: &Facts<'_>,
    question: &Question,
    has: fn(&Verb) -> bool,
    out: &mut dyn Write,
) -> fmt::Result {
    let mut page = Page::new(out, facts.common().units);
    match question {
        Question::List => list::answer(facts, &mut page),
        Question::Status => status::of_the_record(facts, &mut page),
        Question::Help(verb) => help::answer_among(&mut page, *verb, has),
        _ => Ok(()),
    }
}

/// An indication by its name; when there is none, that is the answer.
pub(crate) fn indication<'a>(
    record: &Record<'a>,
    name: &str,
    page: &mut Page<'_>,
) -> Result<Option<Indication<'a>>, fmt::Error> {
    let found = record.findings.named(name);
    if found.is_none() {
        page.heading(format_args!("there is no reading of indication {name}"))?;
    }
    Ok(found)
}
