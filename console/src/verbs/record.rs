//! The record itself: the sheet that it is judged by, and what is taken out of it.

use core::fmt;

use halfskip::entry::{Entry, Text};

use super::{Fields, Form, Key, Kind, Line, Verb, fact};
use crate::keys::Group;
use crate::parse::at;
use crate::refusal::Fault;
use crate::write::Writer;

const VOID: &[Key] = &[Key::needed("reason", Kind::Reason, "why it no longer counts")];

pub(super) const VERBS: &[Verb] = &[
    Verb {
        word: "criteria",
        group: Group::Examination,
        about: "the acceptance sheet",
        forms: &[Form {
            name: Some(Key::needed("FILE", Kind::Reason, "the sheet")),
            ..Form::new(criteria, "criteria sheet.toml")
        }],
    },
    Verb {
        word: "void",
        group: Group::Examination,
        about: "takes an earlier entry out; it stays on record",
        forms: &[Form {
            name: Some(Key::needed("N", Kind::Count(1, u32::MAX), "the entry's number")),
            keys: VOID,
            ..Form::new(void, r#"void 7 reason="probe was not coupled""#)
        }],
    },
];

fn criteria<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Criteria(fields.name()?))
}

fn void<'a>(fields: &Fields<'a>) -> Result<Line, Fault<'a>> {
    fact(Entry::Void { number: fields.name()?, reason: fields.needed(const { at(VOID, "reason") })? })
}

pub(crate) fn write_criteria(out: &mut Writer<'_>, file: &Text) -> fmt::Result {
    out.blank()?;
    out.name(file)
}

pub(crate) fn write_void(out: &mut Writer<'_>, number: u32, reason: &Text) -> fmt::Result {
    out.plain(&number)?;
    out.key("reason")?;
    out.text(reason)
}
