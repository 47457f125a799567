//! A comparison for a person.

use core::fmt::{self, Write as _};
use std::format;
use std::io::{self, Write};
use std::string::{String, ToString};

use halfskip::record::entry::LengthUnit;
use halfskip::units::decimal::Fixed;

use super::{Comparison, Difference, Pair};
use crate::answers::page::{Page, plus};

/// Writes the comparison.
///
/// # Errors
/// That the output cannot be written.
pub fn write(compared: &Comparison, out: &mut impl Write) -> io::Result<()> {
    let mut text = String::new();
    // A text takes whatever is written to it.
    let _ = told(compared, &mut Page::new(&mut text, LengthUnit::Mm));
    out.write_all(text.as_bytes())
}

fn told(compared: &Comparison, page: &mut Page<'_>) -> fmt::Result {
    for (place, job) in ["first", "second"].into_iter().zip(&compared.jobs) {
        page.item(place, format_args!("{}", job.told()))?;
    }
    if compared.matched.is_empty() {
        page.heading(format_args!("No indication of one lies where one of the other does."))?;
    }
    for found in &compared.matched {
        pair(found, page)?;
    }
    for (which, names) in [("first", &compared.only_first), ("second", &compared.only_second)] {
        if !names.is_empty() {
            page.heading(format_args!("Only in the {which}: {}", names.join(", ")))?;
        }
    }
    page.heading(format_args!("Cautions"))?;
    compared.cautions.iter().try_for_each(|caution| page.marked("- ", format_args!("{caution}")))
}

fn pair(found: &Pair, page: &mut Page<'_>) -> fmt::Result {
    let [one, other] = &found.ids;
    let agree = match found.differs {
        Some(true) => "DIFFERS by more than its uncertainty explains",
        Some(false) => "no difference exceeds its uncertainty, where it has one",
        None => "no difference has an uncertainty",
    };
    page.heading(format_args!("Indication {one} and {other}: {agree}"))?;
    writeln!(page, "  {:10}{:>10}{:>10}{:>12}{:>10}{:>8}", "", "first", "second", "difference", "U", "in U")?;
    for quantity in &found.quantities {
        writeln!(page, "  {}", row(quantity))?;
    }
    let [verdict, then] = found.verdicts;
    let changed = if verdict == then { "" } else { ": CHANGED" };
    page.item("verdict", format_args!("{verdict}, then {then}{changed}"))
}

fn row(found: &Difference) -> String {
    let shown =
        |value: Option<f32>| value.map_or_else(|| "-".to_string(), |value| Fixed(value, 1).to_string());
    let [one, other] = found.values;
    let difference = found.difference.map_or_else(|| "-".to_string(), |value| plus(value, 1).to_string());
    let over = if found.units.is_some_and(|units| units > 1.0) { " !" } else { "" };
    format!(
        "{:10}{:>10}{:>10}{difference:>12}{:>10}{:>8}{over}",
        format!("{} {}", found.quantity, found.unit),
        shown(one),
        shown(other),
        shown(found.uncertainty),
        shown(found.units)
    )
}
