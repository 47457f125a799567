//! Numbers with their unit.

use halfskip::record::entry::{EnteredHeight, LengthUnit, LinearityWindow};
use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::error::RangeError;
use halfskip::units::{Quantity, ScreenPercent};

use super::reader::{Reader, Reads};
use crate::language::keys::{Key, Kind, Measure, same};
use crate::language::refusal::RefusalKind;
use crate::language::words::Value;

/// Whether a number without a unit is in the quantity's alternative: inches, when the session's lengths are.
pub const fn bare_is_alternative<Q: Quantity>(default: LengthUnit) -> bool {
    match (default, Q::ALTERNATIVE) {
        (LengthUnit::In, Some(other)) => same(other.unit, "in"),
        _ => false,
    }
}

impl<Q: Quantity> Reads for Entered<Q> {
    const UNIT: Option<&'static str> = Some(Q::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let Some(measure) = key.kind.measure() else { return reader.unexpected(key, value) };
        let bare = bare_is_alternative::<Q>(reader.default);
        number(reader, key, measure, value, bare)
    }
}

impl Reads for EnteredHeight {
    const UNIT: Option<&'static str> = Some(ScreenPercent::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        match reader.plain(key, value)? {
            "over" => Some(Self::Over),
            "under" => Some(Self::Under),
            _ => Entered::read(reader, key, value).map(Self::Shown),
        }
    }
}

impl Reads for LinearityWindow {
    const UNIT: Option<&'static str> = Some(ScreenPercent::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        match reader.plain(key, value)? {
            "t9074" => Some(Self::T9074),
            _ => Entered::read(reader, key, value).map(Self::Within),
        }
    }
}

impl Reads for Decimal {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let Kind::Plain(range) = key.kind else { return reader.unexpected(key, value) };
        let (decimal, _) = with_unit(reader, key, value, false, (range.unit, None))?;
        match range.check(decimal.value()) {
            Ok(_) => Some(decimal),
            Err(error) => out_of_range(reader, key, value, error),
        }
    }
}

impl Reads for u32 {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let text = reader.plain(key, value)?;
        let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        match (key.kind, text.parse::<Self>()) {
            (Kind::Count(min, max), Ok(count)) if digits && count >= min && count <= max => Some(count),
            _ => reader.unexpected(key, value),
        }
    }
}

impl Reads for u8 {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        match Self::try_from(u32::read(reader, key, value)?) {
            Ok(count) => Some(count),
            Err(_) => reader.unexpected(key, value),
        }
    }
}

/// One number of a quantity, held to the key's range.
pub fn number<'a, Q: Quantity>(
    reader: &mut Reader<'a>,
    key: &'static Key,
    measure: &Measure,
    value: Value<'a>,
    bare_is_alternative: bool,
) -> Option<Entered<Q>> {
    let units = (Q::RANGE.unit, Q::ALTERNATIVE.map(|other| other.unit));
    let (decimal, in_alternative) = with_unit(reader, key, value, bare_is_alternative, units)?;
    match Entered::held(decimal, in_alternative, measure.range) {
        Ok(entered) => Some(entered),
        Err(error) => out_of_range(reader, key, value, error),
    }
}

/// A number and whether it is in the alternative of two units.
#[inline(never)]
fn with_unit<'a>(
    reader: &mut Reader<'a>,
    key: &'static Key,
    value: Value<'a>,
    bare_is_alternative: bool,
    (taken, alternative): (&'static str, Option<&'static str>),
) -> Option<(Decimal, bool)> {
    let text = reader.plain(key, value)?;
    if let Ok(decimal) = Decimal::parse(text) {
        return Some((decimal, bare_is_alternative));
    }
    let (digits, unit) = split(text);
    if digits.is_empty() {
        return reader.unexpected(key, value);
    }
    let in_alternative = Some(unit) == alternative;
    if !in_alternative && !unit.is_empty() && unit != taken {
        let at = value.at.saturating_add(digits.len());
        return reader.refuse(at, RefusalKind::Unit { key, unit, taken, alternative });
    }
    match Decimal::parse(digits) {
        Ok(decimal) => Some((decimal, in_alternative)),
        Err(error) => reader.refuse(value.at, RefusalKind::Number { key, text: digits, error }),
    }
}

/// The digits of a number, and what stands behind them.
pub fn split(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let end = bytes.iter().zip(1..).position(|(byte, next)| match byte {
        b'0'..=b'9' | b'.' | b'+' | b'-' => false,
        // An exponent, or the first letter of a unit.
        b'e' | b'E' => !matches!(bytes.get(next), Some(b'0'..=b'9' | b'+' | b'-')),
        _ => true,
    });
    text.split_at_checked(end.unwrap_or(text.len())).unwrap_or((text, ""))
}

#[cold]
#[inline(never)]
fn out_of_range<'a, T>(
    reader: &mut Reader<'a>,
    key: &'static Key,
    value: Value<'a>,
    error: RangeError,
) -> Option<T> {
    reader.refuse(value.at, RefusalKind::OutOfRange(RangeError { quantity: key.word, ..error }))
}
