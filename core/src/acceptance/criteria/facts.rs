//! What the findings know of one indication when they ask a sheet: each fact with its bound, or why it is missing.

use core::fmt;

use super::row::{RowShape, RowZone};
use super::span::{Span, Truth, thousandths};
use crate::math;
use crate::units::decimal::{Fixed, fixed};
use crate::units::{Decibels, Degrees, Millimetres};

/// Why a fact is not known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Missing {
    /// No reading of it has a level.
    NoLevel,
    /// No reading of it has a level to rate.
    NoRating,
    /// A probe has several reference points, and a rating is against one.
    SeveralReferences,
    /// Another indication of its group was looked for in vain.
    NeighbourUnseen,
    /// No length along the weld was found.
    NoLength,
    /// The length is beyond what a length can be.
    LengthOutOfRange,
    /// No depth was found.
    NoDepth,
    /// Nobody asked.
    NotAsked,
}

impl fmt::Display for Missing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoLevel => "no reading has a level",
            Self::NoRating => "no reading can be rated",
            Self::SeveralReferences => "a probe with several reference points cannot be rated against one",
            Self::NeighbourUnseen => "a neighbour was not seen",
            Self::NoLength => "no length along the weld was found",
            Self::LengthOutOfRange => "the length is out of range",
            Self::NoDepth => "the depth was not found",
            Self::NotAsked => "not asked",
        })
    }
}

/// The measure of an indication: its level over the reference, or its weighted rating d.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Measured {
    /// A number, rounded as the sheet asks.
    Exact(Decibels),
    /// This or more: the level of a saturated echo.
    AtLeast(Decibels),
    /// This or less: the level of an echo that was looked for in vain, the rating of a saturated one.
    AtMost(Decibels),
    /// Nothing, and why.
    Unknown(Missing),
}

/// The length of an indication along the weld.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum LengthAlong {
    /// A length; with an open end it is "at least".
    Known {
        /// The length that was seen.
        length: Millimetres,
        /// Whether an end was not reached.
        open: bool,
    },
    /// Nothing, and why.
    Unknown(Missing),
}

/// The depth of an indication below the scanned face.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Depth {
    /// Somewhere from one depth to another; the same depth twice when no uncertainty is carried.
    Within {
        /// The smallest depth it can have.
        from: Millimetres,
        /// The largest depth it can have.
        to: Millimetres,
    },
    /// Nothing, and why.
    Unknown(Missing),
}

/// All that a sheet may ask about one indication.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Asked {
    /// Thickness of the weld; the thinner part's where two parts differ.
    pub thickness: Millimetres,
    /// The probe's nominal angle.
    pub angle: Degrees,
    /// What the sheet measures.
    pub measure: Measured,
    /// Length along the weld, found as the sheet asks, grouped as the sheet asks.
    pub length: LengthAlong,
    /// Depth, for the zones.
    pub depth: Depth,
    /// Whether it is planar; `None` when nobody could tell.
    pub planar: Option<bool>,
}

/// The facts in thousandths: what rows are held against. The hole finder makes its own.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Known {
    pub(super) thickness: i32,
    /// `None`: an angle that no row names.
    pub(super) angle: Option<i32>,
    pub(super) measure: Span,
    pub(super) length: Span,
    pub(super) zone: Option<RowZone>,
    pub(super) planar: Option<bool>,
}

impl Known {
    pub(super) fn new(facts: &Asked) -> Self {
        let thickness = thousandths(facts.thickness.get());
        Self {
            thickness,
            angle: Some(thousandths(facts.angle.get())),
            measure: facts.measure.span(),
            length: facts.length.span(),
            zone: facts.depth.zone(thickness),
            planar: facts.planar,
        }
    }

    pub(super) fn zone(&self, wanted: RowZone) -> Truth {
        match wanted {
            RowZone::Any => Truth::Yes,
            _ => Truth::of(self.zone, wanted),
        }
    }

    pub(super) fn shape(&self, wanted: RowShape) -> Truth {
        match wanted {
            RowShape::Any => Truth::Yes,
            RowShape::Planar => Truth::of(self.planar, true),
        }
    }
}

impl Measured {
    fn span(self) -> Span {
        let mut span = Span::ALL;
        match self {
            Self::Exact(value) => span = Span::exact(thousandths(value.get())),
            Self::AtLeast(value) => span.low = thousandths(value.get()),
            Self::AtMost(value) => span.high = thousandths(value.get()),
            Self::Unknown(_) => {}
        }
        span
    }
}

impl LengthAlong {
    fn span(self) -> Span {
        match self {
            Self::Known { length, open } => Span {
                low: thousandths(length.get()),
                high: if open { i32::MAX } else { thousandths(length.get()) },
            },
            Self::Unknown(_) => Span { low: 0, high: i32::MAX },
        }
    }
}

impl Depth {
    /// The zone, when every depth it can have lies in the same one.
    ///
    /// Exactly a quarter below a face counts with the outer quarters, where codes that tell them apart allow less
    /// \[R7\].
    fn zone(self, thickness: i32) -> Option<RowZone> {
        let Self::Within { from, to } = self else {
            return None;
        };
        let (t, one, other) = (i64::from(thickness), from.get(), to.get());
        let (from, to) = (math::smaller(one, other), math::larger(one, other));
        let (from, to) = (4 * i64::from(thousandths(from)), 4 * i64::from(thousandths(to)));
        // middle half: t/4 < z < 3t/4
        if from > t && to < 3 * t {
            Some(RowZone::MiddleHalf)
        } else if to <= t || from >= 3 * t {
            Some(RowZone::OuterQuarters)
        } else {
            None
        }
    }
}

impl fmt::Display for Measured {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Exact(value) => write!(f, "{} dB", Fixed(value.get(), 1)),
            Self::AtLeast(value) => write!(f, "only 'at least {} dB' is known", Fixed(value.get(), 1)),
            Self::AtMost(value) => write!(f, "only 'at most {} dB' is known", Fixed(value.get(), 1)),
            Self::Unknown(why) => why.fmt(f),
        }
    }
}

impl fmt::Display for LengthAlong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Known { length, open: false } => write!(f, "{} mm", Fixed(length.get(), 1)),
            Self::Known { length, open: true } => {
                let length = Fixed(length.get(), 1);
                write!(f, "an end is open, only 'at least {length} mm' is known")
            }
            Self::Unknown(why) => why.fmt(f),
        }
    }
}

impl fmt::Display for Depth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Within { from, to } => write!(
                f,
                "{} to {} mm spans a quarter line of the thickness",
                fixed(from.get()),
                fixed(to.get())
            ),
            Self::Unknown(why) => why.fmt(f),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_depth_across_a_quarter_line_has_no_zone() {
        let depth = |from: f32, to: f32| {
            Depth::Within { from: Millimetres::constant(from), to: Millimetres::constant(to) }.zone(20_000)
        };
        assert_eq!(depth(5.5, 6.5), Some(RowZone::MiddleHalf));
        assert_eq!(depth(5.0, 5.0), Some(RowZone::OuterQuarters));
        assert_eq!(depth(14.9, 15.1), None);
        assert_eq!(depth(15.1, 14.9), None);
        assert_eq!(depth(15.1, 21.0), Some(RowZone::OuterQuarters));
        assert_eq!(depth(4.0, 16.0), None);
        assert_eq!(Depth::Unknown(Missing::NoDepth).zone(20_000), None);
    }
}
