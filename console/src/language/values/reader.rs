//! How a value is read: as the type that its key stands for, and refused in one place.

use halfskip::record::entry::LengthUnit;

use crate::language::keys::Key;
use crate::language::nearest::nearest;
use crate::language::refusal::{Fault, RefusalKind};
use crate::language::words::Value;

/// What reading a value depends on, and the first refusal.
pub(crate) struct Reader<'a> {
    /// The unit of a length without one.
    pub default: LengthUnit,
    /// The first refusal; what is read after it no longer counts.
    pub fault: Option<Fault<'a>>,
}

/// A type that a value can be read as.
pub(crate) trait Reads: Sized {
    /// The unit of its numbers; the key's range has to have the same.
    const UNIT: Option<&'static str> = None;
    /// Reads a value of the key; none when it was refused.
    fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self>;
}

impl<'a> Reader<'a> {
    /// Keeps a refusal, unless there is one already.
    #[cold]
    #[inline(never)]
    pub fn refuse<T>(&mut self, at: usize, kind: RefusalKind<'a>) -> Option<T> {
        if self.fault.is_none() {
            self.fault = Some(Fault { at, kind });
        }
        None
    }

    /// Refuses a value that is nothing that the key takes.
    #[cold]
    #[inline(never)]
    pub fn unexpected<T>(&mut self, key: &'static Key, value: Value<'a>) -> Option<T> {
        let nearest = nearest(value.text, key.kind.words().iter().copied());
        self.refuse(value.at, RefusalKind::Value { key, text: value.text, nearest })
    }

    /// The value's text, which stands without quotes.
    pub fn plain(&mut self, key: &'static Key, value: Value<'a>) -> Option<&'a str> {
        if value.quoted {
            return self.refuse(value.at.saturating_sub(1), RefusalKind::Quoted(key));
        }
        Some(value.text)
    }
}

/// The text before the first separator and the one behind it. A byte that is ASCII, so both are whole characters.
pub(crate) fn cut(text: &str, separator: u8) -> Option<(&str, &str)> {
    let length = text.bytes().position(|byte| byte == separator)?;
    let (before, rest) = text.split_at_checked(length)?;
    let (_, behind) = rest.split_at_checked(1)?;
    Some((before, behind))
}
