//! Names, texts, days and times of the day.

use heapless::String;

use halfskip::record::entry::{Clock, Date};

use super::reader::{Reader, Reads, cut};
use crate::language::keys::{Key, Kind};
use crate::language::refusal::RefusalKind;
use crate::language::words::Value;

impl<const N: usize> Reads for String<N> {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        if value.text.is_empty() && !(value.quoted && matches!(key.kind, Kind::Text)) {
            return reader.unexpected(key, value);
        }
        let mut text = Self::new();
        // Outside quotes a backslash is itself.
        let (mut rest, mut whole) = (value.text, true);
        while let (true, Some((before, behind))) = (value.quoted, cut(rest, b'\\')) {
            let mut behind_it = behind.chars();
            let char = behind_it.next().filter(|char| matches!(char, '"' | '\\'));
            let Some(char) = char else {
                let at = value.text.len().saturating_sub(behind.len()).saturating_sub(1);
                return reader.refuse(value.at.saturating_add(at), RefusalKind::Escape);
            };
            whole &= text.push_str(before).is_ok() && text.push(char).is_ok();
            rest = behind_it.as_str();
        }
        if whole && text.push_str(rest).is_ok() {
            return Some(text);
        }
        let most = u8::try_from(N).unwrap_or(u8::MAX);
        reader.refuse(value.at, RefusalKind::TooLong { key: key.word, most })
    }
}

impl Reads for Date {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let Some((year, month, day)) = day(reader.plain(key, value)?) else {
            return reader.unexpected(key, value);
        };
        match Self::new(year, month, day) {
            Some(date) => Some(date),
            None => reader.refuse(value.at, RefusalKind::NoSuchDay),
        }
    }
}

impl Reads for Clock {
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
        let Some((hour, minute)) = time(reader.plain(key, value)?) else {
            return reader.unexpected(key, value);
        };
        match Self::new(hour, minute) {
            Some(clock) => Some(clock),
            None => reader.refuse(value.at, RefusalKind::NoSuchTime),
        }
    }
}

/// Two digits and two; the hour may have one.
fn time(text: &str) -> Option<(u8, u8)> {
    let (hour, minute) = cut(text, b':')?;
    let sized = matches!(hour.len(), 1 | 2) && minute.len() == 2;
    (sized && digits(hour) && digits(minute)).then_some(())?;
    Some((hour.parse().ok()?, minute.parse().ok()?))
}

fn digits(text: &str) -> bool {
    text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Four digits, two and two.
fn day(text: &str) -> Option<(u16, u8, u8)> {
    let (year, rest) = cut(text, b'-')?;
    let (month, day) = cut(rest, b'-')?;
    let sized = year.len() == 4 && month.len() == 2 && day.len() == 2;
    (sized && digits(year) && digits(month) && digits(day)).then_some(())?;
    Some((year.parse().ok()?, month.parse().ok()?, day.parse().ok()?))
}
