//! Findings as a table: one row a reading, its indication's findings behind it.

use std::io::{self, Write};
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::findings::{Findings, evaluate};
use halfskip::units::decimal::Fixed;

use super::json;
use super::names::is_unseen;

/// The header: the names of schema 1, those of the indication behind `indication_`.
pub const HEADER: [&str; 29] = [
    "n",
    "indication",
    "probe",
    "side",
    "leg",
    "x_mm",
    "y_mm",
    "z_mm",
    "u_y_mm",
    "u_z_mm",
    "path_mm",
    "unfolded_mm",
    "level_db",
    "level_bound",
    "indication_x_mm",
    "indication_y_mm",
    "indication_z_mm",
    "indication_u_y_mm",
    "indication_u_z_mm",
    "indication_level_db",
    "indication_level_bound",
    "indication_length_mm",
    "indication_length_open",
    "indication_height_mm",
    "indication_u_height_mm",
    "rating_db",
    "class",
    "verdict",
    "because",
];

fn number(value: Option<f32>) -> String {
    value.map_or_else(String::new, |value| Fixed(value, 3).to_string())
}

fn flag(value: Option<bool>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
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
pub fn write(findings: &Findings<'_>, out: &mut impl Write) -> io::Result<()> {
    let facts = findings.facts();
    let mut table = csv::Writer::from_writer(out);
    table.write_record(HEADER)?;
    let indications = json::indications(facts, findings);
    for pooled in facts.readings() {
        let row = json::reading(facts, &evaluate(facts, pooled));
        let leg = row.leg.map_or_else(String::new, |leg| leg.to_string());
        let mut cells =
            Vec::from([row.n.to_string(), text(row.indication), text(row.probe), row.side.to_string(), leg]);
        cells.extend(
            [
                row.x_mm,
                row.y_mm,
                row.z_mm,
                row.u_y_mm,
                row.u_z_mm,
                row.path_mm,
                row.unfolded_mm,
                row.level_db,
            ]
            .map(number),
        );
        cells.push(row.level_bound.unwrap_or_default().to_string());
        if let Some(of) = indications.iter().find(|indication| indication.id == row.indication) {
            cells.extend([of.x_mm, of.y_mm, of.z_mm, of.u_y_mm, of.u_z_mm, of.level_db].map(number));
            cells.push(of.level_bound.unwrap_or_default().to_string());
            cells.extend([number(of.length_mm), flag(of.length_open)]);
            cells.extend([of.height_mm, of.u_height_mm, of.rating_db].map(number));
            cells.extend([
                text(of.class.as_deref().unwrap_or_default()),
                of.verdict.to_string(),
                text(&of.because),
            ]);
        }
        cells.resize(HEADER.len(), String::new());
        table.write_record(&cells)?;
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
