//! One line of a table taken apart (RFC 4180, and what spreadsheets make of it).

use std::string::String;
use std::vec::Vec;

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

/// The cells of a line.
///
/// # Errors
/// A quote that is not closed on its line, or one in the middle of a cell.
pub fn split(line: &str, separator: char) -> Result<Vec<Cell>, Refused> {
    let mut cells = Vec::new();
    let mut chars = line.chars().zip(1usize..).peekable();
    loop {
        while chars.next_if(|(char, _)| *char == ' ').is_some() {}
        let column = chars.peek().map_or(line.chars().count() + 1, |(_, column)| *column);
        let mut text = String::new();
        if chars.next_if(|(char, _)| *char == '"').is_some() {
            loop {
                match chars.next() {
                    Some(('"', _)) if chars.next_if(|(char, _)| *char == '"').is_some() => text.push('"'),
                    Some(('"', _)) => break,
                    Some((char, _)) => text.push(char),
                    None => {
                        let why = String::from("a quote is opened and not closed on this line");
                        return Err(Refused { column, why });
                    }
                }
            }
            while chars.next_if(|(char, _)| *char == ' ').is_some() {}
        } else {
            while let Some((char, at)) = chars.next_if(|(char, _)| *char != separator) {
                if char == '"' {
                    return Err(Refused { column: at, why: String::from("a quote in the middle of a cell") });
                }
                text.push(char);
            }
            text.truncate(text.trim_end().len());
        }
        cells.push(Cell { column, text });
        match chars.next() {
            None => return Ok(cells),
            Some((char, _)) if char == separator => {}
            Some((_, column)) => {
                return Err(Refused { column, why: String::from("something stands behind a closing quote") });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::format;

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
        assert_eq!(held(&texts("", ',')), "1");
    }

    #[test]
    fn a_quote_that_cannot_be_meant_is_told_with_its_place() {
        for (line, column) in [("a,\"b", 3), ("a,b\"c\"", 4), ("\"a\"b", 4)] {
            assert_eq!(split(line, ',').err().unwrap().column, column, "{line}");
        }
    }
}
