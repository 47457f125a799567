//! The values of a sheet: numbers, and texts that carry a unit.

use std::format;
use std::string::{String, ToString};

use halfskip::units::Quantity;
use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::error::RangeError;

use toml::de::DeValue;

/// A value as it was typed: a quoted text, or a bare number.
#[derive(Clone, Copy)]
pub(crate) enum Typed<'t> {
    Text(&'t str),
    Number(Decimal),
}

/// A number or a quoted text.
pub(super) fn typed<'v>(value: &'v DeValue<'_>) -> Result<Typed<'v>, String> {
    let number = |text: &str| Decimal::parse(text).map_err(|error| format!("{text} {error}"));
    match value {
        DeValue::String(text) => Ok(Typed::Text(text.as_ref())),
        DeValue::Integer(integer) if integer.radix() == 10 => number(integer.as_str()).map(Typed::Number),
        DeValue::Float(float) => number(float.as_str()).map(Typed::Number),
        _ => Err("expected a number or a quoted text".to_string()),
    }
}

pub(crate) fn decimal(text: &str) -> Result<Decimal, String> {
    Decimal::parse(text).map_err(|error| format!("{text:?} {error}"))
}

pub(crate) fn ranged<T>(value: Result<T, RangeError>) -> Result<T, String> {
    value.map_err(|error| error.to_string())
}

/// A number in the quantity's unit, or a text that names the unit.
pub(crate) fn quantity<Q: Quantity>(typed: Typed<'_>) -> Result<Q, String> {
    let own = Q::RANGE.unit;
    let entered = match typed {
        Typed::Number(number) => Entered::<Q>::new(number),
        Typed::Text(text) => {
            let other = Q::ALTERNATIVE.map(|other| other.unit);
            if let Some(number) = text.strip_suffix(own) {
                Entered::new(decimal(number)?)
            } else if let Some(number) = other.and_then(|unit| text.strip_suffix(unit)) {
                Entered::in_alternative(decimal(number)?)
            } else {
                let or = other.map_or_else(String::new, |unit| format!(" or {unit}"));
                return Err(format!("{text:?} has no unit; expected a number of {own}{or}"));
            }
        }
    };
    ranged(entered).map(Entered::quantity)
}
