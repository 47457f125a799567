//! Answers to questions: plain text that a person in the field reads. One file a question, and one frame on the stack: they
//! are not inlined into one another. Features of this package say which of them an image has.

mod beam;
mod findings;
mod grounds;
mod indication;
mod known;
mod list;
mod locate;
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
mod recorded;
mod sides;
mod size;
mod status;

pub(crate) use known::{Known, judged};
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
pub(crate) fn answer(known: &Known<'_>, question: &Question, out: &mut dyn Write) -> fmt::Result {
    let mut page = Page::new(out, known.facts.common().units);
    match question {
        Question::Beam(probe) => beam::answer(&known.facts, probe, &mut page),
        #[cfg(feature = "planning")]
        Question::Planning(question) => planning::answer(known, question, &mut page),
        #[cfg(feature = "plots")]
        Question::Plots(question) => plots::answer(known, question, &mut page),
        Question::Locate => locate::answer(known, &mut page),
        Question::Size(name) => size::answer(known, name, &mut page),
        Question::Sides(name) => sides::answer(known, name, &mut page),
        #[cfg(feature = "character")]
        Question::Nature(name, given) => nature::answer(known, name, given, &mut page),
        Question::Rate(name) => rate::answer(known, name, &mut page),
        #[cfg(feature = "reasons")]
        Question::Reasons(question) => reasons::answer(known, question, &mut page),
        Question::Grounds(name) => grounds::answer(known, name.as_ref(), &mut page),
        Question::Findings => findings::answer(known, &mut page),
        Question::List => list::answer(&known.facts, &mut page),
        Question::Status => status::answer(known, &mut page),
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
    known: &Known<'a>,
    name: &str,
    page: &mut Page<'_>,
) -> Result<Option<Indication<'a>>, fmt::Error> {
    let found = known.findings.named(name);
    if found.is_none() {
        page.heading(format_args!("there is no reading of indication {name}"))?;
    }
    Ok(found)
}
