//! Questions of the feature `plots`.

use halfskip::record::entry::Name;

use super::questions::{about, verb};
use super::{Fields, Form, INDICATION, Line, PROBE, Question, Verb, question};

/// What can be drawn of what is recorded.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Plots {
    /// `along`: the indications along the weld, drawn.
    Along,
    /// `curve NAME`: the probe's reference curve with its readings, drawn.
    Curve(Name),
    /// `dynamic ID`: the echo-dynamic curves, drawn.
    Dynamic(Name),
}

pub(super) const VERBS: &[Verb] = &[
    verb(
        "curve",
        "the reference curve of a probe drawn, with every reading on it",
        &[about(&PROBE, curve, "curve p60")],
    ),
    verb("along", "the indications along the weld, drawn from above", &[Form::new(along, "along")]),
    verb(
        "dynamic",
        "the echo-dynamic curves of an indication, drawn",
        &[about(&INDICATION, dynamic, "dynamic 1")],
    ),
];

const fn asked(plot: Plots) -> Option<Line> {
    question(Question::Plots(plot))
}

fn along(_: &mut Fields<'_>) -> Option<Line> {
    asked(Plots::Along)
}

fn curve(fields: &mut Fields<'_>) -> Option<Line> {
    asked(Plots::Curve(fields.name()?))
}

fn dynamic(fields: &mut Fields<'_>) -> Option<Line> {
    asked(Plots::Dynamic(fields.name()?))
}
