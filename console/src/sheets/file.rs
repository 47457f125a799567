//! Sheets as TOML text: what acceptance and technique sheets share.

mod table;
mod value;

use core::fmt;
use core::ops::Range;
use std::string::{String, ToString};

use toml::de::DeTable;

pub(crate) use table::Table;
pub(crate) use value::{Typed, decimal, quantity, ranged};

/// Why a text is not a sheet, and where.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetFileError {
    /// Line, counted from 1.
    pub line: usize,
    /// Column, counted from 1 in characters.
    pub column: usize,
    /// What was wrong and what is expected.
    pub message: String,
}

impl fmt::Display for SheetFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}", self.line, self.column, self.message)
    }
}

impl core::error::Error for SheetFileError {}

impl SheetFileError {
    fn at(text: &str, offset: usize, message: String) -> Self {
        let before = text.get(..offset).unwrap_or(text);
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        Self {
            line: before.matches('\n').count() + 1,
            column: before.get(line_start..).unwrap_or("").chars().count() + 1,
            message,
        }
    }
}

/// What is wrong with a text, and where.
pub(crate) type Refused = (Range<usize>, String);

/// What `read` makes of a TOML text.
pub(crate) fn parsed<T>(
    text: &str,
    read: impl Fn(&DeTable<'_>) -> Result<T, Refused>,
) -> Result<T, SheetFileError> {
    let document = DeTable::parse(text).map_err(|error| {
        let offset = error.span().map_or(0, |span| span.start);
        SheetFileError::at(text, offset, error.message().trim_end().to_string())
    })?;
    read(document.get_ref()).map_err(|(span, message)| SheetFileError::at(text, span.start, message))
}
