//! The values of one line, each in its key's place, and the rules between them.

use core::marker::PhantomData;

use halfskip::entry::LengthUnit;

use crate::keys::{Form, Key, MAX_KEYS, Measure, Rule, Verb, bit, place, same};
use crate::refusal::{Fault, RefusalKind};
use crate::words::Value;

/// The words behind a verb, sorted by key.
pub(crate) struct Fields<'a> {
    verb: &'static Verb,
    form: &'static Form,
    default: LengthUnit,
    /// The word without a key.
    pub name: Option<Value<'a>>,
    values: [Value<'a>; MAX_KEYS],
    given: u16,
    /// Offset behind the last word, where what is missing would stand.
    pub end: usize,
}

/// A type that a value can be read as.
pub(crate) trait Reads: Sized {
    /// The unit of its numbers; the key's range has to have the same.
    const UNIT: Option<&'static str> = None;
    /// Reads a value of the key.
    fn read<'a>(key: &'static Key, value: Value<'a>, default: LengthUnit) -> Result<Self, Fault<'a>>;
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
    pub fn new(verb: &'static Verb, form: &'static Form, default: LengthUnit) -> Self {
        Self { verb, form, default, name: None, values: [Value::default(); MAX_KEYS], given: 0, end: 0 }
    }

    /// Puts a value in its key's place.
    pub fn put(&mut self, index: usize, at: usize, value: Value<'a>) -> Result<(), Fault<'a>> {
        let bit = bit(u32::try_from(index).unwrap_or(u32::MAX));
        if let (true, Some(key)) = (self.given & bit != 0, self.form.keys.get(index)) {
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
        let verb = self.verb.word;
        if let (Some(name), None) = (&self.form.name, self.name)
            && name.required
        {
            return Err(Fault { at: self.end, kind: RefusalKind::MissingName { verb, name } });
        }
        for rule in self.form.rules {
            match *rule {
                Rule::Alone(bits) if self.given & bits != 0 && self.given != bits => {
                    return Err(self.fault(bits, |key| RefusalKind::Alone { verb, key }));
                }
                Rule::OneOf(bits) if (self.given & bits).count_ones() != 1 => {
                    return Err(Fault {
                        at: self.end,
                        kind: RefusalKind::OneOf { verb, keys: self.form.set(bits) },
                    });
                }
                Rule::Together(bits) if self.given & bits != 0 && self.given & bits != bits => {
                    return Err(Fault { at: self.end, kind: RefusalKind::Together(self.form.set(bits)) });
                }
                Rule::AnyOf(bits) if self.given & bits == 0 => {
                    return Err(Fault {
                        at: self.end,
                        kind: RefusalKind::MissingAny { verb, keys: self.form.set(bits) },
                    });
                }
                Rule::Needs(bits, others) if self.given & bits != 0 && self.given & others == 0 => {
                    let other = self.form.set(others).iter().next().map_or("", |key| key.word);
                    return Err(self.fault(bits, |key| RefusalKind::Needs { key, other }));
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// The word without a key.
    pub fn name<T: Reads>(&self) -> Result<T, Fault<'a>> {
        match (&self.form.name, self.name) {
            (Some(key), Some(value)) => T::read(key, value, self.default),
            _ => Err(self.missing()),
        }
    }

    /// The word without a key, when there is one.
    pub fn optional_name<T: Reads>(&self) -> Result<Option<T>, Fault<'a>> {
        if self.name.is_some() { self.name().map(Some) } else { Ok(None) }
    }

    /// The value of a key that the form needs.
    pub fn needed<T: Reads>(&self, at: At<T>) -> Result<T, Fault<'a>> {
        self.given(at)?.ok_or_else(|| self.missing())
    }

    /// The value of a key, when it was given.
    pub fn given<T: Reads>(&self, at: At<T>) -> Result<Option<T>, Fault<'a>> {
        match self.found(at.index) {
            Some((key, value)) => T::read(key, value, self.default).map(Some),
            None => Ok(None),
        }
    }

    /// Refuses lists of different lengths.
    pub fn equal(
        &self,
        first: (&'static str, usize),
        second: (&'static str, usize),
    ) -> Result<(), Fault<'a>> {
        if first.1 == second.1 {
            return Ok(());
        }
        let count = |length| u8::try_from(length).unwrap_or(u8::MAX);
        let kind =
            RefusalKind::Unequal { first: (first.0, count(first.1)), second: (second.0, count(second.1)) };
        let at = self.place_of(second.0);
        Err(Fault { at, kind })
    }

    fn found(&self, index: u32) -> Option<(&'static Key, Value<'a>)> {
        let place = usize::try_from(index).ok()?;
        let key = self.form.keys.get(place)?;
        let value = self.values.get(place)?;
        (self.given & bit(index) != 0).then_some((key, *value))
    }

    fn place_of(&self, word: &str) -> usize {
        let index = self.form.keys.iter().position(|key| key.word == word);
        index.and_then(|index| self.values.get(index)).map_or(self.end, |value| value.at)
    }

    fn fault(&self, bits: u16, kind: impl Fn(&'static str) -> RefusalKind<'a>) -> Fault<'a> {
        let word = self.form.set(bits & self.given).iter().next().map_or("", |key| key.word);
        Fault { at: self.place_of(word), kind: kind(word) }
    }

    /// Names all keys that are missing, not only the first.
    #[cold]
    fn missing(&self) -> Fault<'a> {
        let alone = self.form.rules.iter().find_map(|rule| match rule {
            Rule::Alone(bits) => self.form.set(*bits).iter().next().map(|key| key.word),
            _ => None,
        });
        // With some of the keys already there, the other form is no longer what was meant.
        let alone = alone.filter(|_| self.given == 0);
        let keys = self.form.set(self.form.required() & !self.given);
        Fault { at: self.end, kind: RefusalKind::Missing { verb: self.verb.word, keys, alone } }
    }
}
