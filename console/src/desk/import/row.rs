//! One row of a table as the line that says the same.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::record::entry::LengthUnit;
use halfskip::units::decimal::Decimal;

use super::Refused;
use super::cells::{Cell, split};
use super::header::{Header, Holds};
use crate::commands::{parse, write};
use crate::desk::csv::is_formula;
use crate::language::keys::Kind;

/// The line of a row.
pub fn line(header: &Header, text: &str) -> Result<String, Refused> {
    let mut cells = split(text, header.separator)?;
    let named = header.columns.len();
    while cells.len() > named && cells.pop_if(|cell| cell.text.is_empty()).is_some() {}
    if cells.len() != named {
        let found = cells.len();
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

/// What the decimal marks of a row leave open.
#[derive(Default)]
pub struct Marks {
    /// A number has a comma.
    pub commas: bool,
    /// The first number whose comma might have been meant to part thousands.
    pub comma: Option<Cell>,
    /// The same of a point: in a table of decimal commas that is the more likely.
    pub point: Option<Cell>,
}

/// The decimal marks of a row, where a comma can be one.
pub fn marks(header: &Header, text: &str) -> Marks {
    let mut marks = Marks::default();
    let Some(cells) = split(text, header.separator).ok().filter(|_| header.separator != ',') else {
        return marks;
    };
    for (holds, cell) in header.columns.iter().zip(cells) {
        let Holds::Number(_, unit) = holds else { continue };
        let number = bare(&cell.text, unit).to_string();
        marks.commas |= number.contains(',');
        for (mark, first) in [(',', &mut marks.comma), ('.', &mut marks.point)] {
            if first.is_none() && may_part_thousands(&number, mark) {
                *first = Some(Cell { column: cell.column, text: number.clone() });
            }
        }
    }
    marks
}

/// Whether a mark has three digits behind it and up to three before it, the first of them no zero.
fn may_part_thousands(number: &str, mark: char) -> bool {
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let Some((before, behind)) = number.split_once(mark) else { return false };
    let before = before.trim_start_matches(['+', '-']);
    let thousands = (1..=3).contains(&before.len()) && !before.starts_with('0');
    thousands && behind.len() == 3 && digits(before) && digits(behind)
}

/// A word or a name. The apostrophe that keeps a spreadsheet from taking it for a formula is none of it.
fn name(line: &mut String, cell: &Cell) -> Result<(), Refused> {
    let text = match cell.text.strip_prefix('\'') {
        Some(rest) if is_formula(rest) => rest,
        _ => cell.text.as_str(),
    };
    write::name(line, text).map_err(|_| {
        let why = String::from("a control character stands in it");
        Refused { column: cell.column, why }
    })
}

/// A number without the unit of its column, which it may have behind it too.
fn bare<'t>(text: &'t str, unit: &str) -> &'t str {
    text.strip_suffix(unit).map_or(text, str::trim_end)
}

/// A number with the unit of its column, or a word that stands for one.
fn number(text: &str, separator: char, kind: Kind, unit: &str) -> Result<String, String> {
    if let Kind::NumberOr(_, words) = kind
        && words.contains(&text)
    {
        return Ok(text.to_string());
    }
    let text = bare(text, unit);
    // Where a comma cannot end a cell it is the decimal mark, as spreadsheets of many countries write it.
    let plain = if separator == ',' { text.to_string() } else { text.replacen(',', ".", 1) };
    match Decimal::parse(&plain) {
        Ok(_) => Ok(format!("{plain}{unit}")),
        Err(error) => Err(format!("'{text}': {error}; expected a number in {unit}, as the header says")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taken(head: &str, row: &str) -> Result<String, (usize, String)> {
        let header = Header::read(head, None).map_err(|refused| (refused.column, refused.why))?;
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
        let found = taken(HEAD, "1,p60,a,505 mm,34.8mm,40.31,55 %,34,,,,").unwrap();
        assert!(found.contains(" x=505mm standoff=34.8mm ") && found.contains(" height=55% "), "{found}");
    }

    #[test]
    fn only_a_mark_that_could_part_thousands_is_doubtful() {
        let header = Header::read(&HEAD.replace(',', ";"), None).ok().unwrap();
        let row = |x: &str| format!("1,200;p60;a;{x};34,8;40,31;76;34;;");
        for x in ["1,200", "999,999", "-1,200", "1.200", "-12.345"] {
            let marks = marks(&header, &row(x));
            let found = if x.contains(',') { marks.comma } else { marks.point };
            assert_eq!(found.map(|cell| (cell.column, cell.text)), Some((13, x.to_string())));
            assert!(marks.commas);
        }
        for x in ["1,20", "1,2000", "1234,500", "0,200", ",200", "1,2e3", "1.20", "0.200", "120"] {
            let marks = marks(&header, &row(x));
            assert!(marks.comma.is_none() && marks.point.is_none(), "{x}");
        }
        let commas = Header::read(HEAD, None).ok().unwrap();
        let marks = marks(&commas, "1,p60,a,\"1,200\",34.8,40.31,76,34,,");
        assert!(!marks.commas && marks.comma.is_none());
    }

    #[test]
    fn what_is_wrong_is_told_of_its_cell() {
        for (row, column, why) in [
            ("1,p60,c,128,34.8,40.31,76,34,,", 7, "side: "),
            ("1,p60,a,abc,34.8,40.31,76,34,,", 9, "x: 'abc': "),
            ("1,p60,a,128 in,34.8,40.31,76,34,,", 9, "x: '128 in': "),
            ("1,p60,a,128,34.8,99999,76,34,,", 18, "path: "),
            ("1,p60,a,128,34.8,40.31,76,34,cornr,", 30, "point: "),
            ("1,p60,a,128,34.8,40.31,76,34,", 30, "9 cells under 10 columns"),
            ("1,p60,a,128,34.8,40.31,76,34,,,5,", 32, "11 cells under 10 columns"),
        ] {
            let (at, said) = taken(HEAD, row).unwrap_err();
            assert!(at == column && said.starts_with(why), "{row}: {at}: {said}");
        }
    }
}
