//! Checks, angle, transfer, linearity, parent metal: what was measured before the weld was.

use super::super::history::{Aspect, Checked, checked, made_anew};
use super::{Basis, Found, Why, probes, within};
use crate::calibration::transfer::Transfer;
use crate::evaluate::Indication;
use crate::record::entry::{Entry, ReportField};
use crate::record::examination::{EventKind, Facts, ProbeState};
use crate::units::Decibels;

/// Range and sensitivity: a good check before and after each reading, on its day.
pub(super) fn checks(indication: Indication<'_>, aspect: Aspect) -> Found {
    let facts = indication.facts();
    let mut found: Option<Found> = None;
    for reading in indication.readings() {
        let (number, probe) = (reading.number(), reading.probe());
        let one = match checked(facts, number, probe, aspect) {
            Checked::Good { before, after } => Found::met(Why::Checked(aspect)).on(before).on(after),
            Checked::Failed { number: check, void } => {
                Found::not_met(Why::CheckFailed { check, void }).on(check)
            }
            Checked::NotBefore => {
                Found::not_met(Why::NoCheckBefore { aspect, probe, reading: number }).on(number)
            }
            Checked::NotAfter => {
                Found::not_met(Why::NoCheckAfter { aspect, probe, reading: number }).on(number)
            }
            Checked::Anew { entry } => {
                let kind = aspect.calibration();
                Found::not_met(Why::MadeAnew { kind, entry, reading: number }).on(entry).on(number)
            }
            Checked::Late { before, after, minutes } => {
                let allowed = facts.technique().check_every.unwrap_or(u16::MAX);
                Found::not_met(Why::ChecksApart { before, after, minutes, allowed }).on(before).on(after)
            }
            Checked::Backwards { before, after } => {
                Found::not_met(Why::ChecksBackwards { before, after }).on(before).on(after)
            }
            Checked::Lost => Found::not_met(Why::ChecksLost),
        };
        match &mut found {
            Some(found) => found.and(one),
            None => found = Some(one),
        }
    }
    found.unwrap_or(Found::not_met(Why::NoReading))
}

/// The beam angle and the index point of each probe used, and whether the technique has such a probe.
pub(super) fn angle(indication: Indication<'_>) -> Found {
    let facts = indication.facts();
    of_probes(indication, |probe, state| {
        if let Some(anew) = anew(indication, probe, EventKind::Angle) {
            return anew;
        }
        let found = angle_of(facts, probe, state);
        if let Some((number, _)) = state.angle_stated() {
            return found.on(number);
        }
        let Some((first, last)) = state.angle_entries() else { return found };
        found.on(first).on(last)
    })
}

fn angle_of(facts: &Facts<'_>, probe: u8, state: &ProbeState) -> Found {
    let technique = facts.technique();
    let Some(made) = state.probe() else { return Found::not_met(Why::NoAngle { probe }) };
    let (nominal, frequency) = (made.nominal(), made.frequency());
    if !technique.angles.is_empty() && !technique.angles.contains(&nominal) {
        return Found::not_met(Why::AngleNotAllowed { probe, nominal });
    }
    if technique.frequency_from.is_some_and(|from| frequency < from)
        || technique.frequency_to.is_some_and(|to| frequency > to)
    {
        return Found::not_met(Why::FrequencyNotAllowed { probe, frequency });
    }
    let measured = state.angle_check();
    let index = match measured {
        Some(check) => check.index(),
        None => Some(state.index()),
    };
    let Some(angle) = state.angle_as_marked() else { return Found::not_met(Why::NoAngle { probe }) };
    let (angle_within, index_within) = within(technique, facts);
    if (angle.get() - nominal.get()).abs() > angle_within.get() {
        return Found::not_met(Why::AngleOff { probe, angle, nominal, within: angle_within });
    }
    if let Some(index) = index.filter(|index| index.get().abs() > index_within.get()) {
        return Found::not_met(Why::IndexOff { probe, index, within: index_within });
    }
    if let Some((base, material)) = velocities(facts, state)
        && (base - material).abs() > OTHER_VELOCITY * material
    {
        return Found::not_met(Why::OtherVelocity { probe });
    }
    if measured.is_some() && state.turned_untold().is_some() {
        return Found::not_met(Why::AngleAtUnknownTemperature { probe });
    }
    match measured {
        Some(_) => Found::met(Why::AngleMeasured),
        None => Found::stated(Why::AngleStated { probe, angle }),
    }
}

/// The velocities of time base and material, mm/us, where both are recorded.
fn velocities(facts: &Facts<'_>, state: &ProbeState) -> Option<(f32, f32)> {
    let (_, material) = facts.common().material.as_ref()?;
    Some((state.timebase()?.base().velocity.get(), material.shear().get()))
}

/// A time base this far off the material's velocity, as a part of it, is that of another wave or material. Ours: the
/// beam of a 60 degree probe then turns by 5 degrees.
const OTHER_VELOCITY: f32 = 0.05;

/// The transfer correction of each probe used, and its surface term.
pub(super) fn transfer(indication: Indication<'_>) -> Found {
    let technique = indication.facts().technique();
    of_probes(indication, |probe, state| {
        let Some((number, stated)) = state.transfer_entry() else {
            return Found::not_met(Why::NoTransfer { probe });
        };
        if let Some(anew) = anew(indication, probe, EventKind::Transfer) {
            return anew;
        }
        let transfer = state.transfer().unwrap_or(&Transfer::NONE);
        let surface = transfer.surface();
        let beyond = |gain: Decibels| {
            let below = technique.transfer_from.filter(|from| gain < *from);
            below.or(technique.transfer_to.filter(|to| gain > *to)).map(|limit| (gain, limit))
        };
        // The slope counts where something was read.
        let read = indication.readings().filter(|reading| reading.probe() == probe);
        let at = |reading| transfer.at(indication.heard(reading).path?).ok();
        let found = match beyond(surface).or_else(|| read.filter_map(at).find_map(beyond)) {
            Some((gain, limit)) => Found::not_met(Why::TransferBeyond { probe, gain, limit }),
            None if stated => Found::stated(Why::TransferStated { probe, gain: surface }),
            None => Found::met(Why::TransferMeasured),
        };
        found.on(number)
    })
}

/// What speaks against readings that are worked out with a calibration made after them.
fn anew(indication: Indication<'_>, probe: u8, kind: EventKind) -> Option<Found> {
    indication.readings().filter(|reading| reading.probe() == probe).find_map(|reading| {
        let entry = made_anew(indication.facts(), reading.number(), probe, kind)?;
        let why = Why::MadeAnew { kind, entry, reading: reading.number() };
        Some(Found::not_met(why).on(entry).on(reading.number()))
    })
}

fn of_probes(indication: Indication<'_>, of: impl Fn(u8, &ProbeState) -> Found) -> Found {
    let mut found: Option<Found> = None;
    for probe in probes(indication) {
        let Some(state) = indication.facts().probe(probe) else { continue };
        let one = of(probe, state);
        match &mut found {
            Some(found) => found.and(one),
            None => found = Some(one),
        }
    }
    found.unwrap_or(Found::not_met(Why::NoReading))
}

/// Linearity of the screen and of the gain control.
pub(super) fn linearity(facts: &Facts<'_>) -> Found {
    let (mut screen, mut gain, mut entries) = (false, false, Basis::default());
    facts.each_but_readings(|number, entry| match entry {
        Entry::ScreenLinearity(_) => (screen, entries) = (true, entries.with(number)),
        Entry::GainLinearity(_) => (gain, entries) = (true, entries.with(number)),
        _ => {}
    });
    let found = match (facts.common().failed_linearity.first(), screen && gain) {
        (Some(_), _) => Found::not_met(Why::NotLinear),
        (None, true) => Found::met(Why::Linear),
        (None, false) => Found::not_met(Why::NotChecked { screen, gain }),
    };
    Found { entries, ..found }
}

/// What the report says of the scan of the parent metal.
pub(super) fn parent_metal(facts: &Facts<'_>) -> Found {
    let mut found = Found::not_met(Why::NoParentMetal);
    facts.each_but_readings(|number, entry| {
        if matches!(entry, Entry::Detail { field: ReportField::Lamination, .. }) {
            found = Found::stated(Why::ParentMetalStated).on(number);
        }
    });
    found
}
