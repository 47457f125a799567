//! Findings as a table: one row a reading, its indication's findings behind it.

use std::io::{self, Write};
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::findings::{Findings, evaluate};
use halfskip::units::decimal::Fixed;

use super::names::is_unseen;
use super::{findings, json};

/// A reading and its indication.
struct Row<'a> {
    reading: json::Reading<'a>,
    of: Option<&'a json::Indication<'a>>,
}

/// What stands in a column; none is an empty field.
type Cell = fn(&Row<'_>) -> Option<String>;

/// The columns: the names of schema 1, those of the indication behind `indication_`.
const COLUMNS: [(&str, Cell); 29] = [
    ("n", |row| Some(row.reading.n.to_string())),
    ("indication", |row| Some(text(row.reading.indication))),
    ("probe", |row| Some(text(row.reading.probe))),
    ("side", |row| Some(row.reading.side.into())),
    ("leg", |row| shown(row.reading.leg)),
    ("x_mm", |row| number(row.reading.x_mm)),
    ("y_mm", |row| number(row.reading.y_mm)),
    ("z_mm", |row| number(row.reading.z_mm)),
    ("u_y_mm", |row| number(row.reading.u_y_mm)),
    ("u_z_mm", |row| number(row.reading.u_z_mm)),
    ("path_mm", |row| number(row.reading.path_mm)),
    ("unfolded_mm", |row| number(row.reading.unfolded_mm)),
    ("level_db", |row| number(row.reading.level_db)),
    ("level_bound", |row| shown(row.reading.level_bound)),
    ("indication_x_mm", |row| number(row.of?.x_mm)),
    ("indication_y_mm", |row| number(row.of?.y_mm)),
    ("indication_z_mm", |row| number(row.of?.z_mm)),
    ("indication_u_y_mm", |row| number(row.of?.u_y_mm)),
    ("indication_u_z_mm", |row| number(row.of?.u_z_mm)),
    ("indication_level_db", |row| number(row.of?.level_db)),
    ("indication_level_bound", |row| shown(row.of?.level_bound)),
    ("indication_length_mm", |row| number(row.of?.length_mm)),
    ("indication_length_open", |row| shown(row.of?.length_open)),
    ("indication_height_mm", |row| number(row.of?.height_mm)),
    ("indication_u_height_mm", |row| number(row.of?.u_height_mm)),
    ("rating_db", |row| number(row.of?.rating_db)),
    ("class", |row| Some(text(row.of?.class.as_deref()?))),
    ("verdict", |row| Some(row.of?.verdict.into())),
    ("because", |row| Some(text(&row.of?.because))),
];

fn number(value: Option<f32>) -> Option<String> {
    Some(Fixed(value?, 3).to_string())
}

fn shown(value: Option<impl ToString>) -> Option<String> {
    Some(value?.to_string())
}

/// Whether a spreadsheet might take a text for a formula: it begins with a sign of one, or does behind blanks and what cannot
/// be seen, in letters of either width; or it begins with a tab or a line end, which some leave out.
#[must_use]
pub fn is_formula(text: &str) -> bool {
    let bare = text.trim_start_matches(|char: char| char.is_whitespace() || is_unseen(char));
    text.starts_with(['\t', '\r', '\n']) || bare.starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠'])
}

/// A text that a spreadsheet leaves alone: what it would take for a formula gets an apostrophe.
fn text(value: &str) -> String {
    if is_formula(value) { std::format!("'{value}") } else { value.to_string() }
}

/// Writes the table; a figure that is not known is an empty field.
///
/// # Errors
/// That the output cannot be written.
pub fn write(found: &Findings<'_>, out: &mut impl Write) -> io::Result<()> {
    let facts = found.facts();
    let mut table = csv::Writer::from_writer(out);
    table.write_record(COLUMNS.map(|(name, _)| name))?;
    let found = findings::indications(facts, found);
    let indications: Vec<_> = found.iter().map(|found| json::Indication::of(facts, found)).collect();
    for pooled in facts.readings() {
        let reading = json::Reading::of(facts, &evaluate(facts, pooled));
        let of = indications.iter().find(|indication| indication.id == reading.indication);
        let row = Row { reading, of };
        table.write_record(COLUMNS.map(|(_, cell)| cell(&row).unwrap_or_default()))?;
    }
    table.flush()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_might_take_for_a_formula_is_guarded() {
        for formula in
            ["=1+1", "-p", "@a", "\t=1", " =1", "\u{3000}+1", "\u{200b}=1", "\u{a0}-1", "＝1", "　＠a", "\ta"]
        {
            assert_eq!(text(formula), std::format!("'{formula}"));
        }
        for plain in ["p60", "a-b", "1=1", "", " a", "'=1"] {
            assert_eq!(text(plain), plain);
        }
    }
}
