//! Invented rows for the tests of this folder.

use super::{
    Asked, Bounds, Depth, Head, LengthAlong, LengthBy, LengthLimit, Limit, Measured, Missing, Row, Sheet,
    SheetError, Verdict,
};
use crate::units::{Decibels, Degrees, Millimetres};

pub(super) fn mm(value: f32) -> Millimetres {
    Millimetres::constant(value)
}

pub(super) fn db(value: f32) -> Decibels {
    Decibels::constant(value)
}

pub(super) fn from<Q>(at: Q) -> Option<Limit<Q>> {
    Some(Limit { at, included: true })
}

pub(super) fn over<Q>(at: Q) -> Option<Limit<Q>> {
    Some(Limit { at, included: false })
}

pub(super) fn between<Q>(low: Option<Limit<Q>>, high: Option<Limit<Q>>) -> Bounds<Q> {
    Bounds { low, high }
}

pub(super) fn fixed_length(at: f32) -> Option<LengthLimit> {
    Some(LengthLimit::Fixed(mm(at)))
}

pub(super) fn reject() -> Row {
    Row::always(Verdict::Reject)
}

pub(super) fn accept() -> Row {
    Row::always(Verdict::Accept)
}

pub(super) fn sheet<const N: usize>(rows: [Row; N]) -> Result<Sheet, SheetError> {
    let head = Head::level("invented", "no document", LengthBy::Drop(db(6.0)));
    Sheet::new(head, rows.into_iter().collect())
}

pub(super) fn facts(level: f32) -> Asked {
    Asked {
        thickness: mm(20.0),
        angle: Degrees::constant(60.0),
        measure: Measured::Exact(db(level)),
        length: LengthAlong::Unknown(Missing::NoLength),
        depth: Depth::Unknown(Missing::NoDepth),
        planar: None,
    }
}

pub(super) fn long(length: f32, open: bool) -> LengthAlong {
    LengthAlong::Known { length: mm(length), open }
}
