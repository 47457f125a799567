//! Technique sheets as TOML text.
//!
//! Every key is known or refused, every value is checked, and so is what the keys say together: what comes out is a
//! [`Technique`] or nothing.

use std::format;
use std::string::{String, ToString};

use halfskip::acceptance::criteria::SheetText;
use halfskip::acceptance::technique::{Ground, Grounds, Technique, TechniqueError, Terms, Texts};
use halfskip::units::error::Range;
use halfskip::units::limits;
use toml::de::DeTable;

pub use crate::sheets::file::SheetFileError;
use crate::sheets::file::{Refused, Table, Typed, decimal, parsed, quantity, ranged};

/// Reads a technique sheet.
///
/// ```
/// use halfskip::acceptance::technique::Ground;
/// use halfskip_console::sheets::technique::read;
/// let technique = read(
///     r#"
///     title = "invented"
///     source = "no document"
///     asks = ["angle", "transfer"]
///     stated-ok = ["transfer"]
///     angle-within = "2deg"
///     transfer-to = 6
///     "#,
/// )
/// .unwrap();
/// assert!(technique.left_out().contains(Ground::Place));
/// let error = read("asks = ['angel']").unwrap_err();
/// assert!(error.to_string().starts_with("1:9: asks: \"angel\" is no ground; expected range-check, "));
/// ```
///
/// # Errors
/// [`SheetFileError`] with the place of the first fault: not TOML, a key or ground unknown, missing or contradictory, a
/// value out of range, nothing asked.
pub fn read(text: &str) -> Result<Technique, SheetFileError> {
    parsed(text, technique)
}

const KEYS: &[&str] = &[
    "title",
    "source",
    "checked-by",
    "asks",
    "stated-ok",
    "angles",
    "frequency-from",
    "frequency-to",
    "angle-within",
    "index-within",
    "range-within",
    "sensitivity-within",
    "transfer-from",
    "transfer-to",
    "check-every",
    "amplitude-from",
    "amplitude-to",
    "overlap",
    "coverage",
];

fn technique(document: &DeTable<'_>) -> Result<Technique, Refused> {
    let table = Table::new(document, "a technique sheet", 0..0, KEYS)?;
    let asks = grounds(&table, "asks")?;
    // Said before anything else that a blank form lacks.
    if asks.is_empty() {
        return Err((table.place("asks"), TechniqueError::AsksNothing.to_string()));
    }
    let texts = Texts {
        title: table.required(table.text::<120>("title")?, "title")?,
        source: table.required(table.text::<120>("source")?, "source")?,
        checked_by: table.text::<120>("checked-by")?.unwrap_or(SheetText::new()),
    };
    let mut terms = Terms::asking(asks);
    terms.stated_ok = grounds(&table, "stated-ok")?;
    for (angle, place) in table.list("angles", quantity)? {
        let room = terms.angles.capacity();
        terms.angles.push(angle).map_err(|_| (place, format!("angles: more than {room}")))?;
    }
    terms.frequency_from = table.quantity("frequency-from")?;
    terms.frequency_to = table.quantity("frequency-to")?;
    terms.angle_within = table.quantity("angle-within")?;
    terms.index_within = table.quantity("index-within")?;
    terms.range_within = table.quantity("range-within")?;
    terms.sensitivity_within = table.quantity("sensitivity-within")?;
    terms.transfer_from = table.quantity("transfer-from")?;
    terms.transfer_to = table.quantity("transfer-to")?;
    terms.check_every = table.value("check-every", minutes)?;
    terms.amplitude_from = table.quantity("amplitude-from")?;
    terms.amplitude_to = table.quantity("amplitude-to")?;
    terms.overlap = table.quantity("overlap")?;
    terms.coverage = table.quantity("coverage")?;
    Technique::new(texts, terms).map_err(|error| (table.place(error.key()), error.to_string()))
}

fn grounds(table: &Table<'_>, key: &str) -> Result<Grounds, Refused> {
    Ok(table.list(key, ground)?.into_iter().map(|(ground, _)| ground).collect())
}

fn ground(typed: Typed<'_>) -> Result<Ground, String> {
    let all = Grounds::from_iter(Ground::ALL);
    match typed {
        Typed::Text(name) => {
            Ground::by_name(name).ok_or_else(|| format!("{name:?} is no ground; expected {all}"))
        }
        Typed::Number(_) => Err(format!("expected {all}")),
    }
}

/// Hours, as a number or with their unit, in whole minutes: `4`, `"4h"`, `"90min"`.
fn minutes(typed: Typed<'_>) -> Result<u16, String> {
    let minutes = match typed {
        Typed::Number(hours) => hours.value() * 60.0,
        Typed::Text(text) => match (text.strip_suffix("min"), text.strip_suffix('h')) {
            (Some(number), _) => decimal(number)?.value(),
            (_, Some(number)) => decimal(number)?.value() * 60.0,
            _ => return Err(format!("{text:?} has no unit; expected a number of h or min")),
        },
    };
    let minutes = ranged(Range { quantity: "time", ..limits::CHECK_EVERY }.check(minutes))?;
    // In the range, so that the cast only rounds.
    let whole = (minutes + 0.5) as u16;
    match (minutes - f32::from(whole)).abs() < 0.01 {
        true => Ok(whole),
        false => Err("expected whole minutes".to_string()),
    }
}
