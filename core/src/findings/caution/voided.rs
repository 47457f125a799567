//! Entries that were taken out and would speak against an accept.

use super::super::measure::measured_alone;
use super::shared::Open;
use super::{Caution, Entries};
use crate::acceptance::criteria::{self, Criteria, Depth, LengthAlong, Missing, Verdict, decide};
use crate::evaluate::Findings;
use crate::record::entry::Entry;
use crate::record::examination::{EventKind, Facts, Pooled};

/// What was voided.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Voided {
    /// An in-service check that had not failed, as far as is known.
    Check,
    /// One that had.
    FailedCheck,
    /// A line of a probe's calibration.
    Calibration,
    /// The joint, after a reading was made with it.
    Joint,
    /// A criteria or technique sheet.
    Sheet,
    /// A reading that the sheet would not plainly accept by its level.
    Reading,
}

/// Tells them, those of one kind and one reason together.
#[inline(never)]
pub(super) fn tell_all(findings: &Findings<'_>, tell: &mut impl FnMut(Caution)) {
    let facts = findings.facts();
    let (mut open, mut place) = (Open::new(), 0);
    let mut add = |number: u32, what: Voided, tell: &mut _| {
        if let Some(by) = facts.taker(number, &mut place) {
            let caution = Caution::Voided { entries: Entries::of(number), what, by };
            open.add(facts, caution, number.checked_sub(1), tell);
        }
    };
    facts.each_voided(|number, entry| match entry {
        Entry::Check(_) => add(number, check(facts, number), tell),
        Entry::Angle(_)
        | Entry::Timebase(_)
        | Entry::Dac(_)
        | Entry::DacBeyond { .. }
        | Entry::Transfer(_) => add(number, Voided::Calibration, tell),
        Entry::Joint(_) if facts.readings().any(|reading| reading.number() > number) => {
            add(number, Voided::Joint, tell);
        }
        Entry::Criteria(_) | Entry::Technique(_) => add(number, Voided::Sheet, tell),
        _ => {}
    });
    if let Some(sheet) = findings.sheet() {
        for reading in facts.voided_readings().filter(|reading| !accepts(findings, sheet, *reading)) {
            add(reading.number(), Voided::Reading, tell);
        }
    }
    open.close(tell);
}

/// Of voided checks those are known that had failed.
fn check(facts: &Facts<'_>, number: u32) -> Voided {
    let failed = facts.common().history.iter().any(|event| {
        event.number == number && event.kind == EventKind::Check && event.void && !event.is_good()
    });
    if failed { Voided::FailedCheck } else { Voided::Check }
}

/// Whether the sheet accepts what was read by its level alone, whatever its length, depth and shape are.
fn accepts(findings: &Findings<'_>, sheet: &Criteria, reading: Pooled<'_>) -> bool {
    let facts = findings.facts();
    let probe = facts.probe(reading.probe()).and_then(|state| state.probe());
    let (Some(thickness), Some(probe)) = (facts.thickness_of(reading), probe) else { return false };
    let Some((measure, _)) = measured_alone(findings, reading) else { return false };
    let asked = criteria::Asked {
        thickness,
        angle: probe.nominal(),
        measure,
        length: LengthAlong::Unknown(Missing::NotAsked),
        depth: Depth::Unknown(Missing::NotAsked),
        planar: None,
    };
    decide(sheet, &asked).verdict == Some(Verdict::Accept)
}
