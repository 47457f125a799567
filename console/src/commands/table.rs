//! What a command takes, in one table: the keys of a line, and the fields of the entry that they fill and are written from.

use crate::language::keys::{Expected, Key, Meaning, Rule};
use crate::language::values::Fields;
use crate::language::writer::Writer;

use super::meaning::Line;

/// A verb of the line language.
#[derive(Clone, Copy, Debug)]
pub struct Verb {
    /// The word.
    pub word: &'static str,
    /// Where `help` lists it.
    pub group: Group,
    /// What it is for, in one line.
    pub about: &'static str,
    /// Its forms; more than one only where a fixed second word tells them apart.
    pub forms: &'static [Form],
}

impl PartialEq for Verb {
    fn eq(&self, other: &Self) -> bool {
        self.word == other.word
    }
}

/// The groups that `help` lists the verbs in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Group {
    /// The report's head.
    Report,
    /// Material, joint and probes.
    Setup,
    /// Calibration and its checks.
    Calibration,
    /// Readings and what was seen.
    Examination,
    /// Questions; they change nothing.
    Question,
}

/// One form of a verb.
#[derive(Clone, Copy, Debug)]
pub struct Form {
    /// The second word that chooses this form.
    pub fixed: Option<&'static str>,
    /// What may stand behind the fixed words.
    pub expected: Expected,
    /// A line that shows the form.
    pub example: Meaning,
    pub(crate) build: Build,
}

/// Makes the line's meaning out of its words.
pub(crate) type Build = for<'f, 'a> fn(&'f mut Fields<'a>) -> Option<Line>;

pub(super) const fn verb(
    group: Group,
    word: &'static str,
    about: &'static str,
    forms: &'static [Form],
) -> Verb {
    Verb { word, group, about, forms }
}

impl Form {
    /// A form without a name and without keys.
    pub(super) const fn new(example: &'static str, build: Build) -> Self {
        let expected = Expected { name: None, keys: &[], rules: &[] };
        Self { fixed: None, expected, example: Meaning::new(example), build }
    }

    /// Chosen by a second word.
    pub(super) const fn behind(self, fixed: &'static str) -> Self {
        Self { fixed: Some(fixed), ..self }
    }

    /// With a word without a key.
    pub(super) const fn of(self, name: &'static Key) -> Self {
        Self { expected: Expected { name: Some(name), ..self.expected }, ..self }
    }

    /// With keys and the rules between them.
    pub(super) const fn keys(self, keys: &'static [Key], rules: &'static [Rule]) -> Self {
        Self { expected: Expected { keys, rules, ..self.expected }, ..self }
    }
}

/// What is read from the keys of a line.
pub(super) trait Keyed: Sized {
    /// The keys, in the order in which they are written.
    const KEYS: &'static [Key];

    /// Made from a line; none when that lacks a key or one was refused.
    fn read(fields: &mut Fields<'_>) -> Option<Self>;

    /// Written behind the command's word.
    fn write(entry: &Self, out: &mut Writer<'_>);
}

/// Says how an entry is read and written, a row a key: whether the key is needed, the field that it fills, its word, what its
/// value is, what it means. Fields are read in the order of the rows, but a `part`, whose keys are rows without a field, first.
///
/// ```text
/// part field: read, write;            a field made from several keys
/// name field;                         the word without a key
/// needed field "key" kind, "about";
/// given field "key" kind, "about";    none when the key is left out
/// default field "key" kind, "about";  left out when it is the default
/// always field "key" kind, "about";   the default when it is left out, written all the same
/// given key "key" kind, "about";      a key of a part
/// flag field Word "key" kind, "about";    yes or no, in the words of `Word`
/// ```
macro_rules! keyed {
    (@[$entry:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] [$($first:tt)*] [$($r:tt)*] [$($w:tt)*]) => {
        impl Keyed for $entry {
            const KEYS: &'static [Key] = &[$($k)*];

            fn read($f: &mut Fields<'_>) -> Option<Self> {
                $($first)*
                Some(Self { $($r)* })
            }

            fn write($e: &Self, $o: &mut Writer<'_>) {
                $($w)*
            }
        }
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] [$($first:tt)*] [$($r:tt)*] [$($w:tt)*]
        part $field:ident: $read:expr, $write:expr; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)*] [$($first)* let $field = $read($f)?;] [$($r)* $field,]
            [$($w)* $write(&$e.$field, $o);] $($rest)*);
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] $first:tt [$($r:tt)*] [$($w:tt)*]
        name $field:ident; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)*] $first [$($r)* $field: $f.name()?,]
            [$($w)* $o.named(&$e.$field);] $($rest)*);
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] $first:tt $r:tt $w:tt
        $needed:ident key $word:literal $kind:expr, $about:literal; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)* Key::$needed($word, $kind, $about),] $first $r $w $($rest)*);
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] $first:tt [$($r:tt)*] [$($w:tt)*]
        needed $field:ident $word:literal $kind:expr, $about:literal; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)* Key::needed($word, $kind, $about),] $first
            [$($r)* $field: $f.needed(const { at(Self::KEYS, $word) })?,]
            [$($w)* $e.$field.write($word, $o);] $($rest)*);
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] $first:tt [$($r:tt)*] [$($w:tt)*]
        given $field:ident $word:literal $kind:expr, $about:literal; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)* Key::given($word, $kind, $about),] $first
            [$($r)* $field: $f.given(const { at(Self::KEYS, $word) }),]
            [$($w)* $e.$field.write($word, $o);] $($rest)*);
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] $first:tt [$($r:tt)*] [$($w:tt)*]
        always $field:ident $word:literal $kind:expr, $about:literal; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)* Key::given($word, $kind, $about),] $first
            [$($r)* $field: $f.given(const { at(Self::KEYS, $word) }).unwrap_or_default(),]
            [$($w)* $e.$field.write($word, $o);] $($rest)*);
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] $first:tt [$($r:tt)*] [$($w:tt)*]
        default $field:ident $word:literal $kind:expr, $about:literal; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)* Key::given($word, $kind, $about),] $first
            [$($r)* $field: $f.given(const { at(Self::KEYS, $word) }).unwrap_or_default(),]
            [$($w)* if $e.$field != Default::default() { $e.$field.write($word, $o); }] $($rest)*);
    };
    (@[$t:ty, $f:ident $e:ident $o:ident] [$($k:tt)*] $first:tt [$($r:tt)*] [$($w:tt)*]
        flag $field:ident $as:ident $word:literal $kind:expr, $about:literal; $($rest:tt)*) => {
        keyed!(@[$t, $f $e $o] [$($k)* Key::given($word, $kind, $about),] $first
            [$($r)* $field: $f.given(const { at(Self::KEYS, $word) }).map(|$as(flag)| flag),]
            [$($w)* $e.$field.map($as).write($word, $o);] $($rest)*);
    };
    ($entry:ty { $($rows:tt)* }) => {
        keyed!(@[$entry, fields entry out] [] [] [] [] $($rows)*);
    };
}

pub(super) use keyed;
