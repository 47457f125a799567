//! What the characters of a drawing show.

use core::fmt::{self, Write};

use halfskip::calibration::level::Bound;
use halfskip::part::side::Side;

use super::page::Page;

/// What one character shows.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// Nothing.
    Blank,
    /// A curve between what was recorded; cap or bead.
    Curve,
    /// A curve beyond what was recorded; an edge of the weld, or of its heat-affected zone.
    Edge,
    /// A level or a line that others are read against; a face of the plate.
    Level,
    /// The end of an indication; an upright fusion face.
    Upright,
    /// A fusion face that falls toward side B.
    Falling,
    /// A fusion face that falls toward side A.
    Rising,
    /// A backing bar.
    Backing,
    /// A leg of the beam.
    Leg(u8),
    /// A reference echo.
    Point,
    /// A reading from side A.
    SideA,
    /// A reading from side B.
    SideB,
    /// A level of at least that.
    AtLeast,
    /// A level of at most that.
    AtMost,
    /// Between the ends of an indication.
    Between,
    /// Its start, and its end.
    Ends(bool),
    /// The same where the end was not found.
    Open(bool),
    /// An indication, by its place.
    Indication(u8),
}

impl Mark {
    /// The mark of a reading.
    pub(super) const fn reading(bound: Bound, side: Side) -> Self {
        match (bound, side) {
            (Bound::AtLeast, _) => Self::AtLeast,
            (Bound::AtMost, _) => Self::AtMost,
            (Bound::Exact, Side::A) => Self::SideA,
            (Bound::Exact, Side::B) => Self::SideB,
        }
    }

    /// Its character; `utf8` takes others than ASCII for lines.
    pub(super) fn character(self, utf8: bool) -> char {
        let (ascii, beyond) = match self {
            Self::Blank => (' ', ' '),
            Self::Curve => ('.', '·'),
            Self::Edge => (':', '┊'),
            Self::Level => ('-', '─'),
            Self::Upright => ('|', '│'),
            Self::Falling => ('\\', '╲'),
            Self::Rising => ('/', '╱'),
            Self::Backing => ('#', '░'),
            Self::Point => ('x', '×'),
            Self::SideA => ('o', 'o'),
            Self::SideB => ('+', '+'),
            Self::AtLeast => ('^', '^'),
            Self::AtMost => ('v', 'v'),
            Self::Between => ('=', '═'),
            Self::Ends(last) => {
                if last {
                    (']', ']')
                } else {
                    ('[', '[')
                }
            }
            Self::Open(last) => {
                if last {
                    ('>', '>')
                } else {
                    ('<', '<')
                }
            }
            Self::Leg(leg) => return char::from_digit(u32::from(leg), 10).unwrap_or('+'),
            // 26 letters, then a common one.
            Self::Indication(place) if place < 26 => return char::from(b'A'.saturating_add(place)),
            Self::Indication(_) => ('@', '@'),
        };
        if utf8 { beyond } else { ascii }
    }
}

/// Writes a row of marks, without blanks at its end.
pub(super) fn row(marks: &[Mark], utf8: bool, page: &mut Page<'_>) -> fmt::Result {
    let used = marks.iter().rposition(|mark| *mark != Mark::Blank).map_or(0, |last| last.saturating_add(1));
    marks.iter().take(used).try_for_each(|mark| page.write_char(mark.character(utf8)))?;
    writeln!(page)
}
