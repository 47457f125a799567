//! The words that evidence and advice share.

use core::fmt;

use super::evidence::Says;
use crate::part::side::{Face, Side};
use crate::units::decimal::Fixed;

/// "far face", "near face".
pub(super) struct FaceWord(pub Face);

impl fmt::Display for FaceWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.0 {
            Face::Near => "near face",
            Face::Far => "far face",
        })
    }
}

/// "A", "B".
pub(super) struct SideWord(pub Side);

impl fmt::Display for SideWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.0 {
            Side::A => "A",
            Side::B => "B",
        })
    }
}

/// "1 view", "6 views", "2 echoes".
pub(super) struct Counted(pub u32, pub &'static str);

impl fmt::Display for Counted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(count, word) = *self;
        let plural = match (count, word) {
            (1, _) => "",
            (_, "echo") => "es",
            _ => "s",
        };
        write!(f, "{count} {word}{plural}")
    }
}

/// "3.2 dB over", "18.6 dB under".
pub(super) struct Over(pub f32);

impl fmt::Display for Over {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = if self.0 < 0.0 { "under" } else { "over" };
        write!(f, "{} dB {word}", Fixed(self.0.abs(), 1))
    }
}

/// What a fact says, in words: "for planar, firmly against buried".
pub(super) struct BothWays(pub Says);

impl fmt::Display for BothWays {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Says { planar, far, near, buried, flaw } = self.0;
        let questions = [
            (planar, "planar", "volumetric"),
            (far, "breaking the far face", ""),
            (near, "breaking the near face", ""),
            (buried, "buried", ""),
            (flaw, "a flaw", "the shape of the weld"),
        ];
        let mut first = true;
        for (weight, yes, no) in questions.into_iter().filter(|(weight, ..)| *weight != 0) {
            if !first {
                f.write_str(", ")?;
            }
            first = false;
            let firmly = if weight.unsigned_abs() > 1 { "firmly " } else { "" };
            // What has a word of its own for its opposite speaks for that.
            let (stance, word) = match (weight.is_positive(), no.is_empty()) {
                (true, _) => ("for", yes),
                (false, true) => ("against", yes),
                (false, false) => ("for", no),
            };
            write!(f, "{firmly}{stance} {word}")?;
        }
        if first { f.write_str("settles nothing") } else { Ok(()) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::string::ToString;

    #[test]
    fn nothing_more_is_over_and_less_is_under() {
        assert_eq!(
            [0.0, 3.5, -18.5].map(|over| Over(over).to_string()),
            ["0.0 dB over", "3.5 dB over", "18.5 dB under"]
        );
    }

    #[test]
    fn what_has_a_word_for_its_opposite_speaks_for_that() {
        let says = Says { planar: -2, far: -1, near: 0, buried: 1, flaw: -1 };
        assert_eq!(
            BothWays(says).to_string(),
            "firmly for volumetric, against breaking the far face, for buried, for the shape of the weld"
        );
        assert_eq!(BothWays(Says::NOTHING).to_string(), "settles nothing");
    }
}
