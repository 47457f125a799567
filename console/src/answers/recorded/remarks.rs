//! What a line alone shows of what will be in the way: told at once, under its acknowledgement. The line is recorded all
//! the same.

use core::fmt;

use halfskip::acceptance::criteria::Criteria;
use halfskip::findings::{Caution, of_reading, of_sheet, reference_fault, unusual, wide};
use halfskip::record::examination::{Event, EventKind, Facts};

use crate::answers::page::{Page, tell_each};

/// Of the reading recorded last: what it lacks by itself.
pub(super) fn reading(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    let Some(reading) = facts.last_reading() else { return Ok(()) };
    tell_each(|tell| of_reading(facts, reading, tell), |why| page.remark(format_args!("{}", why.says(facts))))
}

/// Of a budget: that it is wide.
pub(super) fn tolerance(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    match wide(facts) {
        Some(wide) => page.remark(format_args!("{}", Caution::Wide(wide).told(facts))),
        None => Ok(()),
    }
}

/// Of a reference point of a probe.
pub(super) fn dac(facts: &Facts<'_>, probe: Option<u8>, page: &mut Page<'_>) -> fmt::Result {
    if let Some(why) = probe.and_then(|probe| reference_fault(facts, probe)) {
        page.remark(format_args!("{}", why.says(facts)))?;
    }
    of_probe(facts, probe, |caution| matches!(caution, Caution::PointsApart { .. }), page)
}

/// Of the transfer correction of a probe.
pub(super) fn transfer(facts: &Facts<'_>, probe: Option<u8>, page: &mut Page<'_>) -> fmt::Result {
    of_probe(facts, probe, |caution| matches!(caution, Caution::TransferUnusual { .. }), page)
}

fn of_probe(
    facts: &Facts<'_>,
    probe: Option<u8>,
    wanted: impl Fn(&Caution) -> bool,
    page: &mut Page<'_>,
) -> fmt::Result {
    let Some(probe) = probe else { return Ok(()) };
    tell_each(
        |tell| unusual(facts, probe, &mut |caution| tell(caution)),
        |caution| match wanted(&caution) {
            true => page.remark(format_args!("{}", caution.told(facts))),
            false => Ok(()),
        },
    )
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
pub(crate) fn sheet(facts: &Facts<'_>, sheet: &Criteria, page: &mut Page<'_>) -> fmt::Result {
    tell_each(
        |tell| of_sheet(sheet, &mut |caution| tell(caution)),
        |caution| page.remark(format_args!("{}", caution.told(facts))),
    )
}
