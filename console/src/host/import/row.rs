//! One row of a table as the line that says the same.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::decimal::Decimal;
use halfskip::entry::LengthUnit;

use super::Refused;
use super::cells::{Cell, split};
use super::header::{Header, Holds};
use crate::keys::Kind;
use crate::{parse, write};

/// The line of a row.
pub fn line(header: &Header, text: &str) -> Result<String, Refused> {
    let cells = split(text, header.separator)?;
    if cells.len() != header.columns.len() {
        let (found, named) = (cells.len(), header.columns.len());
        let column = cells.get(named).map_or(text.chars().count() + 1, |cell| cell.column);
        return Err(Refused { column, why: format!("{found} cells under {named} columns") });
    }
    let pairs = || header.columns.iter().zip(&cells);
    let mut line = String::from("reading");
    for (_, cell) in pairs().filter(|(holds, _)| **holds == Holds::Name) {
        line.push(' ');
        name(&mut line, cell)?;
    }
    // Where each cell stands in the line, so that a refusal of the line can be told of the cell.
    let mut places: Vec<(usize, &Cell, &str)> = Vec::new();
    for (holds, cell) in pairs().filter(|(_, cell)| !cell.text.is_empty()) {
        let refused = |why: String| Refused { column: cell.column, why: format!("{}: {why}", holds.word()) };
        places.push((line.chars().count() + 1, cell, holds.word()));
        match holds {
            Holds::Name => {}
            Holds::Word(key) => {
                line.push_str(&format!(" {}=", key.word));
                name(&mut line, cell)?;
            }
            Holds::Number(key, unit) => {
                let value = number(&cell.text, header.separator, key.kind, unit).map_err(refused)?;
                line.push_str(&format!(" {}={value}", key.word));
            }
        }
    }
    match parse::line(line.as_bytes(), LengthUnit::Mm) {
        Ok(_) => Ok(line),
        Err(refusal) => {
            let at = usize::from(refusal.column);
            let place = places.iter().rev().find(|(start, ..)| *start <= at);
            let (column, word) = place.map_or((1, "row"), |(_, cell, word)| (cell.column, *word));
            Err(Refused { column, why: format!("{word}: {}", refusal.kind) })
        }
    }
}

/// The first number of a row whose comma, taken as the decimal mark, might have been meant to part thousands: three digits
/// stand behind it and up to three before it, the first of them no zero.
pub fn doubtful_comma(header: &Header, text: &str) -> Option<Cell> {
    if header.separator == ',' {
        return None;
    }
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let doubtful = |text: &str| {
        let Some((before, behind)) = text.split_once(',') else { return false };
        let before = before.trim_start_matches(['+', '-']);
        let thousands = (1..=3).contains(&before.len()) && !before.starts_with('0');
        thousands && behind.len() == 3 && digits(before) && digits(behind)
    };
    let cells = split(text, header.separator).ok()?;
    let mut pairs = header.columns.iter().zip(cells);
    let found = pairs.find(|(holds, cell)| matches!(holds, Holds::Number(..)) && doubtful(&cell.text));
    found.map(|(_, cell)| cell)
}

/// A word or a name. The apostrophe that keeps a spreadsheet from taking it for a formula is none of it.
fn name(line: &mut String, cell: &Cell) -> Result<(), Refused> {
    let text = match cell.text.strip_prefix('\'') {
        Some(rest) if rest.starts_with(['=', '+', '-', '@']) => rest,
        _ => cell.text.as_str(),
    };
    write::name(line, text).map_err(|_| {
        let why = String::from("a control character stands in it");
        Refused { column: cell.column, why }
    })
}

/// A number with the unit of its column, or a word that stands for one.
fn number(text: &str, separator: char, kind: Kind, unit: &str) -> Result<String, String> {
    if let Kind::NumberOr(_, words) = kind
        && words.contains(&text)
    {
        return Ok(text.to_string());
    }
    // Where a comma cannot end a cell it is the decimal mark, as spreadsheets of many countries write it.
    let plain = if separator == ',' { text.to_string() } else { text.replacen(',', ".", 1) };
    match Decimal::parse(&plain) {
        Ok(_) => Ok(format!("{plain}{unit}")),
        Err(error) => Err(format!("'{text}': {error}; the unit stands in the header")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taken(head: &str, row: &str) -> Result<String, (usize, String)> {
        let header = Header::read(head).map_err(|refused| (refused.column, refused.why))?;
        line(&header, row).map_err(|refused| (refused.column, refused.why))
    }

    const HEAD: &str =
        "indication,probe,side,x [mm],standoff [mm],path [mm],height [%],gain [dB],point,skew [deg]";

    #[test]
    fn a_row_says_what_the_line_says() {
        let found = taken(HEAD, "1,p60,a,128,34.8,40.31,76,34,corner,").unwrap();
        assert_eq!(
            found,
            "reading 1 probe=p60 side=a x=128mm standoff=34.8mm path=40.31mm height=76% gain=34dB point=corner"
        );
        let found = taken(HEAD, "\"a b\",'-p,b,0,1,2,under,34,,-3").unwrap();
        assert!(
            found.starts_with("reading \"a b\" probe=-p side=b") && found.ends_with("gain=34dB skew=-3deg")
        );
        let head = HEAD.replace(',', ";").replace("x [mm]", "x [in]");
        assert!(taken(&head, "1;p;a;1,5;1;2;over;34;;").unwrap().contains("x=1.5in"));
    }

    #[test]
    fn only_a_comma_that_could_part_thousands_is_doubtful() {
        let head = HEAD.replace(',', ";");
        let header = Header::read(&head).ok().unwrap();
        let row = |x: &str| format!("1,200;p60;a;{x};34,8;40,31;76;34;;");
        for x in ["1,200", "999,999", "-1,200"] {
            let found = doubtful_comma(&header, &row(x)).map(|cell| (cell.column, cell.text));
            assert_eq!(found, Some((13, x.to_string())));
        }
        for x in ["1,20", "1,2000", "1234,500", "0,200", ",200", "1,2e3", "1.200", "120"] {
            assert_eq!(doubtful_comma(&header, &row(x)), None, "{x}");
        }
        let commas = Header::read(HEAD).ok().unwrap();
        assert_eq!(doubtful_comma(&commas, "1,p60,a,\"1,200\",34.8,40.31,76,34,,"), None);
    }

    #[test]
    fn what_is_wrong_is_told_of_its_cell() {
        for (row, column, why) in [
            ("1,p60,c,128,34.8,40.31,76,34,,", 7, "side: "),
            ("1,p60,a,abc,34.8,40.31,76,34,,", 9, "x: 'abc': "),
            ("1,p60,a,128 mm,34.8,40.31,76,34,,", 9, "x: '128 mm': "),
            ("1,p60,a,128,34.8,99999,76,34,,", 18, "path: "),
            ("1,p60,a,128,34.8,40.31,76,34,cornr,", 30, "point: "),
            ("1,p60,a,128,34.8,40.31,76,34,", 30, "9 cells under 10 columns"),
            ("1,p60,a,128,34.8,40.31,76,34,,,5", 32, "11 cells under 10 columns"),
        ] {
            let (at, said) = taken(HEAD, row).unwrap_err();
            assert!(at == column && said.starts_with(why), "{row}: {at}: {said}");
        }
    }
}
