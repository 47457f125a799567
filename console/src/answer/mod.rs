//! Answers to questions: plain text that a person in the field reads. One file a question.

mod findings;
mod ground;
mod indication;
mod list;
mod locate;
mod recorded;

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
    if let Question::Help(verb) = question {
        return help::answer(out, *verb);
    }
    let mut page = Page::new(out, ground.facts.common().units);
    match question {
        Question::Locate => locate::answer(ground, &mut page),
        Question::Findings => findings::answer(ground, &mut page),
        Question::List => list::answer(ground.entries, &mut page),
        _ => page.heading(format_args!("this version does not answer that yet")),
    }
}
