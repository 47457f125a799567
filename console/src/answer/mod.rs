//! Answers to questions: plain text that a person in the field reads. One file a question.

mod beam;
mod findings;
mod ground;
mod indication;
mod list;
mod locate;
mod margin;
mod rate;
mod recorded;
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
        Question::Locate => locate::answer(ground, &mut page),
        Question::Findings => findings::answer(ground, &mut page),
        Question::List => list::answer(ground.entries, &mut page),
        Question::Plan => not_yet("plan", &mut page),
        Question::Coverage => not_yet("coverage", &mut page),
        Question::Expect { .. } => not_yet("expect", &mut page),
        Question::Nature(_) => not_yet("nature", &mut page),
        Question::Why(name) => why::answer(ground, name, &mut page),
        Question::Help(verb) => help::answer(&mut page, *verb),
    }
}

/// An honest answer to what cannot be answered yet.
fn not_yet(question: &str, page: &mut Page<'_>) -> fmt::Result {
    page.heading(format_args!("{question}: this version does not answer that yet"))
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
