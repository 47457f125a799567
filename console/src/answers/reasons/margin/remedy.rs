//! What one more reading, or what else, would settle an undetermined verdict.

use core::fmt;

use halfskip::acceptance::criteria::{
    Asked, Because, Criteria, Depth, LengthAlong, Measured, Need, open_after,
};
use halfskip::calibration::curve::CurveError;
use halfskip::findings::{
    Blocked, GroundState, Indication, Suspicion, Undetermined, VerdictFinding, evaluate,
};
use halfskip::part::locate::LocateError;
use halfskip::record::examination::{Facts, Pooled};

use crate::answers::Record;
use crate::answers::page::Page;

const LABEL: &str = "to settle it";

/// Tells what would settle the verdict.
pub(super) fn answer(
    record: &Record<'_>,
    sheet: &Criteria,
    indication: Indication<'_>,
    found: &VerdictFinding,
    page: &mut Page<'_>,
) -> fmt::Result {
    if let Some(blocked) = &found.blocked {
        return unblock(record, indication, blocked, page);
    }
    let deciding = match (&found.group, &found.own) {
        (Some(group), _) if group.decision.verdict.is_none() => Some((None, &group.decision.because)),
        // What else its group would say then is not tried.
        (group, Some((asked, own))) => Some((group.is_none().then_some(asked), &own.because)),
        (_, None) => None,
    };
    let Some((asked, because)) = deciding else { return Ok(()) };
    let Because::Needs { need, .. } = because else {
        return page.item(LABEL, format_args!("no reading can: {because}"));
    };
    match (need, indication.level()) {
        (Need::Level(Measured::Unknown(_)), Err(Some((number, reason)))) => {
            missing(&record.facts, number, &reason, page)?;
        }
        // A rating is bounded downward by an echo over the screen, or by one that was not seen.
        (Need::Rating(Measured::AtMost(_)), _) if !over_the_screen(indication, found) => {
            page.item(LABEL, format_args!("what was not seen looked for again at more gain"))?;
        }
        _ => needed(need, page)?,
    }
    asked.map_or(Ok(()), |asked| further(sheet, asked, need, page))
}

/// Whether an echo of an indication, or of another one in its group, left the screen.
fn over_the_screen(indication: Indication<'_>, found: &VerdictFinding) -> bool {
    let alone = [indication.number()];
    let members = found.group.as_ref().map_or(alone.as_slice(), |group| &group.group.members);
    let over = |member: &u8| {
        indication.findings().indication(*member).level().is_ok_and(|found| found.over.is_some())
    };
    members.iter().any(over)
}

/// The reading that answers a row's question.
fn needed(need: &Need, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    match need {
        Need::Level(Measured::AtLeast(_)) | Need::Rating(Measured::AtMost(_)) => {
            page.item(LABEL, format_args!("the peak read at less gain, so that it stays on the screen"))
        }
        Need::Level(Measured::AtMost(_)) | Need::Rating(Measured::AtLeast(_)) => {
            page.item(LABEL, format_args!("the echo read at more gain, so that it rises above the noise"))
        }
        Need::Level(_) => page.item(LABEL, format_args!("a reading that has a level")),
        Need::Rating(_) => {
            page.item(LABEL, format_args!("a reading by a probe with one reference point, and no more"))
        }
        Need::Length(LengthAlong::Known { length, .. }) => page.item(
            LABEL,
            format_args!(
                "the sweep along the weld carried on past its open end, until the echo has fallen; so far it is \
                 {} long",
                lengths.of(length.get())
            ),
        ),
        Need::Length(LengthAlong::Unknown(_)) => {
            page.item(LABEL, format_args!("a sweep along the weld, past both ends: readings with sweep=along"))
        }
        Need::Depth(Depth::Within { .. }) => page.item(
            LABEL,
            format_args!("a peaked reading by another probe, side or leg, to narrow the depth"),
        ),
        Need::Depth(Depth::Unknown(_)) => page.item(LABEL, format_args!("a peaked reading that has a place")),
        Need::Shape => page.item(
            LABEL,
            format_args!("no single reading: the examiner's judgement of the shape, planar or not"),
        ),
        _ => Ok(()),
    }
}

/// Whether the sheet decides then, whatever the answer is; if not, what is asked next.
fn further(sheet: &Criteria, asked: &Asked, need: &Need, page: &mut Page<'_>) -> fmt::Result {
    match (open_after(sheet, asked, need), need) {
        (Some(because), _) => page.item("", format_args!("That may not be enough; then {because}.")),
        (None, Need::Depth(_)) => page
            .item("", format_args!("Where all of that depth lies in one zone, a row of the sheet decides.")),
        (None, _) => page.item("", format_args!("Whatever it says, a row of the sheet then decides.")),
    }
}

/// What takes an obstacle away.
fn unblock(
    record: &Record<'_>,
    indication: Indication<'_>,
    blocked: &Blocked,
    page: &mut Page<'_>,
) -> fmt::Result {
    let facts = &record.facts;
    match *blocked {
        Blocked::NoThickness => {
            page.item(LABEL, format_args!("the joint, or a reading with thickness= of its own"))
        }
        Blocked::NoReading => page.item(LABEL, format_args!("a reading of it, by a probe in force")),
        Blocked::WithoutLevel { number, reason } | Blocked::WithoutPlace { number, reason } => {
            missing(facts, number, &reason, page)
        }
        Blocked::MayBeStronger { number } => {
            page.item(LABEL, format_args!("entry {number} looked for again at more gain"))
        }
        Blocked::Suspect { number, suspicion: Suspicion::Check { .. } } => page.item(
            LABEL,
            format_args!("a check within its limits, then entry {number} and its like read again after it"),
        ),
        Blocked::Suspect { .. } => page.item(
            LABEL,
            format_args!("no reading can: the calibration, put right first; then the readings again"),
        ),
        Blocked::ViewsDisagree { .. } => match furthest(indication) {
            Some(number) => page.item(
                LABEL,
                format_args!("entry {number} read again: it lies furthest from what all views say together"),
            ),
            None => page.item(LABEL, format_args!("its views read again")),
        },
        Blocked::NeighbourWithoutLength { indication } => page.item(
            LABEL,
            format_args!("a sweep along the weld over its neighbour, indication {}", record.name(indication)),
        ),
        Blocked::WithoutLength => {
            page.item(LABEL, format_args!("a sweep along the weld, past both ends: readings with sweep=along"))
        }
        Blocked::MayJoin { indication } => page.item(
            LABEL,
            format_args!(
                "the sweeps along it and indication {} carried on past their open ends, until the echo has fallen",
                record.name(indication)
            ),
        ),
        Blocked::LongerSweep { number, .. } | Blocked::EchoBeyond { number, .. } => page.item(
            LABEL,
            format_args!(
                "one sweep along the weld that takes in entry {number}; where that is the echo of another reflector, \
                 it belongs under another indication"
            ),
        ),
        Blocked::NotMet { verdict, indication: lacking, neighbour, .. } => {
            page.item("the sheet says", format_args!("{}", verdict.word()))?;
            unmet(indication, page)?;
            if neighbour {
                page.item("its neighbour", format_args!("indication {}", record.name(lacking)))?;
                unmet(record.findings.indication(lacking), page)?;
            }
            Ok(())
        }
        _ => Ok(()),
    }
}

/// The grounds of an indication that are not met, each with what would meet it.
#[inline(never)]
fn unmet(indication: Indication<'_>, page: &mut Page<'_>) -> fmt::Result {
    let facts = indication.facts();
    for found in indication.grounds() {
        if found.state != GroundState::NotMet {
            continue;
        }
        page.item("not met", format_args!("{}: {}", found.ground, found.says(facts)))?;
        if let Some(remedy) = found.why.remedy(facts) {
            page.item("to meet it", format_args!("{remedy}"))?;
        }
    }
    Ok(())
}

/// What gives a reading the place or level that it lacks.
fn missing(facts: &Facts<'_>, number: u32, reason: &Undetermined, page: &mut Page<'_>) -> fmt::Result {
    let reading = facts.readings().find(|reading| reading.number() == number);
    let state = reading.and_then(|reading| facts.probe(reading.probe()));
    let probe = state.map_or("", |state| state.name().as_str());
    match reason {
        Undetermined::NoJoint => {
            page.item(LABEL, format_args!("the joint, or a reading with thickness= of its own"))
        }
        Undetermined::Curve(CurveError::Empty) => {
            page.item(LABEL, format_args!("a reference point of probe {probe}: its dac line"))
        }
        Undetermined::Curve(CurveError::Outside { path, .. }) => page.item(
            LABEL,
            format_args!(
                "a reference point of probe {probe} that takes in a path of {}, or the same echo in another leg",
                page.lengths.of(path.get())
            ),
        ),
        Undetermined::NoTimebase => page.item(LABEL, format_args!("the time base of probe {probe}")),
        Undetermined::ProbeVoid => page.item(LABEL, format_args!("probe {probe} entered again")),
        Undetermined::NothingTogether { together } => page.item(
            LABEL,
            format_args!("the corner seen with entry {number}, entered with together={together}"),
        ),
        Undetermined::Place(LocateError::Curved(_)) => page.item(LABEL, format_args!("no reading can: {reason}")),
        _ => page.item(LABEL, format_args!("entry {number} read again: {reason}")),
    }
}

/// The view that lies furthest from the fused point, counted in its own uncertainty.
fn furthest(indication: Indication<'_>) -> Option<u32> {
    let point = indication.place()?;
    let views = indication.views();
    let distance = |reading: &Pooled<'_>| {
        let found = evaluate(indication.facts(), *reading);
        let (place, (u_y, u_z)) = (found.place.ok()?, found.uncertainty()?);
        let (y, z) = ((place.y.get() - point.y) / u_y, (place.z.get() - point.z) / u_z);
        Some((found.reading.number(), y * y + z * z))
    };
    let farther = |held: (u32, f32), other: (u32, f32)| if other.1 > held.1 { other } else { held };
    views.iter().filter_map(distance).reduce(farther).map(|(number, _)| number)
}
