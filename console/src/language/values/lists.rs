//! Values of several numbers: lists, pairs `path:gain`, dimensions `8x9`.
//!
//! A unit behind the last number holds for every number without one; without it none may have one. So `25mm,100` is
//! refused, since what 100 is measured in would be a guess.

use heapless::Vec;

use halfskip::record::entry::{Backing, Calibrated, Counterbore, Element};
use halfskip::units::decimal::Entered;
use halfskip::units::{Decibels, Millimetres, Quantity};

use super::numbers::{bare_is_alternative, number, split};
use super::reader::{Reader, Reads, cut};
use crate::language::keys::{Key, Kind};
use crate::language::refusal::RefusalKind;
use crate::language::words::Value;

impl<Q: Quantity, const N: usize> Reads for Vec<Entered<Q>, N> {
    const UNIT: Option<&'static str> = Some(Q::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let Kind::List(measure, least, most) = key.kind else { return reader.unexpected(key, value) };
        let last = last(reader.plain(key, value)?);
        let bare = Bare::of::<Q>(reader, last);
        let mut list = Self::new();
        let mut parts = Parts { rest: Some(value) };
        while let Some(part) = parts.next(b',') {
            let item = number(reader, key, measure, part, bare.is_alternative)?;
            bare.consistent(reader, key, part, parts.rest.is_none())?;
            if list.push(item).is_err() {
                return reader.refuse(value.at, RefusalKind::Length { key: key.word, least, most });
            }
        }
        if list.len() < usize::from(least) {
            return reader.refuse(value.at, RefusalKind::Length { key: key.word, least, most });
        }
        Some(list)
    }
}

impl<const N: usize> Reads for Vec<Calibrated, N> {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let Kind::Pairs(first, second, most) = key.kind else { return reader.unexpected(key, value) };
        let Some((path, gain)) = cut(last(reader.plain(key, value)?), b':') else {
            return reader.unexpected(key, value);
        };
        let paths = Bare::of::<Millimetres>(reader, path);
        let gains = Bare::of::<Decibels>(reader, gain);
        let mut list = Self::new();
        let mut parts = Parts { rest: Some(value) };
        while let Some(pair) = parts.next(b',') {
            let mut sides = Parts { rest: Some(pair) };
            let (Some(path), Some(gain), None) = (sides.next(b':'), sides.next(b':'), sides.rest) else {
                return reader.unexpected(key, pair);
            };
            let calibrated = (
                number(reader, key, first, path, paths.is_alternative)?,
                number(reader, key, second, gain, gains.is_alternative)?,
            );
            paths.consistent(reader, key, path, parts.rest.is_none())?;
            gains.consistent(reader, key, gain, parts.rest.is_none())?;
            if list.push(calibrated).is_err() {
                return reader.refuse(value.at, RefusalKind::Length { key: key.word, least: 1, most });
            }
        }
        Some(list)
    }
}

/// How numbers without a unit are read.
struct Bare {
    /// In the quantity's alternative unit.
    is_alternative: bool,
    /// The last number has a unit, so that those before it may have one.
    last_has_unit: bool,
}

impl Bare {
    fn of<Q: Quantity>(reader: &Reader<'_>, last: &str) -> Self {
        let unit = split(last).1;
        let is_alternative = if unit.is_empty() {
            bare_is_alternative::<Q>(reader.default)
        } else {
            Q::ALTERNATIVE.is_some_and(|other| other.unit == unit)
        };
        Self { is_alternative, last_has_unit: !unit.is_empty() }
    }

    fn consistent<'a>(
        &self,
        reader: &mut Reader<'a>,
        key: &'static Key,
        part: Value<'a>,
        last: bool,
    ) -> Option<()> {
        if last || self.last_has_unit || split(part.text).1.is_empty() {
            return Some(());
        }
        reader.refuse(part.at, RefusalKind::UnitBeforeLast(key.word))
    }
}

/// The part behind the last comma.
fn last(text: &str) -> &str {
    let behind = text.bytes().rev().position(|byte| byte == b',').unwrap_or(text.len());
    let start = text.len().saturating_sub(behind);
    text.split_at_checked(start).map_or(text, |(_, last)| last)
}

type Length = Entered<Millimetres>;

impl Reads for Backing<Length> {
    const UNIT: Option<&'static str> = Some(Millimetres::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let (width, height) = both(reader, key, value)?;
        Some(Self { width, height })
    }
}

impl Reads for Counterbore<Length> {
    const UNIT: Option<&'static str> = Some(Millimetres::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let (distance, height) = both(reader, key, value)?;
        Some(Self { distance, height })
    }
}

impl Reads for Element<Length> {
    const UNIT: Option<&'static str> = Some(Millimetres::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        Some(match dimensions(reader, key, value)? {
            (first, Some(second)) => Self::Rectangular { in_plane: first, across: second },
            (diameter, None) => Self::Round { diameter },
        })
    }
}

/// Two lengths.
fn both<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<(Length, Length)> {
    match dimensions(reader, key, value)? {
        (first, Some(second)) => Some((first, second)),
        _ => reader.unexpected(key, value),
    }
}

/// One or two lengths; a unit behind the second holds for both, one behind the first alone is refused.
fn dimensions<'a>(
    reader: &mut Reader<'a>,
    key: &'static Key,
    value: Value<'a>,
) -> Option<(Length, Option<Length>)> {
    reader.plain(key, value)?;
    let Some(measure) = key.kind.measure() else { return reader.unexpected(key, value) };
    let bare = bare_is_alternative::<Millimetres>(reader.default);
    let mut parts = Parts { rest: Some(value) };
    match (parts.next(b'x'), parts.next(b'x'), parts.rest) {
        (Some(only), None, _) => Some((number(reader, key, measure, only, bare)?, None)),
        (Some(first), Some(second), None) => {
            let last: Length = number(reader, key, measure, second, bare)?;
            if split(second.text).1.is_empty() && !split(first.text).1.is_empty() {
                return reader.refuse(second.at, RefusalKind::UnitBeforeLast(key.word));
            }
            Some((number(reader, key, measure, first, last.is_alternative())?, Some(last)))
        }
        _ => reader.unexpected(key, value),
    }
}

/// The parts of a value, each with its place.
struct Parts<'a> {
    rest: Option<Value<'a>>,
}

impl<'a> Parts<'a> {
    fn next(&mut self, separator: u8) -> Option<Value<'a>> {
        let value = self.rest?;
        let Some((text, rest)) = cut(value.text, separator) else {
            self.rest = None;
            return Some(value);
        };
        let at = value.at.saturating_add(text.len()).saturating_add(1);
        self.rest = Some(Value { at, text: rest, ..value });
        Some(Value { text, ..value })
    }
}
