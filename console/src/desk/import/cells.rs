//! One line of a table taken apart (RFC 4180, and what spreadsheets make of it).

use std::format;
use std::string::String;
use std::vec::Vec;

use csv_core::{ReadFieldResult, ReaderBuilder, Terminator};

use super::Refused;

/// A cell and where it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cell {
    /// Character of the line, counted from 1.
    pub column: usize,
    /// What it holds, blanks around it left out.
    pub text: String,
}

/// What stands between the cells of a table: a tab or a semicolon when its first line holds one, else a comma.
#[must_use]
pub fn separator(header: &str) -> char {
    ['\t', ';'].into_iter().find(|char| header.contains(*char)).unwrap_or(',')
}

/// What a line before the header says of it: `sep=;`.
#[must_use]
pub fn told_separator(line: &str) -> Option<char> {
    let told = line.trim_matches('"').strip_prefix("sep=")?;
    [';', ',', '\t'].into_iter().find(|char| told.strip_prefix(*char) == Some(""))
}

/// Whether a line has no cell that holds anything.
#[must_use]
pub fn is_empty(line: &str) -> bool {
    line.chars().all(|char| matches!(char, ';' | ',') || char.is_whitespace())
}

/// The cells of a line.
///
/// # Errors
/// A quote that is not closed on its line, or one in the middle of a cell.
pub fn split(line: &str, separator: char) -> Result<Vec<Cell>, Refused> {
    let mut builder = ReaderBuilder::new();
    let delimiter = u8::try_from(separator).unwrap_or(b',');
    let mut reader = builder.delimiter(delimiter).terminator(Terminator::Any(b'\n')).build();
    let (whole, mut held) = (format!("{line}\n"), std::vec![0; line.len().saturating_add(1)]);
    let (mut rest, mut cells) = (whole.as_str(), Vec::new());
    loop {
        rest = rest.trim_start_matches(' ');
        let column = whole.chars().count().saturating_sub(rest.chars().count()).saturating_add(1);
        // A line without a cell is none to the reader.
        if cells.is_empty() && rest == "\n" {
            return Ok(Vec::from([Cell { column, text: String::new() }]));
        }
        let (read, length, written) = reader.read_field(rest.as_bytes(), &mut held);
        let ReadFieldResult::Field { record_end } = read else {
            let why = String::from("a quote is opened and not closed on this line");
            return Err(Refused { column, why });
        };
        let (raw, behind) = rest.split_at_checked(length).unwrap_or((rest, ""));
        let text = String::from_utf8_lossy(held.get(..written).unwrap_or_default());
        // Without what ends the cell.
        let raw = raw.strip_suffix([separator, '\n']).unwrap_or(raw);
        cells.push(Cell { column, text: meant(raw, &text).map_err(|at| refused(raw, column, at))? });
        if record_end {
            return Ok(cells);
        }
        rest = behind;
    }
}

/// What a cell holds; of one whose quotes are not around it all, the byte of the quote that is too much.
fn meant(raw: &str, text: &str) -> Result<String, usize> {
    if !raw.starts_with('"') {
        return raw.find('"').map_or_else(|| Ok(raw.trim_end().into()), Err);
    }
    // Blanks behind the closing quote were taken as text.
    let quoted = raw.trim_end_matches(' ');
    let blanks = raw.len().saturating_sub(quoted.len());
    let text = text.get(..text.len().saturating_sub(blanks)).unwrap_or_default();
    if quoted == format!("\"{}\"", text.replace('"', "\"\"")) { Ok(text.into()) } else { Err(0) }
}

fn refused(raw: &str, column: usize, at: usize) -> Refused {
    let before = raw.get(..at).unwrap_or_default().chars().count();
    let why =
        if at == 0 { "there is text behind a closing quote" } else { "a quote in the middle of a cell" };
    Refused { column: column.saturating_add(before), why: why.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(line: &str, separator: char) -> Vec<(usize, String)> {
        split(line, separator).ok().unwrap().into_iter().map(|cell| (cell.column, cell.text)).collect()
    }

    #[test]
    fn quotes_blanks_and_empty_cells_are_taken_as_they_are_meant() {
        let held = |found: &[(usize, String)]| {
            found.iter().map(|(column, text)| format!("{column}{text}")).collect::<Vec<_>>().join("|")
        };
        assert_eq!(held(&texts("a, b ,,\"c, \"\"d\"\"\"", ',')), "1a|4b|7|8c, \"d\"");
        assert_eq!(held(&texts("a;1,5;", ';')), "1a|31,5|7");
        assert_eq!(held(&texts("\u{fc}\tb", '\t')), "1\u{fc}|3b");
        assert_eq!(held(&texts("a, \" b, c \" ,d", ',')), "1a|4 b, c |14d");
        assert_eq!(held(&texts("", ',')), "1");
        assert_eq!(held(&texts("\"\",", ',')), "1|4");
    }

    #[test]
    fn a_quote_that_cannot_be_meant_is_told_with_its_place() {
        for (line, column) in
            [("a,\"b", 3), ("a,b\"c\"", 4), ("\"a\"b", 1), ("a, \"b\"c\"", 4), ("\"a\"\"", 1)]
        {
            assert_eq!(split(line, ',').err().unwrap().column, column, "{line}");
        }
    }

    #[test]
    fn a_line_before_the_header_may_name_the_separator() {
        assert_eq!(told_separator("sep=;"), Some(';'));
        assert_eq!(told_separator("\"sep=,\""), Some(','));
        assert_eq!(told_separator("sep=\t"), Some('\t'));
        assert_eq!(told_separator("sep=ab"), None);
        assert!(is_empty(";; ;") && is_empty(",\t") && !is_empty(";0"));
    }
}
