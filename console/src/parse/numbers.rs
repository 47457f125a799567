//! Numbers with their unit.

use halfskip::decimal::{Decimal, Entered};
use halfskip::entry::{EnteredHeight, LengthUnit, LinearityWindow};
use halfskip::error::RangeError;
use halfskip::units::{Quantity, ScreenPercent};

use super::fields::Reads;
use crate::keys::{Key, Kind, Measure, same};
use crate::nearest::nearest;
use crate::refusal::{Fault, RefusalKind};
use crate::words::Value;

/// The unit of a number without one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Bare {
    /// The quantity's own.
    Own,
    /// Its alternative.
    Alternative,
}

impl Bare {
    /// The session's default concerns lengths alone.
    pub const fn of<Q: Quantity>(default: LengthUnit) -> Self {
        match (default, Q::ALTERNATIVE) {
            (LengthUnit::In, Some(other)) if same(other.unit, "in") => Self::Alternative,
            _ => Self::Own,
        }
    }
}

impl<Q: Quantity> Reads for Entered<Q> {
    const UNIT: Option<&'static str> = Some(Q::RANGE.unit);

    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        let Some(measure) = key.kind.measure() else {
            return Err(unexpected(key, value));
        };
        number(key, measure, value, Bare::of::<Q>(default))
    }
}

impl Reads for EnteredHeight {
    const UNIT: Option<&'static str> = Some(ScreenPercent::RANGE.unit);

    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        match value.text {
            "over" => Ok(Self::Over),
            "under" => Ok(Self::Under),
            _ => number_or_word(key, value, default).map(Self::Shown),
        }
    }
}

impl Reads for LinearityWindow {
    const UNIT: Option<&'static str> = Some(ScreenPercent::RANGE.unit);

    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        match value.text {
            "t9074" => Ok(Self::T9074),
            _ => number_or_word(key, value, default).map(Self::Within),
        }
    }
}

impl Reads for Decimal {
    fn read<'a>(key: &'static Key, value: Value<'a>, _: LengthUnit) -> Result<Self, Fault<'a>> {
        let Kind::Plain(range) = key.kind else {
            return Err(unexpected(key, value));
        };
        let (digits, unit) = split(plain(key, value)?);
        if !unit.is_empty() && !digits.is_empty() && unit != range.unit {
            let kind = RefusalKind::Unit { key, unit, taken: range.unit, alternative: None };
            return Err(Fault { at: value.at.saturating_add(digits.len()), kind });
        }
        let decimal = decimal(key, value, digits)?;
        match range.check(decimal.value()) {
            Ok(_) => Ok(decimal),
            Err(error) => Err(out_of_range(key, value, error)),
        }
    }
}

impl Reads for u32 {
    fn read<'a>(key: &'static Key, value: Value<'a>, _: LengthUnit) -> Result<Self, Fault<'a>> {
        let Kind::Count(min, max) = key.kind else {
            return Err(unexpected(key, value));
        };
        let text = plain(key, value)?;
        let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        let count = if digits { text.parse::<Self>().ok() } else { None };
        count.filter(|count| (min..=max).contains(count)).ok_or(unexpected(key, value))
    }
}

impl Reads for u8 {
    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        let count = u32::read(key, value, default)?;
        Self::try_from(count).map_err(|_| unexpected(key, value))
    }
}

/// A number where a word is taken too: what is neither has the word nearest to it.
fn number_or_word<'a, Q: Quantity>(
    key: &'static Key,
    value: Value<'a>,
    default: LengthUnit,
) -> Result<Entered<Q>, Fault<'a>> {
    if split(value.text).0.is_empty() {
        return Err(unexpected(key, value));
    }
    Entered::read(key, value, default)
}

/// One number of a quantity, held to the key's range.
pub fn number<'a, Q: Quantity>(
    key: &'static Key,
    measure: &Measure,
    value: Value<'a>,
    bare: Bare,
) -> Result<Entered<Q>, Fault<'a>> {
    let text = plain(key, value)?;
    let (decimal, in_alternative) = match Decimal::parse(text) {
        Ok(decimal) => (decimal, bare == Bare::Alternative),
        Err(_) => with_unit::<Q>(key, value)?,
    };
    Entered::held(decimal, in_alternative, measure.range).map_err(|error| out_of_range(key, value, error))
}

/// A number with its unit, and whether that is the quantity's alternative; or what is wrong with it.
fn with_unit<'a, Q: Quantity>(key: &'static Key, value: Value<'a>) -> Result<(Decimal, bool), Fault<'a>> {
    let (digits, unit) = split(value.text);
    if digits.is_empty() {
        return Err(unexpected(key, value));
    }
    let alternative = Q::ALTERNATIVE.map(|other| other.unit);
    let in_alternative = Some(unit) == alternative;
    if !in_alternative && !unit.is_empty() && unit != Q::RANGE.unit {
        let kind = RefusalKind::Unit { key, unit, taken: Q::RANGE.unit, alternative };
        return Err(Fault { at: value.at.saturating_add(digits.len()), kind });
    }
    Ok((decimal(key, value, digits)?, in_alternative))
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

fn decimal<'a>(key: &'static Key, value: Value<'a>, digits: &'a str) -> Result<Decimal, Fault<'a>> {
    Decimal::parse(digits)
        .map_err(|error| Fault { at: value.at, kind: RefusalKind::Number { key, text: digits, error } })
}

/// The value's text, which stands without quotes.
pub fn plain<'a>(key: &'static Key, value: Value<'a>) -> Result<&'a str, Fault<'a>> {
    if value.quoted {
        return Err(Fault { at: value.at.saturating_sub(1), kind: RefusalKind::Quoted(key) });
    }
    Ok(value.text)
}

/// Refuses a value that is nothing that the key takes.
#[cold]
pub fn unexpected<'a>(key: &'static Key, value: Value<'a>) -> Fault<'a> {
    let nearest = nearest(value.text, key.kind.words().iter().copied());
    Fault { at: value.at, kind: RefusalKind::Value { key, text: value.text, nearest } }
}

#[cold]
fn out_of_range<'a>(key: &'static Key, value: Value<'a>, error: RangeError) -> Fault<'a> {
    Fault { at: value.at, kind: RefusalKind::OutOfRange(RangeError { quantity: key.word, ..error }) }
}
