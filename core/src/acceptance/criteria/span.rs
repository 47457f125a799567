//! What is known of a number, and whether a condition on it holds: closed ranges of whole thousandths.
//!
//! Every comparison of a sheet is made in thousandths of a decibel, a millimetre or a degree. So the last bit of a
//! float never decides a verdict, "above 3" is "at least 3.001", and the hole finder can visit every case there is.

/// A thousandth is the finest step a sheet tells apart.
pub(super) fn thousandths(value: f32) -> i32 {
    let scaled = value * 1000.0;
    // The cast cuts toward zero and stops at the ends of i32; the half makes it round.
    (if scaled < 0.0 { scaled - 0.5 } else { scaled + 0.5 }) as i32
}

/// The number of so many thousandths.
pub(super) fn number(thousandths: i32) -> f32 {
    thousandths as f32 / 1000.0
}

/// A closed range of thousandths; the ends of `i32` stand for no end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Span {
    pub(super) low: i32,
    pub(super) high: i32,
}

/// Whether a condition holds, as far as the facts say.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Truth {
    Yes,
    No,
    Unknown,
}

impl Truth {
    /// What is known of `wanted`, when the fact may be unknown.
    pub(super) fn of<T: PartialEq>(known: Option<T>, wanted: T) -> Self {
        match known {
            None => Self::Unknown,
            Some(known) if known == wanted => Self::Yes,
            Some(_) => Self::No,
        }
    }
}

impl Span {
    pub(super) const ALL: Self = Self { low: i32::MIN, high: i32::MAX };

    pub(super) const fn exact(value: i32) -> Self {
        Self { low: value, high: value }
    }

    /// The one value, when it is known to the last thousandth.
    pub(super) const fn value(self) -> Option<i32> {
        if self.low == self.high { Some(self.low) } else { None }
    }

    pub(super) const fn is_empty(self) -> bool {
        self.low > self.high
    }

    /// Whether a number known to lie in `known` lies in this range.
    pub(super) const fn holds(self, known: Self) -> Truth {
        if known.low >= self.low && known.high <= self.high {
            Truth::Yes
        } else if known.high < self.low || known.low > self.high {
            Truth::No
        } else {
            Truth::Unknown
        }
    }

    /// The first value of the range and the first behind it, where they exist.
    pub(super) fn edges(self) -> impl Iterator<Item = i32> {
        let low = (self.low > i32::MIN).then_some(self.low);
        low.into_iter().chain(self.high.checked_add(1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bound_answers_what_it_can_and_no_more() {
        let at_least_12 = Span { low: 12_000, high: i32::MAX };
        let over = |mm: i32| Span { low: mm * 1000 + 1, high: i32::MAX };
        let up_to = |mm: i32| Span { low: i32::MIN, high: mm * 1000 };
        assert_eq!(over(10).holds(at_least_12), Truth::Yes);
        assert_eq!(over(12).holds(at_least_12), Truth::Unknown);
        assert_eq!(up_to(20).holds(at_least_12), Truth::Unknown);
        assert_eq!(up_to(10).holds(at_least_12), Truth::No);
        assert!(!Span::exact(12_000).is_empty() && Span { low: 1, high: 0 }.is_empty());
        assert_eq!((Span::ALL.edges().count(), Span::exact(5).edges().count()), (0, 2));
    }

    #[test]
    fn a_float_is_the_nearest_thousandth() {
        assert_eq!(thousandths(-10.000_001), -10_000);
        assert_eq!(thousandths(19.05), 19_050);
        assert_eq!(thousandths(-0.000_4), 0);
        assert_eq!(thousandths(f32::INFINITY), i32::MAX);
    }
}
