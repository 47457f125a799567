//! Figures: lengths in the session's unit, levels with their sign and bound.

use core::fmt;

use halfskip::calibration::level::{Bound, Level};
use halfskip::record::entry::LengthUnit;
use halfskip::units::decimal::{Fixed, fixed};

const INCH: f32 = 25.4;

/// Degrees of freedom, in words.
pub(crate) fn freedom(degrees: u32) -> impl fmt::Display {
    fmt::from_fn(move |f| write!(f, "{} degree{} of freedom", degrees, if degrees == 1 { "" } else { "s" }))
}

/// How lengths are written: in millimetres with one decimal, in inches with three; a derivation takes one more.
#[derive(Clone, Copy)]
pub(crate) struct Lengths(pub LengthUnit);

impl Lengths {
    /// "mm" or "in".
    pub const fn unit(self) -> &'static str {
        match self.0 {
            LengthUnit::Mm => "mm",
            LengthUnit::In => "in",
        }
    }

    /// The unit's name in full.
    pub const fn word(self) -> &'static str {
        match self.0 {
            LengthUnit::Mm => "millimetres",
            LengthUnit::In => "inches",
        }
    }

    const fn convert(self, mm: f32) -> f32 {
        match self.0 {
            LengthUnit::Mm => mm,
            LengthUnit::In => mm / INCH,
        }
    }

    const fn places(self) -> u8 {
        match self.0 {
            LengthUnit::Mm => 1,
            LengthUnit::In => 3,
        }
    }

    /// The number in this unit.
    pub const fn number(self, mm: f32) -> f32 {
        self.convert(mm)
    }

    /// Millimetres of a number in this unit.
    pub const fn millimetres(self, number: f32) -> f32 {
        match self.0 {
            LengthUnit::Mm => number,
            LengthUnit::In => number * INCH,
        }
    }

    /// The number alone.
    pub const fn bare(self, mm: f32) -> Fixed {
        Fixed(self.convert(mm), self.places())
    }

    /// The number alone, with one more decimal.
    pub const fn fine(self, mm: f32) -> Fixed {
        Fixed(self.convert(mm), self.places() + 1)
    }

    /// Number and unit.
    pub fn of(self, mm: f32) -> impl fmt::Display {
        With(self.bare(mm), self.unit())
    }

    /// Number and unit, with one more decimal.
    pub fn finely(self, mm: f32) -> impl fmt::Display {
        With(self.fine(mm), self.unit())
    }

    /// Number with its sign and one more decimal, and unit.
    pub fn signed(self, mm: f32) -> impl fmt::Display {
        With(plus(self.convert(mm), self.places() + 1), self.unit())
    }

    /// Number and unit of a length that was typed: no decimal more than it needs.
    pub fn typed(self, mm: f32) -> impl fmt::Display {
        With(fixed(self.convert(mm)), self.unit())
    }

    /// Where a true index point lies that is so far ahead of its mark.
    pub fn ahead(self, mm: f32) -> impl fmt::Display {
        Ahead(self, mm)
    }

    /// A length and its expanded uncertainty.
    pub fn within(self, mm: f32, expanded: f32) -> impl fmt::Display {
        Within(self, mm, expanded)
    }
}

/// Where a true index point lies: "0.3 mm ahead of the mark".
struct Ahead(Lengths, f32);

impl fmt::Display for Ahead {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(lengths, mm) = *self;
        let way = if mm < 0.0 { "behind" } else { "ahead of" };
        write!(f, "{} {way} the mark", lengths.of(mm.abs()))
    }
}

struct With<N>(N, &'static str);

impl<N: fmt::Display> fmt::Display for With<N> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.0, self.1)
    }
}

struct Within(Lengths, f32, f32);

impl fmt::Display for Within {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(lengths, mm, expanded) = *self;
        write!(f, "{} +/- {} {}", lengths.bare(mm), lengths.bare(expanded), lengths.unit())
    }
}

/// A number with its sign, such as decibels over a reference.
pub(crate) fn plus(value: f32, places: u8) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        // What rounds to nothing has no sign.
        let least = [0.5, 0.05, 0.005, 0.000_5, 0.000_05].get(usize::from(places)).copied().unwrap_or(0.0);
        if value >= least {
            f.write_str("+")?;
        }
        write!(f, "{}", Fixed(value, places))
    })
}

/// A level in words: "+3.2 dB", "at least +3.2 dB".
pub(crate) fn level(level: Level) -> impl fmt::Display {
    Told(level)
}

struct Told(Level);

impl fmt::Display for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.0.bound {
            Bound::Exact => "",
            Bound::AtLeast => "at least ",
            Bound::AtMost => "at most ",
        })?;
        write!(f, "{} dB", plus(self.0.db.get(), 1))
    }
}

/// Things with a separator between them.
pub(crate) fn joined<T: fmt::Display>(
    separator: &str,
    items: impl Iterator<Item = T> + Clone,
) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let mut items = items.clone();
        items.next().map_or(Ok(()), |first| write!(f, "{first}"))?;
        items.try_for_each(|item| write!(f, "{separator}{item}"))
    })
}

/// A height of the screen.
pub(crate) fn percent(height: f32) -> impl fmt::Display {
    With(fixed(height), "%")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::format;

    #[test]
    fn what_rounds_to_nothing_has_no_sign() {
        assert_eq!(format!("{} {} {}", plus(0.04, 1), plus(-0.04, 1), plus(0.05, 1)), "0.0 0.0 +0.1");
    }

    #[test]
    fn a_session_in_inches_is_answered_in_inches() {
        let inches = Lengths(LengthUnit::In);
        assert_eq!(
            format!("{}, {}", inches.of(25.4), inches.within(12.7, 0.254)),
            "1.000 in, 0.500 +/- 0.010 in"
        );
        assert_eq!(format!("{}", inches.typed(9.525)), "0.375 in");
    }
}
