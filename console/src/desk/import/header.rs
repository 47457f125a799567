//! The first line of a table: which key each column is, and the unit of its numbers.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use super::Refused;
use super::cells::{separator, split};
use crate::commands;
use crate::commands::Form;
use crate::language::keys::{Key, Kind, Rule};
use crate::language::nearest::nearest;

/// The name of the column that holds the word behind the verb.
pub const NAME: &str = "indication";

/// What a column holds.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Holds {
    /// The indication's name.
    Name,
    /// A key without a unit.
    Word(&'static Key),
    /// A key whose numbers are in this unit.
    Number(&'static Key, &'static str),
}

impl Holds {
    /// Its name.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Name => NAME,
            Self::Word(key) | Self::Number(key, _) => key.word,
        }
    }
}

/// The columns of a table.
#[derive(Clone, Debug)]
pub struct Header {
    /// Between cells.
    pub separator: char,
    /// In their order.
    pub columns: Vec<Holds>,
}

impl Header {
    /// Reads the first line; what parts its cells may have been named before it. Empty cells at its end are none.
    pub fn read(line: &str, told: Option<char>) -> Result<Self, Refused> {
        let separator = told.unwrap_or_else(|| separator(line));
        let mut columns: Vec<Holds> = Vec::new();
        let mut cells = split(line, separator)?;
        while cells.pop_if(|cell| cell.text.is_empty()).is_some() {}
        for cell in cells {
            let holds = column(&cell.text).map_err(|why| Refused { column: cell.column, why })?;
            if columns.iter().any(|held| held.word() == holds.word()) {
                let why = format!("column {} stands here twice", holds.word());
                return Err(Refused { column: cell.column, why });
            }
            columns.push(holds);
        }
        let missing = missing(&columns);
        if missing.is_empty() {
            return Ok(Self { separator, columns });
        }
        let why = format!("the table lacks the columns {}", missing.join(", "));
        Err(Refused { column: line.chars().count() + 1, why })
    }
}

/// The form that a row fills.
fn form() -> Option<&'static Form> {
    commands::find("reading")?.forms.first()
}

fn keys() -> impl Iterator<Item = &'static Key> + Clone {
    form().into_iter().flat_map(|form| form.expected.keys)
}

/// "x [mm]": the key, and the unit in brackets.
fn column(text: &str) -> Result<Holds, String> {
    let (word, unit) = match text.split_once(['[', '(']) {
        Some((word, rest)) => (word.trim(), Some(rest.trim_end_matches([']', ')']).trim())),
        None => (text.trim(), None),
    };
    let word = word.to_lowercase();
    if word == NAME {
        return if unit.is_none() { Ok(Holds::Name) } else { Err(format!("{NAME} has no unit")) };
    }
    let Some(key) = keys().find(|key| key.word == word) else {
        let known = keys().map(|key| key.word).chain([NAME]);
        let near = nearest(&word, known).map_or_else(
            || "; halfskip help reading lists them".to_string(),
            |near| format!("; did you mean {near}?"),
        );
        return Err(format!("'{word}' is no column of a reading{near}"));
    };
    let measure = match key.kind {
        Kind::Number(measure) | Kind::NumberOr(measure, _) => measure,
        _ if unit.is_some() => return Err(format!("{word} has no unit")),
        _ => return Ok(Holds::Word(key)),
    };
    let units = [Some(measure.range.unit), measure.alternative].into_iter().flatten();
    let expected = || units.clone().map(|unit| format!("{word} [{unit}]")).collect::<Vec<_>>().join(" or ");
    match unit {
        None => Err(format!("column {word} has no unit; expected {}", expected())),
        Some(unit) => match units.clone().find(|known| *known == unit) {
            Some(unit) => Ok(Holds::Number(key, unit)),
            None => Err(format!("'{unit}' is no unit of {word}; expected {}", expected())),
        },
    }
}

/// The columns that every reading needs and this table lacks.
fn missing(columns: &[Holds]) -> Vec<String> {
    let held = |word: &str| columns.iter().any(|column| column.word() == word);
    let mut missing = Vec::new();
    if !held(NAME) {
        missing.push(NAME.to_string());
    }
    missing.extend(keys().filter(|key| key.required && !held(key.word)).map(|key| key.word.to_string()));
    for rule in form().into_iter().flat_map(|form| form.expected.rules) {
        if let (Rule::OneOf(bits), Some(form)) = (rule, form()) {
            let choices: Vec<&str> = form.expected.set(*bits).iter().map(|key| key.word).collect();
            if !choices.iter().any(|word| held(word)) {
                missing.push(choices.join(" or "));
            }
        }
    }
    missing
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "indication,Side,probe,x [mm],standoff (in),time [us],height [%],gain [dB]";

    #[test]
    fn columns_are_keys_with_their_units_in_any_order() {
        let header = Header::read(GOOD, None).ok().unwrap();
        let units = header.columns.iter().map(|column| match column {
            Holds::Number(_, unit) => *unit,
            _ => "",
        });
        assert_eq!(units.collect::<Vec<_>>(), ["", "", "", "mm", "in", "us", "%", "dB"]);
        assert_eq!(Header::read(&GOOD.replace(',', ";"), None).ok().unwrap().separator, ';');
        let told = Header::read(&format!("{GOOD},,"), Some(',')).ok().unwrap();
        assert_eq!((told.separator, told.columns.len()), (',', header.columns.len()));
    }

    #[test]
    fn what_a_header_gets_wrong_is_told_with_its_place() {
        for (line, column, why) in [
            (GOOD.replace("x [mm]", "x"), 23, "column x has no unit; expected x [mm] or x [in]"),
            (GOOD.replace("x [mm]", "x [cm]"), 23, "'cm' is no unit of x; expected x [mm] or x [in]"),
            (GOOD.replace("Side", "sid"), 12, "'sid' is no column of a reading; did you mean side?"),
            (GOOD.replace("Side", "side [mm]"), 12, "side has no unit"),
            (GOOD.replace("probe", "side"), 17, "column side stands here twice"),
            (GOOD.replace(",time [us]", ""), 64, "the table lacks the columns path or time"),
            ("n".into(), 1, "'n' is no column of a reading; halfskip help reading lists them"),
        ] {
            let refused = Header::read(&line, None).err().unwrap();
            assert_eq!((refused.column, refused.why.as_str()), (column, why), "{line}");
        }
    }
}
