//! The report's head: title, examiner, procedure, equipment, note, date, other details; and the unit of bare lengths.

use halfskip::record::entry::{Clock, Date, Entry, LengthUnit, ReportField, Text};

use super::Group;
use super::{Fields, Form, Key, Kind, Line, Verb, fact};
use crate::language::values::{Choice, at};
use crate::language::writer::Writer;

const CERTIFICATE: &[Key] = &[Key::given("certificate", Kind::Text, "number and level of the certificate")];
const SERIAL: &[Key] = &[Key::given("serial", Kind::Text, "serial number")];
const TEXT: Key = Key::needed("TEXT", Kind::Text, "the text");
const FIELD: Key = Key::needed("FIELD", Kind::Choice(ReportField::WORDS), "the field of the report");
const DETAIL: &[Key] = &[Key::needed("is", Kind::Reason, "what it says")];
const DATE: Key = Key::needed("DATE", Kind::Date, "the day of the examination");
const TIME: &[Key] = &[Key::given("time", Kind::Clock, "when it began")];
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
        &[Form { name: Some(&DATE), keys: TIME, ..Form::new(date, "date 2026-03-14") }],
    ),
    verb(
        "detail",
        "what else the report has to name",
        &[Form { name: Some(&FIELD), keys: DETAIL, ..Form::new(detail, r#"detail couplant is="water""#) }],
    ),
    verb(
        "units",
        "the unit of lengths written without one, from here on",
        &[Form { name: Some(&UNIT), ..Form::new(units, "units mm") }],
    ),
];

const fn verb(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    Verb { word, group: Group::Report, about, forms }
}

const fn text(build: super::Build, example: &'static str) -> Form {
    Form { name: Some(&TEXT), ..Form::new(build, example) }
}

fn title(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Title(fields.name()?))
}

fn examiner(fields: &mut Fields<'_>) -> Option<Line> {
    let certificate = fields.given(const { at(CERTIFICATE, "certificate") });
    fact(Entry::Examiner { name: fields.name()?, certificate })
}

fn procedure(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Procedure(fields.name()?))
}

fn equipment(fields: &mut Fields<'_>) -> Option<Line> {
    let serial = fields.given(const { at(SERIAL, "serial") });
    fact(Entry::Equipment { name: fields.name()?, serial })
}

fn note(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Note(fields.name()?))
}

fn detail(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Detail { field: fields.name()?, text: fields.needed(const { at(DETAIL, "is") })? })
}

fn date(fields: &mut Fields<'_>) -> Option<Line> {
    let time = fields.given(const { at(TIME, "time") });
    fact(Entry::Date { date: fields.name()?, time })
}

fn units(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Units(fields.name()?))
}

pub(crate) fn write_examiner(out: &mut Writer<'_>, name: &Text, certificate: Option<&Text>) {
    out.quoted(name);
    out.text_of("certificate", certificate.map(Text::as_str));
}

pub(crate) fn write_equipment(out: &mut Writer<'_>, name: &Text, serial: Option<&Text>) {
    out.quoted(name);
    out.text_of("serial", serial.map(Text::as_str));
}

pub(crate) fn write_detail(out: &mut Writer<'_>, field: ReportField, text: &Text) {
    out.plain(field.word().unwrap_or_default());
    out.text_of("is", Some(text.as_str()));
}

pub(crate) fn write_date(out: &mut Writer<'_>, date: Date, time: Option<Clock>) {
    let (year, month, day) = date.parts();
    out.display(&format_args!("{year:04}-{month:02}-{day:02}"));
    if let Some(time) = time {
        out.value("time", &time);
    }
}

pub(crate) fn write_units(out: &mut Writer<'_>, unit: LengthUnit) {
    out.plain(unit.word().unwrap_or_default());
}
