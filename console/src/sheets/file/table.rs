//! One TOML table with a fixed set of keys.

use core::ops::Range;
use std::format;
use std::string::String;
use std::vec::Vec;

use halfskip::units::Quantity;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::Refused;
use super::value::{self, Typed, typed};

pub(crate) struct Table<'t> {
    table: &'t DeTable<'t>,
    name: &'static str,
    at: Range<usize>,
}

impl<'t> Table<'t> {
    /// A table that holds no other keys than `known`.
    pub(crate) fn new(
        table: &'t DeTable<'t>,
        name: &'static str,
        at: Range<usize>,
        known: &[&str],
    ) -> Result<Self, Refused> {
        let unknown = |key: &&Spanned<_>| !known.contains(&AsRef::<str>::as_ref(key.get_ref()));
        // The first one in the file, whatever order the table keeps.
        match table.keys().filter(unknown).min_by_key(|key| key.span().start) {
            Some(key) => Err((
                key.span(),
                format!("unknown key {:?}; {name} takes {}", key.get_ref(), known.join(", ")),
            )),
            None => Ok(Self { table, name, at }),
        }
    }

    /// Where a key's value stands; where the table starts when it is absent.
    pub(crate) fn place(&self, key: &str) -> Range<usize> {
        self.find(key).map_or(self.at.clone(), |value| value.span())
    }

    fn find(&self, key: &str) -> Option<&'t Spanned<DeValue<'t>>> {
        self.table.get(key)
    }

    /// The value, or the complaint that it is missing.
    pub(crate) fn required<T>(&self, value: Option<T>, key: &str) -> Result<T, Refused> {
        value.ok_or_else(|| (self.at.clone(), format!("{} needs the key {key}", self.name)))
    }

    /// Refuses a key that means something only with another.
    pub(crate) fn refused_without(&self, key: &str, with: &str) -> Result<(), Refused> {
        match self.find(key) {
            None => Ok(()),
            Some(value) => Err((value.span(), format!("{key} goes only with {with}"))),
        }
    }

    /// A quoted text of at most `N` bytes.
    pub(crate) fn text<const N: usize>(&self, key: &str) -> Result<Option<heapless::String<N>>, Refused> {
        let Some(value) = self.find(key) else {
            return Ok(None);
        };
        let DeValue::String(text) = value.get_ref() else {
            return Err((value.span(), format!("{key} expects a quoted text")));
        };
        let text = text.as_ref().try_into();
        let text = text.map_err(|_| (value.span(), format!("{key} is longer than {N} bytes")))?;
        Ok(Some(text))
    }

    /// One of a few words.
    pub(crate) fn word<T: Copy>(&self, key: &str, words: &[(&str, T)]) -> Result<Option<T>, Refused> {
        let Some(value) = self.find(key) else {
            return Ok(None);
        };
        let typed = value.get_ref().as_str();
        if let Some((_, meaning)) = words.iter().find(|(word, _)| Some(*word) == typed) {
            return Ok(Some(*meaning));
        }
        let known: Vec<String> = words.iter().map(|(word, _)| format!("{word:?}")).collect();
        let got = typed.map_or_else(String::new, |typed| format!(" {typed:?} is unknown;"));
        Err((value.span(), format!("{key}:{got} expected {}", known.join(" or "))))
    }

    /// A number or a quoted text, made into a value by `parse`, which says what it expected.
    pub(crate) fn value<T>(
        &self,
        key: &str,
        parse: impl Fn(Typed<'_>) -> Result<T, String>,
    ) -> Result<Option<T>, Refused> {
        let Some(value) = self.find(key) else {
            return Ok(None);
        };
        let read = typed(value.get_ref()).and_then(parse);
        read.map(Some).map_err(|message| (value.span(), format!("{key}: {message}")))
    }

    /// A number in the quantity's unit, or a quoted text that names the unit.
    pub(crate) fn quantity<Q: Quantity>(&self, key: &str) -> Result<Option<Q>, Refused> {
        self.value(key, value::quantity)
    }

    /// A list of such values; none of an absent key.
    pub(crate) fn list<T>(
        &self,
        key: &str,
        parse: impl Fn(Typed<'_>) -> Result<T, String>,
    ) -> Result<Vec<(T, Range<usize>)>, Refused> {
        let Some(value) = self.find(key) else {
            return Ok(Vec::new());
        };
        let DeValue::Array(array) = value.get_ref() else {
            return Err((value.span(), format!("{key} expects a list, such as [..., ...]")));
        };
        let item = |item: &Spanned<DeValue<'_>>| {
            let read = typed(item.get_ref()).and_then(&parse);
            read.map(|read| (read, item.span())).map_err(|message| (item.span(), format!("{key}: {message}")))
        };
        array.iter().map(item).collect()
    }

    /// A table under a key.
    pub(crate) fn table(&self, key: &str) -> Result<Option<(&'t DeTable<'t>, Range<usize>)>, Refused> {
        let Some(value) = self.find(key) else {
            return Ok(None);
        };
        match value.get_ref() {
            DeValue::Table(table) => Ok(Some((table, value.span()))),
            _ => Err((value.span(), format!("{key} expects a table [{key}]"))),
        }
    }

    /// The tables of a list.
    pub(crate) fn tables(&self, key: &str) -> Result<Vec<(&'t DeTable<'t>, Range<usize>)>, Refused> {
        let Some(value) = self.find(key) else {
            return Ok(Vec::new());
        };
        let refused = |at| (at, format!("{key} expects tables [[{key}]]"));
        let DeValue::Array(array) = value.get_ref() else {
            return Err(refused(value.span()));
        };
        array
            .iter()
            .map(|item| match item.get_ref() {
                DeValue::Table(table) => Ok((table, item.span())),
                _ => Err(refused(item.span())),
            })
            .collect()
    }
}
