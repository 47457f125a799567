//! The record itself: the sheets that it is judged by, and what is taken out of it.

use halfskip::record::entry::{Entry, Text};

use super::Group;
use super::{Fields, Form, Key, Kind, Line, Verb, fact};
use crate::language::values::at;
use crate::language::writer::Writer;

const VOID: &[Key] = &[Key::needed("reason", Kind::Reason, "why it no longer counts")];

pub(super) const VERBS: &[Verb] = &[
    Verb {
        word: "criteria",
        group: Group::Examination,
        about: "the acceptance sheet",
        forms: &[Form {
            name: Some(&Key::needed("FILE", Kind::Reason, "the sheet")),
            ..Form::new(criteria, "criteria sheet.toml")
        }],
    },
    Verb {
        word: "technique",
        group: Group::Examination,
        about: "the technique sheet: what an accept asks for",
        forms: &[Form {
            name: Some(&Key::needed("FILE", Kind::Reason, "the sheet")),
            ..Form::new(technique, "technique sheet.toml")
        }],
    },
    Verb {
        word: "void",
        group: Group::Examination,
        about: "takes an earlier entry out; it stays on record",
        forms: &[Form {
            name: Some(&Key::needed("N", Kind::Count(1, u32::MAX), "the entry's number")),
            keys: VOID,
            ..Form::new(void, r#"void 7 reason="probe was not coupled""#)
        }],
    },
];

fn criteria(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Criteria(fields.name()?))
}

fn technique(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Technique(fields.name()?))
}

fn void(fields: &mut Fields<'_>) -> Option<Line> {
    fact(Entry::Void { number: fields.name()?, reason: fields.needed(const { at(VOID, "reason") })? })
}

pub(crate) fn write_sheet(out: &mut Writer<'_>, file: &Text) {
    out.named(file);
}

pub(crate) fn write_void(out: &mut Writer<'_>, number: u32, reason: &Text) {
    out.display(&number);
    out.text_of("reason", Some(reason.as_str()));
}
