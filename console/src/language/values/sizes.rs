//! Dimensions: `8x9`, `0.25x0.5in`, `8mmx9mm`, or one number for what is round.

use halfskip::record::entry::Element;
use halfskip::units::Millimetres;
use halfskip::units::decimal::Entered;

use super::lists::Parts;
use super::numbers::{bare_is_alternative, number, split};
use super::reader::{Reader, Reads};
use crate::language::keys::Key;
use crate::language::refusal::RefusalKind;
use crate::language::words::Value;

type Length = Entered<Millimetres>;

impl Reads for (Length, Length) {
    const UNIT: Option<&'static str> = Some(Millimetres::RANGE.unit);

    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        match dimensions(reader, key, value)? {
            (first, Some(second)) => Some((first, second)),
            _ => reader.unexpected(key, value),
        }
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
