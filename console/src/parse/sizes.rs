//! Dimensions: `8x9`, `0.25x0.5in`, `8mmx9mm`, or one number for what is round.

use halfskip::decimal::Entered;
use halfskip::entry::{ElementEntry, LengthUnit};
use halfskip::units::Millimetres;

use super::fields::Reads;
use super::lists::Parts;
use super::numbers::{Bare, number, plain, split, unexpected};
use crate::keys::{Key, Measure};
use crate::refusal::{Fault, RefusalKind};
use crate::words::Value;

type Length = Entered<Millimetres>;

impl Reads for (Length, Length) {
    const UNIT: Option<&'static str> = Some(Millimetres::RANGE.unit);

    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        let Some(measure) = key.kind.measure() else {
            return Err(unexpected(key, value));
        };
        match dimensions(key, measure, value, default)? {
            (first, Some(second)) => Ok((first, second)),
            _ => Err(unexpected(key, value)),
        }
    }
}

impl Reads for ElementEntry {
    const UNIT: Option<&'static str> = Some(Millimetres::RANGE.unit);

    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>> {
        let Some(measure) = key.kind.measure() else {
            return Err(unexpected(key, value));
        };
        Ok(match dimensions(key, measure, value, default)? {
            (first, Some(second)) => Self::Rectangular(first, second),
            (diameter, None) => Self::Round(diameter),
        })
    }
}

/// One or two lengths; a unit behind the second holds for both, one behind the first alone is refused.
fn dimensions<'a>(
    key: &'static Key,
    measure: &Measure,
    value: Value<'a>,
    default: LengthUnit,
) -> Result<(Length, Option<Length>), Fault<'a>> {
    plain(key, value)?;
    let bare = Bare::of::<Millimetres>(default);
    let mut parts = Parts { rest: Some(value) };
    match (parts.next('x'), parts.next('x'), parts.next('x')) {
        (Some((only, _)), None, _) => Ok((number(key, measure, only, bare)?, None)),
        (Some((first, _)), Some((second, _)), None) => {
            let last = number::<Millimetres>(key, measure, second, bare)?;
            let unit = split(second.text).1;
            if unit.is_empty() && !split(first.text).1.is_empty() {
                return Err(Fault { at: second.at, kind: RefusalKind::UnitBeforeLast(key.word) });
            }
            let bare = if last.is_alternative() { Bare::Alternative } else { Bare::Own };
            Ok((number(key, measure, first, bare)?, Some(last)))
        }
        _ => Err(unexpected(key, value)),
    }
}
