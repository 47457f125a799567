//! One row of a sheet: its conditions, and the class and verdict it stands for.

use core::fmt;

use super::facts::Known;
use super::limit::{Bounds, LengthLimit};
use super::span::{Span, Truth, thousandths};
use crate::units::decimal::fixed;
use crate::units::{Decibels, Degrees, Millimetres};

/// The name a code gives to a class of indications, such as "A"; may be empty.
pub type Class = heapless::String<16>;

/// What a row says of an indication. There is no fourth word: where no row surely holds, a verdict is undetermined.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Verdict {
    /// Not allowed to stay.
    Reject,
    /// Allowed by this sheet.
    Accept,
    /// Allowed by this sheet, and to be written down.
    Record,
}

/// Which part of the thickness a row is about.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum RowZone {
    /// All of it.
    #[default]
    Any,
    /// The middle half.
    MiddleHalf,
    /// The quarters next to the faces.
    OuterQuarters,
}

/// Which shapes a row is about.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum RowShape {
    /// All of them.
    #[default]
    Any,
    /// Planar ones only.
    Planar,
}

/// One row: it holds when every condition that it states holds.
///
/// ```
/// use halfskip::acceptance::criteria::{Row, Verdict};
/// let row = Row { class: "D".try_into().unwrap(), ..Row::always(Verdict::Accept) };
/// assert_eq!(row.to_string(), "always accept, class D");
/// ```
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Row {
    /// Thickness of the weld.
    pub thickness: Bounds<Millimetres>,
    /// Nominal angle of the probe; `None` for any.
    pub angle: Option<Degrees>,
    /// The measure of the sheet.
    pub measure: Bounds<Decibels>,
    /// The length along the weld must be more than this.
    pub length_over: Option<LengthLimit>,
    /// The length along the weld must be this or less.
    pub length_up_to: Option<LengthLimit>,
    /// Part of the thickness.
    pub zone: RowZone,
    /// Shape of the reflector.
    pub shape: RowShape,
    /// The class the row puts an indication in.
    pub class: Class,
    /// What the row says.
    pub verdict: Verdict,
}

/// A condition that the facts may leave unanswered.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Condition {
    Measure,
    Length,
    Zone,
    Shape,
}

/// How a row answers to the facts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Answer {
    Holds,
    Fails,
    /// It might hold; the first condition that nobody can answer.
    Open(Condition),
}

impl Row {
    /// A row without conditions.
    #[must_use]
    pub const fn always(verdict: Verdict) -> Self {
        Self {
            thickness: Bounds::ANY,
            angle: None,
            measure: Bounds::ANY,
            length_over: None,
            length_up_to: None,
            zone: RowZone::Any,
            shape: RowShape::Any,
            class: Class::new(),
            verdict,
        }
    }

    pub(super) fn answer(&self, known: &Known) -> Answer {
        let thickness = self.thickness.span().holds(Span::exact(known.thickness));
        if !self.is_for(known.angle) || thickness != Truth::Yes {
            return Answer::Fails;
        }
        let conditions = [
            (Condition::Measure, self.measure.span().holds(known.measure)),
            (Condition::Length, self.length_span(known.thickness).holds(known.length)),
            (Condition::Zone, known.zone(self.zone)),
            (Condition::Shape, known.shape(self.shape)),
        ];
        let mut answer = Answer::Holds;
        for (condition, truth) in conditions {
            match truth {
                Truth::No => return Answer::Fails,
                Truth::Unknown if answer == Answer::Holds => answer = Answer::Open(condition),
                _ => {}
            }
        }
        answer
    }

    pub(super) fn is_for(&self, angle: Option<i32>) -> bool {
        self.angle.is_none_or(|own| Some(thousandths(own.get())) == angle)
    }

    /// Lengths that the row is about, on a part that thick.
    pub(super) fn length_span(&self, thickness: i32) -> Span {
        let over = self.length_over.map(|limit| limit.at(thickness));
        let up_to = self.length_up_to.map(|limit| limit.at(thickness));
        Span { low: over.map_or(i32::MIN, |over| over.saturating_add(1)), high: up_to.unwrap_or(i32::MAX) }
    }

    pub(super) fn length_limits(&self) -> impl Iterator<Item = LengthLimit> + Clone {
        self.length_over.into_iter().chain(self.length_up_to)
    }
}

impl Verdict {
    /// The word of the sheet.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Reject => "reject",
            Self::Accept => "accept",
            Self::Record => "record",
        }
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

impl fmt::Display for RowZone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Any => "any zone",
            Self::MiddleHalf => "middle half",
            Self::OuterQuarters => "outer quarters",
        })
    }
}

/// The conditions in words, then what the row says.
impl fmt::Display for Row {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.thickness.write(f, "thickness", ["from", "over"], ["to", "below"])?;
        if let Some(angle) = self.angle {
            write!(f, "angle {} deg, ", fixed(angle.get()))?;
        }
        self.measure.write(f, "measure", ["at least", "above"], ["at most", "below"])?;
        if let Some(limit) = self.length_over {
            write!(f, "length over {limit}, ")?;
        }
        if let Some(limit) = self.length_up_to {
            write!(f, "length up to {limit}, ")?;
        }
        if self.zone != RowZone::Any {
            write!(f, "{}, ", self.zone)?;
        }
        if self.shape == RowShape::Planar {
            f.write_str("planar, ")?;
        }
        let always = Self { class: self.class.clone(), ..Self::always(self.verdict) };
        if *self == always {
            f.write_str("always ")?;
        } else {
            f.write_str("then ")?;
        }
        write!(f, "{}", self.verdict)?;
        if self.class.is_empty() { Ok(()) } else { write!(f, ", class {}", self.class) }
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::accept;
    use super::*;
    use std::string::ToString;

    #[test]
    fn a_row_without_conditions_says_always_whatever_its_class() {
        let row = Row { class: Class::try_from("D").unwrap(), ..accept() };
        assert_eq!(row.to_string(), "always accept, class D");
        assert_eq!(Row { zone: RowZone::MiddleHalf, ..row }.to_string(), "middle half, then accept, class D");
    }
}
