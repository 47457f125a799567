//! Answers of the feature `reasons`: how a verdict came about, and how near it is to another.

mod margin;
mod why;

use core::fmt;

use super::Known;
use crate::answers::page::Page;
use crate::commands::parse::Reasons;

/// Answers a question for reasons.
pub(super) fn answer(known: &Known<'_>, question: &Reasons, page: &mut Page<'_>) -> fmt::Result {
    match question {
        Reasons::Margin(name) => margin::answer(known, name, page),
        Reasons::Why(name) => why::answer(known, name, page),
    }
}
