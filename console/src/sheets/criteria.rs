//! Acceptance sheets as TOML text.
//!
//! Every key is known or refused, every value is checked, and the sheet as a whole is searched for holes, so that
//! what comes out is a [`Sheet`] that decides its whole range or nothing. Numbers keep the digits they were typed in.

mod value;

use std::format;
use std::string::ToString;

use halfskip::acceptance::criteria::{
    Bounds, Class, Group, Head, LengthBy, Limit, Measure, Row, RowShape, RowZone, Sheet, SheetError,
    SheetText, Verdict,
};
use halfskip::acceptance::rating::{Attenuation, Rounding, ShorterPath, Weighted};
use toml::de::DeTable;

pub use crate::sheets::file::SheetFileError;
use crate::sheets::file::{Refused, Table, parsed};

/// Rows that the host program takes in one sheet.
pub const HOST_ROWS: usize = 128;

/// Reads a sheet.
///
/// ```
/// use halfskip_console::sheets::criteria::{read, HOST_ROWS};
/// let sheet = read::<HOST_ROWS>(
///     r#"
///     title = "invented"
///     source = "no document"
///     measure = "level"
///     length-by = "drop-6"
///     [[row]]
///     at-least = 0
///     verdict = "reject"
///     [[row]]
///     below = 0
///     verdict = "accept"
///     "#,
/// )
/// .unwrap();
/// assert_eq!(sheet.rows().len(), 2);
/// assert!(!sheet.is_checked());
/// let error = read::<HOST_ROWS>("titel = 'x'").unwrap_err();
/// assert!(error.to_string().starts_with("1:1: unknown key \"titel\"; a sheet takes title, source,"));
/// ```
///
/// # Errors
/// [`SheetFileError`] with the place of the first fault: not TOML, a key or word unknown, missing or contradictory, a
/// value out of range, no rows or too many, a case that no row decides.
pub fn read<const ROWS: usize>(text: &str) -> Result<Sheet<ROWS>, SheetFileError> {
    parsed(text, sheet)
}

const SHEET_KEYS: &[&str] =
    &["title", "source", "checked-by", "measure", "length-by", "length-level", "group", "weighted", "row"];
const WEIGHTED_KEYS: &[&str] = &["per", "beyond", "round", "round-d", "shorter-path"];
const ROW_KEYS: &[&str] = &[
    "thickness-from",
    "thickness-over",
    "thickness-to",
    "thickness-below",
    "angle",
    "length-over",
    "length-up-to",
    "at-least",
    "above",
    "at-most",
    "below",
    "zone",
    "shape",
    "class",
    "verdict",
];

fn sheet<const ROWS: usize>(document: &DeTable<'_>) -> Result<Sheet<ROWS>, Refused> {
    let document = Table::new(document, "a sheet", 0..0, SHEET_KEYS)?;
    let mut rows = heapless::Vec::new();
    let mut places = std::vec::Vec::new();
    for (table, at) in document.tables("row")? {
        let row = row(&Table::new(table, "a row", at.clone(), ROW_KEYS)?)?;
        let full = || format!("more than {ROWS} rows");
        rows.push(row).map_err(|_| (at.clone(), full()))?;
        places.push(at);
    }
    // Said before anything else that a blank form lacks.
    if rows.is_empty() {
        return Err((0..0, format!("{}; expected [[row]]", SheetError::Empty)));
    }
    let head = head(&document)?;
    Sheet::new(head, rows).map_err(|error| {
        let place = match error {
            SheetError::Row { row, .. } => places.get(row - 1).cloned().unwrap_or_default(),
            SheetError::Missing(key) | SheetError::Unprintable(key) => document.place(key),
            SheetError::Hole(_) => places.first().cloned().unwrap_or_default(),
            _ => 0..0,
        };
        (place, error.to_string())
    })
}

fn head(document: &Table<'_>) -> Result<Head, Refused> {
    let text = |key| document.text::<120>(key);
    let measure = match document
        .required(document.word("measure", &[("level", false), ("weighted", true)])?, "measure")?
    {
        true => {
            let (table, at) = document.required(document.table("weighted")?, "weighted")?;
            Measure::Weighted(weighted(&Table::new(table, "[weighted]", at, WEIGHTED_KEYS)?)?)
        }
        false => {
            document.refused_without("weighted", "measure = \"weighted\"")?;
            Measure::Level
        }
    };
    let by_level = document.required(document.value("length-by", value::length_by)?, "length-by")?;
    let length_by = match by_level {
        Some(drop) => {
            document.refused_without("length-level", "length-by = \"level\"")?;
            LengthBy::Drop(drop)
        }
        None => LengthBy::Level(document.required(document.quantity("length-level")?, "length-level")?),
    };
    Ok(Head {
        title: document.required(text("title")?, "title")?,
        source: document.required(text("source")?, "source")?,
        checked_by: text("checked-by")?.unwrap_or(SheetText::new()),
        measure,
        length_by,
        group: document.value("group", value::group)?.unwrap_or(Group::None),
    })
}

fn weighted(table: &Table<'_>) -> Result<Weighted, Refused> {
    let (unit, per) = table.required(table.value("per", value::attenuation)?, "per")?;
    let beyond = table.required(table.value("beyond", |typed| value::beyond(typed, unit))?, "beyond")?;
    let round = [("half-up", Rounding::HalfUp), ("none", Rounding::None)];
    let round_d = [("none", Rounding::None), ("half-up", Rounding::HalfUp), ("floor", Rounding::Floor)];
    let shorter_path = [("negative", ShorterPath::Negative), ("zero", ShorterPath::Zero)];
    Ok(Weighted {
        attenuation: Attenuation::new(unit, per, beyond)
            .map_err(|error| (table.place("per"), error.to_string()))?,
        round: table.required(table.word("round", &round)?, "round")?,
        round_d: table.required(table.word("round-d", &round_d)?, "round-d")?,
        shorter_path: table.required(table.word("shorter-path", &shorter_path)?, "shorter-path")?,
    })
}

fn row(table: &Table<'_>) -> Result<Row, Refused> {
    let verdicts = [("reject", Verdict::Reject), ("accept", Verdict::Accept), ("record", Verdict::Record)];
    let zones = [
        ("any", RowZone::Any),
        ("middle-half", RowZone::MiddleHalf),
        ("outer-quarters", RowZone::OuterQuarters),
    ];
    let shapes = [("any", RowShape::Any), ("planar", RowShape::Planar)];
    let thickness = |key| table.quantity(key);
    let measure = |key| table.quantity(key);
    Ok(Row {
        thickness: Bounds {
            low: limit(table, ["thickness-from", "thickness-over"], thickness)?,
            high: limit(table, ["thickness-to", "thickness-below"], thickness)?,
        },
        angle: table.quantity("angle")?,
        measure: Bounds {
            low: limit(table, ["at-least", "above"], measure)?,
            high: limit(table, ["at-most", "below"], measure)?,
        },
        length_over: table.value("length-over", value::length_limit)?,
        length_up_to: table.value("length-up-to", value::length_limit)?,
        zone: table.word("zone", &zones)?.unwrap_or_default(),
        shape: table.word("shape", &shapes)?.unwrap_or_default(),
        class: table.text::<16>("class")?.unwrap_or(Class::new()),
        verdict: table.required(table.word("verdict", &verdicts)?, "verdict")?,
    })
}

/// One end of a range, from the key that includes its limit or the one that does not.
fn limit<Q>(
    table: &Table<'_>,
    [included, excluded]: [&'static str; 2],
    value: impl Fn(&'static str) -> Result<Option<Q>, Refused>,
) -> Result<Option<Limit<Q>>, Refused> {
    match (value(included)?, value(excluded)?) {
        (Some(_), Some(_)) => Err((
            table.place(excluded),
            format!("{included} and {excluded} in one row; expected one of them"),
        )),
        (Some(at), None) => Ok(Some(Limit { at, included: true })),
        (None, Some(at)) => Ok(Some(Limit { at, included: false })),
        (None, None) => Ok(None),
    }
}
