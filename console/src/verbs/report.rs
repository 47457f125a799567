//! The report's head: title, examiner, procedure, equipment, note, date, other details; and the unit of bare lengths.

use core::fmt;

use halfskip::entry::{Date, Entry, LengthUnit, ReportField, Text};

use super::{Fields, Form, Key, Kind, Line, Verb, fact};
use crate::keys::Group;
use crate::parse::{Choice, at};
use crate::refusal::Fault;
use crate::write::Writer;

const CERTIFICATE: &[Key] = &[Key::given("certificate", Kind::Text, "number and level of the certificate")];
const SERIAL: &[Key] = &[Key::given("serial", Kind::Text, "serial number")];
const TEXT: Key = Key::needed("TEXT", Kind::Text, "the text");
const FIELD: Key = Key::needed("FIELD", Kind::Choice(ReportField::WORDS), "the field of the report");
const DETAIL: &[Key] = &[Key::needed("is", Kind::Reason, "what it says")];
const DATE: Key = Key::needed("DATE", Kind::Date, "the day of the examination");
const UNIT: Key = Key::needed("UNIT", Kind::Choice(LengthUnit::WORDS), "the unit");

pub(super) const VERBS: &[Verb] = &[
    verb("title", "what is examined", &[text(title, r#"title "Invented pipe weld 7""#)]),
    verb(
        "examiner",
        "who examines",
        &[Form {
            keys: CERTIFICATE,
            ..text(examiner, r#"examiner "A. Nobody" certificate="invented, level 2""#)
        }],
    ),
    verb(
        "procedure",
        "the written procedure worked to",
        &[text(procedure, r#"procedure "Invented UT-1 rev. 0""#)],
    ),
    verb(
        "equipment",
        "an instrument, probe or block used",
        &[Form { keys: SERIAL, ..text(equipment, r#"equipment "instrument" serial="0001""#) }],
    ),
    verb("note", "a remark for the report", &[text(note, r#"note "scanned from the outside""#)]),
    verb(
        "date",
        "the day of the examination",
        &[Form { name: Some(DATE), ..Form::new(date, "date 2026-03-14") }],
    ),
    verb(
        "detail",
        "what else the report has to name",
        &[Form { name: Some(FIELD), keys: DETAIL, ..Form::new(detail, r#"detail couplant is="water""#) }],
    ),
    verb(
        "units",
        "the unit of lengths written without one, from here on",
        &[Form { name: Some(UNIT), ..Form::new(units, "units mm") }],
    ),
];

const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Report, about, forms }
}

const fn text(build: crate::keys::Build, example: &'static str) -> Form {
    Form { name: Some(TEXT), ..Form::new(build, example) }
}

fn title<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Title(fields.name()?))
}

fn examiner<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let certificate = fields.given(const { at(CERTIFICATE, "certificate") })?;
    fact(Entry::Examiner { name: fields.name()?, certificate })
}

fn procedure<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Procedure(fields.name()?))
}

fn equipment<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    let serial = fields.given(const { at(SERIAL, "serial") })?;
    fact(Entry::Equipment { name: fields.name()?, serial })
}

fn note<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Note(fields.name()?))
}

fn detail<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Detail { field: fields.name()?, text: fields.needed(const { at(DETAIL, "is") })? })
}

fn date<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Date(fields.name()?))
}

fn units<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Units(fields.name()?))
}

/// `title`, `procedure`, `note`, and with a key `examiner`, `equipment`.
pub(crate) fn write_text(out: &mut Writer<'_>, text: &Text, more: Option<(&str, &Text)>) -> fmt::Result {
    out.blank()?;
    out.text(text)?;
    more.map_or(Ok(()), |(key, text)| {
        out.key(key)?;
        out.text(text)
    })
}

pub(crate) fn write_detail(out: &mut Writer<'_>, field: ReportField, text: &Text) -> fmt::Result {
    out.plain(&field.word().unwrap_or_default())?;
    out.key("is")?;
    out.text(text)
}

pub(crate) fn write_date(out: &mut Writer<'_>, date: Date) -> fmt::Result {
    let (year, month, day) = date.parts();
    out.plain(&format_args!("{year:04}-{month:02}-{day:02}"))
}

pub(crate) fn write_units(out: &mut Writer<'_>, unit: LengthUnit) -> fmt::Result {
    out.plain(&unit.word().unwrap_or_default())
}
