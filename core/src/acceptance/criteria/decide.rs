//! The decision: the first row that surely holds, unless an earlier one might hold and says otherwise.

use core::fmt;

use super::facts::{Asked, Depth, Known, LengthAlong, Measured};
use super::row::{Answer, Class, Condition, Row, Verdict};
use super::sheet::{Criteria, Measure};
use super::span::{Span, Truth, thousandths};
use crate::units::decimal::fixed;
use crate::units::{Degrees, Millimetres};

/// What a sheet says of an indication, and why.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Decision {
    /// The verdict; `None` is undetermined, which is neither "accept" nor "not reject".
    pub verdict: Option<Verdict>,
    /// The class of the deciding row; empty when undetermined or when the sheet names none.
    pub class: Class,
    /// The number of the deciding row, counted from 1.
    pub row: Option<usize>,
    /// Why.
    pub because: Because,
}

/// Why a decision came out as it did.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Because {
    /// This row surely holds, and no earlier one that might hold says anything else.
    Holds {
        /// Its number.
        row: usize,
    },
    /// This row might hold, and one of its conditions cannot be answered.
    Needs {
        /// Its number.
        row: usize,
        /// The first condition that cannot be answered.
        need: Need,
    },
    /// The sheet has no row for a probe of this nominal angle.
    NoRowForAngle(Degrees),
    /// The sheet has no row for this thickness.
    NoRowForThickness(Millimetres),
    /// No row holds.
    NoRow,
}

/// What a row asks that the facts do not answer, with what they do say.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Need {
    /// The level over the reference.
    Level(Measured),
    /// The weighted rating.
    Rating(Measured),
    /// The length along the weld.
    Length(LengthAlong),
    /// The depth, for a zone of the thickness.
    Depth(Depth),
    /// Whether it is planar.
    Shape,
}

/// What rows alone say, before it is put into words.
#[derive(Clone, Copy)]
pub(super) enum Judgement<'s> {
    Holds(usize, &'s Row),
    Open(usize, Condition),
    NoRow,
}

impl Judgement<'_> {
    /// Whether both say the same of an indication.
    pub(super) fn agrees(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Holds(_, row), Self::Holds(_, other)) => says_the_same(row, other),
            (Self::Holds(..), _) | (_, Self::Holds(..)) => false,
            _ => true,
        }
    }
}

fn says_the_same(row: &Row, other: &Row) -> bool {
    row.verdict == other.verdict && row.class == other.class
}

/// The first row that surely holds decides, unless an earlier one might hold and says otherwise.
pub(super) fn judge<'s>(rows: &'s [Row], known: &Known) -> Judgement<'s> {
    let answers = rows.iter().zip(1usize..).map(|(row, number)| (row, number, row.answer(known)));
    let sure = answers.clone().find(|(_, _, answer)| *answer == Answer::Holds);
    for (row, number, answer) in answers {
        match (answer, sure) {
            (Answer::Fails, _) => {}
            (Answer::Holds, _) => return Judgement::Holds(number, row),
            (Answer::Open(_), Some((sure, ..))) if says_the_same(row, sure) => {}
            (Answer::Open(condition), _) => return Judgement::Open(number, condition),
        }
    }
    Judgement::NoRow
}

/// Holds the facts of one indication against a sheet.
///
/// Three-valued: a row that might hold blocks every later row that says anything else. Nothing unknown is guessed,
/// and an indication that no row covers is undetermined, never accepted. See the example of [`crate::acceptance::criteria`].
#[must_use]
pub fn decide(sheet: &Criteria, facts: &Asked) -> Decision {
    explain(sheet, facts, &Known::new(facts))
}

/// The same by what is known in thousandths, put into the words of the facts.
pub(super) fn explain(sheet: &Criteria, facts: &Asked, known: &Known) -> Decision {
    let undetermined = |because| Decision { verdict: None, class: Class::new(), row: None, because };
    match judge(sheet.rows(), known) {
        Judgement::Holds(number, row) => Decision {
            verdict: Some(row.verdict),
            class: row.class.clone(),
            row: Some(number),
            because: Because::Holds { row: number },
        },
        Judgement::Open(row, condition) => {
            let need = match (condition, sheet.head().measure) {
                (Condition::Measure, Measure::Level) => Need::Level(facts.measure),
                (Condition::Measure, Measure::Weighted(_)) => Need::Rating(facts.measure),
                (Condition::Length, _) => Need::Length(facts.length),
                (Condition::Zone, _) => Need::Depth(facts.depth),
                (Condition::Shape, _) => Need::Shape,
            };
            undetermined(Because::Needs { row, need })
        }
        Judgement::NoRow => undetermined(no_row(sheet.rows(), facts)),
    }
}

/// Which of the conditions that never change during an examination keeps every row out.
fn no_row(rows: &[Row], facts: &Asked) -> Because {
    let thickness = Span::exact(thousandths(facts.thickness.get()));
    let angle = Some(thousandths(facts.angle.get()));
    let mut for_angle = rows.iter().filter(|row| row.is_for(angle)).peekable();
    if for_angle.peek().is_none() {
        Because::NoRowForAngle(facts.angle)
    } else if for_angle.all(|row| row.thickness.span().holds(thickness) != Truth::Yes) {
        Because::NoRowForThickness(facts.thickness)
    } else {
        Because::NoRow
    }
}

impl Decision {
    /// "reject", "accept", "record" or "undetermined".
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self.verdict {
            Some(verdict) => verdict.word(),
            None => "undetermined",
        }
    }
}

impl fmt::Display for Because {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Holds { row } => write!(f, "row {row} of the sheet holds"),
            Self::Needs { row, need } => write!(f, "row {row} needs {need}"),
            Self::NoRowForAngle(angle) => {
                write!(f, "the sheet has no row for a {} deg probe", fixed(angle.get()))
            }
            Self::NoRowForThickness(thickness) => {
                write!(f, "the sheet has no row for {} mm of thickness", fixed(thickness.get()))
            }
            Self::NoRow => f.write_str("no row of the sheet matches"),
        }
    }
}

impl fmt::Display for Need {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Level(level) => write!(f, "the level: {level}"),
            Self::Rating(rating) => write!(f, "the rating: {rating}"),
            Self::Length(length) => write!(f, "the length: {length}"),
            Self::Depth(depth) => write!(f, "the depth: {depth}"),
            Self::Shape => f.write_str("the shape: it is not settled whether the indication is planar"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::*;
    use super::super::{RowShape, Sheet, SheetError};
    use super::*;
    use std::string::ToString;

    fn lengths() -> Result<Sheet, SheetError> {
        let long =
            Row { measure: between(from(db(-10.0)), None), length_over: fixed_length(10.0), ..reject() };
        let longest = Row { length_over: fixed_length(20.0), ..Row::always(Verdict::Record) };
        sheet([long, longest, accept()])
    }

    fn outcome(facts: &Asked) -> (&'static str, std::string::String) {
        let decision = decide(&lengths().unwrap(), facts);
        (decision.word(), decision.because.to_string())
    }

    #[test]
    fn an_unknown_length_is_named_by_the_first_row_that_might_hold() {
        let (word, why) = outcome(&facts(0.0));
        assert_eq!(word, "undetermined");
        assert_eq!(why, "row 1 needs the length: no length along the weld was found");
        // Below -10 dB the first row cannot hold: it is the second that asks.
        assert!(outcome(&facts(-10.1)).1.starts_with("row 2 needs the length"));
    }

    #[test]
    fn an_open_length_answers_over_and_not_up_to() {
        let mut known = facts(0.0);
        known.length = long(12.0, true);
        assert_eq!(outcome(&known).0, "reject");
        known.measure = Measured::Exact(db(-20.0));
        let (word, why) = outcome(&known);
        assert_eq!(word, "undetermined");
        assert_eq!(why, "row 2 needs the length: an end is open, only 'at least 12.0 mm' is known");
        known.length = long(12.0, false);
        assert_eq!(outcome(&known).0, "accept");
    }

    #[test]
    fn a_bound_decides_where_it_lies_beyond_the_limit() {
        let mut known = facts(0.0);
        known.length = long(15.0, false);
        known.measure = Measured::AtLeast(db(-10.0));
        assert_eq!(outcome(&known).0, "reject");
        known.measure = Measured::AtLeast(db(-10.1));
        assert_eq!(outcome(&known).1, "row 1 needs the level: only 'at least -10.1 dB' is known");
        known.measure = Measured::AtMost(db(-10.1));
        assert_eq!(outcome(&known).0, "accept");
        known.measure = Measured::AtMost(db(-10.0));
        assert_eq!(outcome(&known).0, "undetermined");
    }

    #[test]
    fn a_row_that_might_hold_does_not_block_one_that_says_the_same() {
        let planar = Row { shape: RowShape::Planar, ..reject() };
        let strong = Row { measure: between(over(db(6.0)), None), ..reject() };
        let sheet = sheet([planar, strong, accept()]).unwrap();
        assert_eq!(decide(&sheet, &facts(6.1)).row, Some(2));
        let weak = decide(&sheet, &facts(6.0));
        assert_eq!(weak.verdict, None);
        assert_eq!(
            weak.because.to_string(),
            "row 1 needs the shape: it is not settled whether the indication is planar"
        );
    }

    #[test]
    fn outside_its_range_a_sheet_says_nothing() {
        let thick = Row {
            thickness: between(from(mm(20.0)), None),
            angle: Some(Degrees::constant(60.0)),
            ..accept()
        };
        let sheet = sheet([thick]).unwrap();
        let mut known = facts(0.0);
        assert_eq!(decide(&sheet, &known).verdict, Some(Verdict::Accept));
        known.thickness = mm(19.9);
        let thin = decide(&sheet, &known);
        assert_eq!((thin.word(), thin.row), ("undetermined", None));
        assert_eq!(thin.because.to_string(), "the sheet has no row for 19.9 mm of thickness");
        known.angle = Degrees::constant(70.0);
        assert_eq!(decide(&sheet, &known).because.to_string(), "the sheet has no row for a 70 deg probe");
    }
}
