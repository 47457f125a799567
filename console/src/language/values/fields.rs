//! The values of one line, each in its key's place, and the rules between them.

use core::marker::PhantomData;

use halfskip::record::entry::LengthUnit;

use super::reader::{Reader, Reads};
use crate::language::keys::{Expected, Key, MAX_KEYS, Measure, Rule, bit, place, same};
use crate::language::refusal::{Fault, RefusalKind};
use crate::language::words::Value;

/// The words behind a verb, sorted by key.
pub(crate) struct Fields<'a> {
    verb: &'static str,
    expected: Expected,
    reader: Reader<'a>,
    name: Option<Value<'a>>,
    values: [Value<'a>; MAX_KEYS],
    given: u32,
    /// Offset behind the last word, where what is missing would stand.
    pub end: usize,
}

/// A key's place in its table, and the type that it is read as.
pub(crate) struct At<T> {
    index: u32,
    kind: PhantomData<fn() -> T>,
}

/// Looks a key up; for `const` items, where a word that is no key, or one of another unit, does not compile.
pub(crate) const fn at<T: Reads>(table: &'static [Key], word: &str) -> At<T> {
    let index = place(table, word);
    if let Some(unit) = T::UNIT {
        let Some(measure) = measure(table, index) else { panic!("the key has no unit") };
        assert!(same(measure.range.unit, unit), "the key has another unit");
    }
    At { index, kind: PhantomData }
}

const fn measure(table: &[Key], index: u32) -> Option<&Measure> {
    let (mut left, mut table) = (index, table);
    while let [key, rest @ ..] = table {
        if left == 0 {
            return key.kind.measure();
        }
        (left, table) = (left - 1, rest);
    }
    None
}

impl<'a> Fields<'a> {
    pub fn new(verb: &'static str, expected: Expected, default: LengthUnit) -> Self {
        let reader = Reader { default, fault: None };
        Self { verb, expected, reader, name: None, values: [Value::default(); MAX_KEYS], given: 0, end: 0 }
    }

    /// Puts the word without a key in its place, when there is one and it is free.
    pub fn put_name(&mut self, value: Value<'a>) -> bool {
        let free = self.expected.name.is_some() && self.name.is_none();
        if free {
            self.name = Some(value);
        }
        free
    }

    /// Puts a value in its key's place.
    pub fn put(&mut self, index: usize, at: usize, value: Value<'a>) -> Result<(), Fault<'a>> {
        let bit = bit(u32::try_from(index).unwrap_or(u32::MAX));
        if let (true, Some(key)) = (self.given & bit != 0, self.expected.keys.get(index)) {
            return Err(Fault { at, kind: RefusalKind::Repeated(key.word) });
        }
        if let Some(place) = self.values.get_mut(index) {
            *place = value;
            self.given |= bit;
        }
        Ok(())
    }

    /// Holds the keys given to the form's rules.
    pub fn checked(&self) -> Result<(), Fault<'a>> {
        let verb = self.verb;
        if let (Some(name), None) = (self.expected.name, self.name)
            && name.required
        {
            return Err(Fault { at: self.end, kind: RefusalKind::MissingName { verb, name } });
        }
        let with_either = self.expected.rules.iter().fold(0, |all, rule| match rule {
            Rule::WithEither(bits) => all | bits,
            _ => all,
        });
        for rule in self.expected.rules {
            match *rule {
                Rule::Alone(bits) if self.given & bits != 0 && self.given & !(bits | with_either) != 0 => {
                    return Err(
                        self.fault(bits, |_| RefusalKind::Alone { verb, keys: self.expected.set(bits) })
                    );
                }
                Rule::OneOf(bits) if (self.given & bits).count_ones() != 1 => {
                    return Err(Fault {
                        at: self.end,
                        kind: RefusalKind::OneOf { verb, keys: self.expected.set(bits) },
                    });
                }
                Rule::Together(bits) if self.given & bits != 0 && self.given & bits != bits => {
                    return Err(Fault { at: self.end, kind: RefusalKind::Together(self.expected.set(bits)) });
                }
                Rule::AnyOf(bits) if self.given & bits == 0 => {
                    let keys = self.expected.set(bits);
                    return Err(Fault { at: self.end, kind: RefusalKind::MissingAny { verb, keys } });
                }
                Rule::Needs(bits, others) if self.given & bits != 0 && self.given & others == 0 => {
                    let other = self.expected.set(others).iter().next().map_or("", |key| key.word);
                    return Err(self.fault(bits, |key| RefusalKind::Needs { key, other }));
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// What a form makes of the line, or the first refusal on the way to it.
    pub fn built<T>(&mut self, build: fn(&mut Self) -> Option<T>) -> Result<Option<T>, Fault<'a>> {
        let built = build(self);
        match self.reader.fault {
            Some(fault) => Err(fault),
            None if built.is_none() => Err(self.missing()),
            None => Ok(built),
        }
    }

    /// The word without a key.
    pub fn name<T: Reads>(&mut self) -> Option<T> {
        T::read(&mut self.reader, self.expected.name?, self.name?)
    }

    /// The value of a key that the form needs; none when it is missing or refused.
    pub fn needed<T: Reads>(&mut self, at: At<T>) -> Option<T> {
        let found = self.found(at.index);
        if found.is_none() {
            let missing = self.missing();
            return self.reader.refuse(missing.at, missing.kind);
        }
        let (key, value) = found?;
        T::read(&mut self.reader, key, value)
    }

    /// The value of a key, when it was given; none too when it is refused, which [`Self::built`] tells.
    pub fn given<T: Reads>(&mut self, at: At<T>) -> Option<T> {
        let (key, value) = self.found(at.index)?;
        T::read(&mut self.reader, key, value)
    }

    /// Refuses lists of different lengths.
    pub fn equal(&mut self, first: (&'static str, usize), second: (&'static str, usize)) -> Option<()> {
        if first.1 == second.1 {
            return Some(());
        }
        let count = |length| u8::try_from(length).unwrap_or(u8::MAX);
        let kind =
            RefusalKind::Unequal { first: (first.0, count(first.1)), second: (second.0, count(second.1)) };
        let at = self.place_of(second.0);
        self.reader.refuse(at, kind)
    }

    fn found(&self, index: u32) -> Option<(&'static Key, Value<'a>)> {
        let place = usize::try_from(index).ok()?;
        let key = self.expected.keys.get(place)?;
        let value = self.values.get(place)?;
        (self.given & bit(index) != 0).then_some((key, *value))
    }

    fn place_of(&self, word: &str) -> usize {
        let index = self.expected.keys.iter().position(|key| key.word == word);
        index.and_then(|index| self.values.get(index)).map_or(self.end, |value| value.at)
    }

    fn fault(&self, bits: u32, kind: impl Fn(&'static str) -> RefusalKind<'a>) -> Fault<'a> {
        let word = self.expected.set(bits & self.given).iter().next().map_or("", |key| key.word);
        Fault { at: self.place_of(word), kind: kind(word) }
    }

    /// Names all keys that are missing, not only the first.
    #[cold]
    fn missing(&self) -> Fault<'a> {
        let alone = self.expected.rules.iter().find_map(|rule| match rule {
            Rule::Alone(bits) => Some(*bits),
            _ => None,
        });
        // What may be given beside another key is not asked for.
        let beside = self.expected.rules.iter().fold(0, |all, rule| match rule {
            Rule::Needs(bits, _) => all | bits,
            _ => all,
        });
        let alone = alone.map(|bits| self.expected.set(bits & !beside));
        // With some of the keys already there, the other form is no longer what was meant.
        let alone = alone.filter(|_| self.given == 0);
        let keys = self.expected.set(self.expected.required() & !self.given);
        Fault { at: self.end, kind: RefusalKind::Missing { verb: self.verb, keys, alone } }
    }
}
