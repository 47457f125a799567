//! Questions of the feature `reasons`.

use halfskip::record::entry::Name;

use super::questions::{about, verb};
use super::{Fields, INDICATION, Line, Question, Verb, question};

/// What can be asked of how a verdict came about.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Reasons {
    /// `margin ID`: how far from the nearest limit.
    Margin(Name),
    /// `why ID`: the whole derivation.
    Why(Name),
}

pub(super) const VERBS: &[Verb] = &[
    verb(
        "margin",
        "how far an indication is from the nearest limit",
        &[about(&INDICATION, margin, "margin 1")],
    ),
    verb("why", "every step from reading to verdict", &[about(&INDICATION, why, "why 1")]),
];

const fn asked(reason: Reasons) -> Option<Line> {
    question(Question::Reasons(reason))
}

fn margin(fields: &mut Fields<'_>) -> Option<Line> {
    asked(Reasons::Margin(fields.name()?))
}

fn why(fields: &mut Fields<'_>) -> Option<Line> {
    asked(Reasons::Why(fields.name()?))
}
