//! Findings as a table: one row a reading, its indication's findings behind it.

use std::io::{self, Write};
use std::string::{String, ToString};

use halfskip::criteria::Sheet;
use halfskip::decimal::Fixed;
use halfskip::examination::Facts;
use halfskip::findings::evaluate;

use super::json;

/// The header: the names of schema 1, those of the indication behind `indication_`.
pub const HEADER: &str = "n,indication,probe,side,leg,x_mm,y_mm,z_mm,u_y_mm,u_z_mm,path_mm,unfolded_mm,level_db,\
                          level_bound,indication_x_mm,indication_y_mm,indication_z_mm,indication_u_y_mm,\
                          indication_u_z_mm,indication_level_db,indication_level_bound,indication_length_mm,\
                          indication_length_open,indication_height_mm,indication_u_height_mm,rating_db,class,verdict,\
                          because";

fn number(value: Option<f32>) -> String {
    value.map_or_else(String::new, |value| Fixed(value, 3).to_string())
}

fn flag(value: Option<bool>) -> &'static str {
    match value {
        Some(true) => "true",
        Some(false) => "false",
        None => "",
    }
}

/// Quotes a text field that needs it (RFC 4180). A text that a spreadsheet would take for a formula gets an apostrophe.
fn text(value: &str) -> String {
    let guarded = match value.as_bytes().first() {
        Some(b'=' | b'+' | b'-' | b'@') => std::format!("'{value}"),
        _ => value.to_string(),
    };
    if guarded.contains([',', '"', '\n', '\r']) {
        std::format!("\"{}\"", guarded.replace('"', "\"\""))
    } else {
        guarded
    }
}

/// Writes the table; a figure that is not known is an empty field.
///
/// # Errors
/// That the output cannot be written.
pub fn write<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: Option<&Sheet<ROWS>>,
    out: &mut impl Write,
) -> io::Result<()> {
    writeln!(out, "{HEADER}")?;
    let indications = json::indications(facts, sheet);
    for pooled in facts.readings() {
        let row = json::reading(facts, &evaluate(facts, pooled));
        let leg = row.leg.map_or_else(String::new, |leg| leg.to_string());
        write!(out, "{},{},{},{},{leg}", row.n, text(row.indication), text(row.probe), row.side)?;
        for value in
            [row.x_mm, row.y_mm, row.z_mm, row.u_y_mm, row.u_z_mm, row.path_mm, row.unfolded_mm, row.level_db]
        {
            write!(out, ",{}", number(value))?;
        }
        write!(out, ",{}", row.level_bound.unwrap_or(""))?;
        let Some(of) = indications.iter().find(|indication| indication.id == row.indication) else {
            writeln!(out)?;
            continue;
        };
        for value in [of.x_mm, of.y_mm, of.z_mm, of.u_y_mm, of.u_z_mm, of.level_db] {
            write!(out, ",{}", number(value))?;
        }
        write!(out, ",{},{},{}", of.level_bound.unwrap_or(""), number(of.length_mm), flag(of.length_open))?;
        write!(out, ",{},{},{}", number(of.height_mm), number(of.u_height_mm), number(of.rating_db))?;
        let class = of.class.as_deref().unwrap_or("");
        writeln!(out, ",{},{},{}", text(class), of.verdict, text(&of.because))?;
    }
    Ok(())
}
