//! What may stand in a line: characters, and no control codes among them.

use core::fmt;

/// Why bytes are not a line. Columns count characters from 1.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum Fault {
    /// More bytes than a line may have.
    TooLong {
        /// How many it may have.
        limit: usize,
    },
    /// A zero byte.
    Nul {
        /// Where it stands.
        column: usize,
    },
    /// Another control code than the tabulator.
    Control {
        /// Where it stands.
        column: usize,
    },
    /// Bytes that are no UTF-8.
    NotUtf8 {
        /// Where they begin.
        column: usize,
    },
}

impl Fault {
    /// The column of what was wrong; none of a line that is too long as a whole.
    #[must_use]
    pub const fn column(self) -> Option<usize> {
        match self {
            Self::TooLong { .. } => None,
            Self::Nul { column } | Self::Control { column } | Self::NotUtf8 { column } => Some(column),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong { limit } => write!(f, "line is longer than {limit} bytes"),
            Self::Nul { .. } => f.write_str("line holds a NUL byte"),
            Self::Control { .. } => f.write_str("line holds a control code"),
            Self::NotUtf8 { .. } => f.write_str("line is not UTF-8 text"),
        }
    }
}

impl core::error::Error for Fault {}

/// The text of a line, without its line end.
///
/// # Errors
/// [`Fault`]: a NUL, another control code, or bytes that are not UTF-8; the first of them.
///
/// ```
/// use halfskip_console::language::text::{Fault, checked};
/// assert_eq!(checked("title \"Schweißnaht 7\"".as_bytes()), Ok("title \"Schweißnaht 7\""));
/// assert_eq!(checked(b"size \x001"), Err(Fault::Nul { column: 6 }));
/// assert_eq!(checked(b"\xc3\xa4\xff"), Err(Fault::NotUtf8 { column: 2 }));
/// ```
pub fn checked(line: &[u8]) -> Result<&str, Fault> {
    // Nearly every line is plain: one pass without a branch finds that out.
    let odd = line.iter().fold(false, |odd, byte| odd | !matches!(byte, b' '..=b'~'));
    if let (false, Ok(text)) = (odd, core::str::from_utf8(line)) {
        return Ok(text);
    }
    let (text, whole) = match core::str::from_utf8(line) {
        Ok(text) => (text, true),
        Err(_) => (line.utf8_chunks().next().map_or("", |chunk| chunk.valid()), false),
    };
    let mut column = 1usize;
    for character in text.chars() {
        if character == '\0' {
            return Err(Fault::Nul { column });
        }
        if character.is_control() && character != '\t' {
            return Err(Fault::Control { column });
        }
        column = column.saturating_add(1);
    }
    if whole { Ok(text) } else { Err(Fault::NotUtf8 { column }) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_fault_of_a_line_is_told() {
        assert_eq!(checked(b"a\0\xff"), Err(Fault::Nul { column: 2 }));
        assert_eq!(checked(b"a\xff\0"), Err(Fault::NotUtf8 { column: 2 }));
        assert_eq!(checked(b"ab\x1b[2J"), Err(Fault::Control { column: 3 }));
        assert_eq!(checked("a\u{9b}2J".as_bytes()), Err(Fault::Control { column: 2 }));
    }

    #[test]
    fn an_empty_line_and_a_tabulator_are_text() {
        assert_eq!(checked(b""), Ok(""));
        assert_eq!(checked(b"a\tb"), Ok("a\tb"));
    }
}
