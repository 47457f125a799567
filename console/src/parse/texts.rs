//! Names, texts and days.

use heapless::String;

use halfskip::entry::{Date, LengthUnit};

use super::fields::Reads;
use super::numbers::{plain, unexpected};
use crate::keys::{Key, Kind};
use crate::refusal::{Fault, RefusalKind};
use crate::verbs;
use crate::words::Value;

impl<const N: usize> Reads for String<N> {
    fn read<'a>(key: &'static Key, value: Value<'a>, _: LengthUnit) -> Result<Self, Fault<'a>> {
        if value.text.is_empty() && !(value.quoted && key.kind == Kind::Text) {
            return Err(unexpected(key, value));
        }
        let most = u8::try_from(N).unwrap_or(u8::MAX);
        let too_long = Fault { at: value.at, kind: RefusalKind::TooLong { key: key.word, most } };
        // Outside quotes a backslash is itself.
        if !value.quoted || !value.text.contains('\\') {
            return Self::try_from(value.text).map_err(|_| too_long);
        }
        let mut text = Self::new();
        let mut chars = value.text.char_indices();
        while let Some((offset, char)) = chars.next() {
            let char = match char {
                '\\' => match chars.next() {
                    Some((_, char @ ('"' | '\\'))) => char,
                    _ => {
                        return Err(Fault { at: value.at.saturating_add(offset), kind: RefusalKind::Escape });
                    }
                },
                _ => char,
            };
            text.push(char).map_err(|_| too_long)?;
        }
        Ok(text)
    }
}

impl Reads for Date {
    fn read<'a>(key: &'static Key, value: Value<'a>, _: LengthUnit) -> Result<Self, Fault<'a>> {
        let mut parts = plain(key, value)?.split('-');
        let (Some(year), Some(month), Some(day), None) =
            (parts.next(), parts.next(), parts.next(), parts.next())
        else {
            return Err(unexpected(key, value));
        };
        let number = |text: &str, length: usize| {
            let digits = text.len() == length && text.bytes().all(|byte| byte.is_ascii_digit());
            if digits { text.parse::<u16>().ok() } else { None }
        };
        let (Some(year), Some(month), Some(day)) = (number(year, 4), number(month, 2), number(day, 2)) else {
            return Err(unexpected(key, value));
        };
        let (month, day) = (u8::try_from(month).unwrap_or(0), u8::try_from(day).unwrap_or(0));
        Self::new(year, month, day).ok_or(Fault { at: value.at, kind: RefusalKind::NoSuchDay })
    }
}

/// The word of a verb.
impl Reads for &'static str {
    fn read<'a>(key: &'static Key, value: Value<'a>, _: LengthUnit) -> Result<Self, Fault<'a>> {
        let word = plain(key, value)?;
        verbs::find(word).map(|verb| verb.word).ok_or_else(|| {
            let nearest = crate::nearest::nearest(word, verbs::all().map(|verb| verb.word));
            Fault { at: value.at, kind: RefusalKind::UnknownVerb { word, nearest } }
        })
    }
}
