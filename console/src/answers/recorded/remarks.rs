//! What a line alone shows of what will be in the way: told at once, under its acknowledgement. The line is recorded all
//! the same.

use core::fmt;

use halfskip::acceptance::criteria::Sheet;
use halfskip::findings::{Caution, of_reading, of_sheet, reference_fault, unusual, wide};
use halfskip::record::examination::{Event, EventKind, Facts};

use crate::answers::page::Page;

/// Of the reading recorded last: what it lacks by itself.
pub(super) fn reading(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    let Some(reading) = facts.last_reading() else { return Ok(()) };
    let mut result = Ok(());
    of_reading(facts, reading, |why| {
        if result.is_ok() {
            result = page.remark(format_args!("{}", why.says(facts)));
        }
    });
    result
}

/// Of any other line, by its verb and the probe that it is about.
pub(super) fn other(facts: &Facts<'_>, verb: &str, probe: Option<u8>, page: &mut Page<'_>) -> fmt::Result {
    match (verb, probe) {
        ("tolerance", _) => match wide(facts) {
            Some(wide) => page.remark(format_args!("{}", Caution::Wide(wide).told(facts))),
            None => Ok(()),
        },
        ("dac", Some(probe)) => {
            if let Some(why) = reference_fault(facts, probe) {
                page.remark(format_args!("{}", why.says(facts)))?;
            }
            of_probe(facts, probe, |caution| matches!(caution, Caution::PointsApart { .. }), page)
        }
        ("transfer", Some(probe)) => {
            of_probe(facts, probe, |caution| matches!(caution, Caution::TransferUnusual { .. }), page)
        }
        _ => Ok(()),
    }
}

fn of_probe(
    facts: &Facts<'_>,
    probe: u8,
    wanted: impl Fn(&Caution) -> bool,
    page: &mut Page<'_>,
) -> fmt::Result {
    let mut result = Ok(());
    unusual(facts, probe, &mut |caution| {
        if result.is_ok() && wanted(&caution) {
            result = page.remark(format_args!("{}", caution.told(facts)));
        }
    });
    result
}

/// Of a check: that the one before it had failed.
pub(super) fn check(facts: &Facts<'_>, number: u32, page: &mut Page<'_>) -> fmt::Result {
    let history = &facts.common().history;
    let Some(own) = history.iter().find(|event| event.number == number) else { return Ok(()) };
    let is_check = |event: &&Event| event.kind == EventKind::Check && event.probe == own.probe;
    let before = history.iter().filter(is_check).rfind(|event| event.number < number && !event.void);
    match before.filter(|before| !before.is_good() && own.is_good()) {
        Some(failed) => page.remark(format_args!(
            "the check of entry {} had failed: the readings from the good check before that one up to here stay suspect",
            failed.number
        )),
        None => Ok(()),
    }
}

/// Of a sheet that was put in force: that nobody checked it, and rows that never hold.
pub(crate) fn sheet<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let mut result = Ok(());
    of_sheet(sheet, &mut |caution| {
        if result.is_ok() {
            result = page.remark(format_args!("{}", caution.told(facts)));
        }
    });
    result
}
