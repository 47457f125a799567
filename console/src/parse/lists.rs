//! Values with commas between: numbers, and pairs `path:gain`.
//!
//! A unit behind the last number holds for every number without one; without it none may have one. So `25mm,100` is
//! refused, since what 100 is measured in would be a guess.

use heapless::Vec;

use halfskip::decimal::Entered;
use halfskip::entry::{Calibrated, LengthUnit};
use halfskip::units::{Decibels, Millimetres, Quantity};

use super::fields::Reads;
use super::numbers::{Bare, number, plain, split, unexpected};
use crate::keys::{Key, Kind};
use crate::refusal::{Fault, RefusalKind};
use crate::words::Value;

impl<Q: Quantity, const N: usize> Reads for Vec<Entered<Q>, N> {
    const UNIT: Option<&'static str> = Some(Q::RANGE.unit);

    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        let Kind::List(measure, least, most) = &key.kind else {
            return Err(unexpected(key, value));
        };
        let (bare, others) = units::<Q>(last(plain(key, value)?, ','), default);
        let mut list = Self::new();
        let mut parts = Parts { rest: Some(value) };
        while let Some((part, is_last)) = parts.next(',') {
            let item = number(key, measure, part, bare)?;
            consistent(key, part, is_last, others)?;
            list.push(item).map_err(|_| length(key, value, *least, *most))?;
        }
        if list.len() < usize::from(*least) {
            return Err(length(key, value, *least, *most));
        }
        Ok(list)
    }
}

impl<const N: usize> Reads for Vec<Calibrated, N> {
    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        let Kind::Pairs(first, second, most) = &key.kind else {
            return Err(unexpected(key, value));
        };
        let Some((path, gain)) = last(plain(key, value)?, ',').split_once(':') else {
            return Err(unexpected(key, value));
        };
        let paths = units::<Millimetres>(path, default);
        let gains = units::<Decibels>(gain, default);
        let mut list = Self::new();
        let mut parts = Parts { rest: Some(value) };
        while let Some((pair, is_last)) = parts.next(',') {
            let mut sides = Parts { rest: Some(pair) };
            let (Some((path, false)), Some((gain, true))) = (sides.next(':'), sides.next(':')) else {
                return Err(unexpected(key, pair));
            };
            let calibrated = (number(key, first, path, paths.0)?, number(key, second, gain, gains.0)?);
            consistent(key, path, is_last, paths.1)?;
            consistent(key, gain, is_last, gains.1)?;
            list.push(calibrated).map_err(|_| length(key, value, 1, *most))?;
        }
        Ok(list)
    }
}

/// How numbers without a unit are read, and whether numbers before the last may have one.
fn units<Q: Quantity>(last: &str, default: LengthUnit) -> (Bare, bool) {
    let unit = split(last).1;
    let bare = match Q::ALTERNATIVE {
        _ if unit.is_empty() => Bare::of::<Q>(default),
        Some(other) if other.unit == unit => Bare::Alternative,
        _ => Bare::Own,
    };
    (bare, !unit.is_empty())
}

fn consistent<'a>(key: &'static Key, part: Value<'a>, is_last: bool, allowed: bool) -> Result<(), Fault<'a>> {
    if is_last || allowed || split(part.text).1.is_empty() {
        return Ok(());
    }
    Err(Fault { at: part.at, kind: RefusalKind::UnitBeforeLast(key.word) })
}

fn last(text: &str, separator: char) -> &str {
    text.rsplit(separator).next().unwrap_or(text)
}

#[cold]
fn length<'a>(key: &'static Key, value: Value<'a>, least: u8, most: u8) -> Fault<'a> {
    Fault { at: value.at, kind: RefusalKind::Length { key: key.word, least, most } }
}

/// The parts of a value, each with its place, and whether it is the last.
pub(super) struct Parts<'a> {
    pub rest: Option<Value<'a>>,
}

impl<'a> Parts<'a> {
    pub fn next(&mut self, separator: char) -> Option<(Value<'a>, bool)> {
        let value = self.rest?;
        match value.text.split_once(separator) {
            Some((text, rest)) => {
                let at = value.at.saturating_add(text.len()).saturating_add(separator.len_utf8());
                self.rest = Some(Value { at, text: rest, ..value });
                Some((Value { text, ..value }, false))
            }
            None => {
                self.rest = None;
                Some((value, true))
            }
        }
    }
}
