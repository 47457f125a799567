//! The report's head: title, examiner, procedure, equipment, note, date, other details; and the unit of bare lengths.

use halfskip::record::entry::{Entry, LengthUnit, ReportField};

use super::fact;
use super::table::{Build, Form, Group, Verb, verb};
use crate::language::keys::{Key, Kind};
use crate::language::values::{Choice, at};

const CERTIFICATE: &[Key] = &[Key::given("certificate", Kind::Text, "number and level of the certificate")];
const SERIAL: &[Key] = &[Key::given("serial", Kind::Text, "serial number")];
const TEXT: Key = Key::needed("TEXT", Kind::Text, "the text");
const FIELD: Key = Key::needed("FIELD", Kind::Choice(ReportField::WORDS), "the field of the report");
const DETAIL: &[Key] = &[Key::needed("is", Kind::Reason, "what it says")];
const DATE: Key = Key::needed("DATE", Kind::Date, "the day of the examination");
const TIME: &[Key] = &[Key::given("time", Kind::Clock, "when it began")];
const UNIT: Key = Key::needed("UNIT", Kind::Choice(LengthUnit::WORDS), "the unit");

pub(super) const VERBS: &[Verb] = &[
    of_text(
        "title",
        "what is examined",
        &[text(r#"title "Invented pipe weld 7""#, |fields| fact(Entry::Title(fields.name()?)))],
    ),
    of_text(
        "examiner",
        "who examines",
        &[text(r#"examiner "A. Nobody" certificate="invented, level 2""#, |fields| {
            let certificate = fields.given(const { at(CERTIFICATE, "certificate") });
            fact(Entry::Examiner { name: fields.name()?, certificate })
        })
        .keys(CERTIFICATE, &[])],
    ),
    of_text(
        "procedure",
        "the written procedure worked to",
        &[text(r#"procedure "Invented UT-1 rev. 0""#, |fields| fact(Entry::Procedure(fields.name()?)))],
    ),
    of_text(
        "equipment",
        "an instrument, probe or block used",
        &[text(r#"equipment "instrument" serial="0001""#, |fields| {
            let serial = fields.given(const { at(SERIAL, "serial") });
            fact(Entry::Equipment { name: fields.name()?, serial })
        })
        .keys(SERIAL, &[])],
    ),
    of_text(
        "note",
        "a remark for the report",
        &[text(r#"note "scanned from the outside""#, |fields| fact(Entry::Note(fields.name()?)))],
    ),
    of_text(
        "date",
        "the day of the examination",
        &[Form::new("date 2026-03-14", |fields| {
            let time = fields.given(const { at(TIME, "time") });
            fact(Entry::Date { date: fields.name()?, time })
        })
        .of(&DATE)
        .keys(TIME, &[])],
    ),
    of_text(
        "detail",
        "what else the report has to name",
        &[Form::new(r#"detail couplant is="water""#, |fields| {
            fact(Entry::Detail { field: fields.name()?, text: fields.needed(const { at(DETAIL, "is") })? })
        })
        .of(&FIELD)
        .keys(DETAIL, &[])],
    ),
    of_text(
        "units",
        "the unit of lengths written without one, from here on",
        &[Form::new("units mm", |fields| fact(Entry::Units(fields.name()?))).of(&UNIT)],
    ),
];

const fn of_text(word: &'static str, about: &'static str, forms: &'static [Form]) -> Verb {
    verb(Group::Report, word, about, forms)
}

const fn text(example: &'static str, build: Build) -> Form {
    Form::new(example, build).of(&TEXT)
}
