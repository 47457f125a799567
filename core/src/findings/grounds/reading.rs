//! What the readings themselves say: where the probe was, where the echo lies, how it was read.

use super::{Found, Why, counts, deciding};
use crate::acceptance::technique::Technique;
use crate::evaluate::{Indication, ReadingFinding, evaluate};
#[cfg(feature = "coverage")]
use crate::findings::{coverage as reachable, scanned};
use crate::math;
use crate::part::joint::{Joint, Section};
use crate::part::side::Side;
use crate::physics::probe::Probe;
use crate::record::entry::{EnteredHeight, PointPeaked};
use crate::record::examination::{Facts, Pooled};
use crate::units::{Decibels, Millimetres, ScreenPercent};

/// The heat-affected zone where none is recorded, to each side of the weld. Common practice, no source.
const HAZ: f32 = 10.0;
/// The greatest part of the joint's thickness that a reading's own may be off. Ours: sheets have steps of thickness, and
/// the fold of the beam goes wrong by twice as much in leg 2.
const THICKNESS: f32 = 0.20;
/// A level under this is no level of an echo that could be seen. Ours: hundred to one in height.
const IMPLAUSIBLE: f32 = -40.0;
/// Scans and legs that a coverage is asked of.
#[cfg(feature = "coverage")]
const SCANS: usize = 16;
#[cfg(feature = "coverage")]
const LEGS: u32 = 2;

/// Tells what one reading by itself lacks: the probe could not be there, the echo is not of this weld, the thickness is
/// another, the height cannot be read.
pub fn of_reading(facts: &Facts<'_>, reading: Pooled<'_>, mut tell: impl FnMut(Why)) {
    let Some((_, joint)) = facts.common().joint.as_ref() else { return };
    let (finding, section) = (evaluate(facts, reading), joint.section());
    let (asks, technique) = (facts.technique().asks, facts.technique());
    let alone = reading.sweep().is_none();
    let mut not_met = |ground, found: Option<Found>| {
        if let Some(found) =
            found.filter(|found| asks.contains(ground) && found.state == super::GroundState::NotMet)
        {
            tell(found.why);
        }
    };
    use crate::acceptance::technique::Ground;
    not_met(Ground::Reach, Some(reach_of(facts, joint, &section, reading)));
    not_met(Ground::OnWeld, alone.then(|| on_weld_of(joint, &section, &finding)).flatten());
    not_met(Ground::Thickness, Some(thickness_of(joint, reading)));
    let tip = matches!(reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip);
    let unseen = finding.unseen();
    // A reading without a level says so itself.
    let read = alone && !tip && !unseen && finding.level.is_ok();
    not_met(Ground::Amplitude, read.then(|| amplitude_of(technique, &finding)));
}

/// What a reading says against itself of where its probe was and where its echo lies, whatever the technique asks.
pub(in crate::findings) fn out_of_place(
    facts: &Facts<'_>,
    joint: &Joint,
    section: &Section,
    finding: &ReadingFinding<'_>,
) -> [Option<Why>; 2] {
    let reach = reach_of(facts, joint, section, finding.reading);
    [Some(reach), on_weld_of(joint, section, finding)].map(|found| {
        let unmet = found.filter(|found| found.state == super::GroundState::NotMet);
        unmet.map(|found| found.why)
    })
}

/// The probe could be where each reading says.
pub(super) fn reach(indication: Indication<'_>) -> Found {
    let facts = indication.facts();
    let Some((number, joint)) = facts.common().joint.as_ref() else { return Found::not_met(Why::NoJoint) };
    let section = joint.section();
    over(indication, |reading| Some(reach_of(facts, joint, &section, reading))).on(*number)
}

fn reach_of(facts: &Facts<'_>, joint: &Joint, section: &Section, reading: Pooled<'_>) -> Found {
    let number = reading.number();
    if !joint.spec().reaches(reading.side()) {
        return Found::not_met(Why::SideNotReached { reading: number }).on(number);
    }
    let front = facts.probe(reading.probe()).and_then(|state| state.probe()).and_then(Probe::front);
    if let Some(clearance) = section.clearance(reading.side(), reading.face()) {
        let (standoff, least) = (reading.standoff(), clearance.least(front));
        let off = facts.common().budget.standoff.get();
        if standoff.get() + off < least {
            let least = Millimetres::new(least).unwrap_or(standoff);
            return Found::not_met(Why::InTheWay { reading: number, standoff, least }).on(number);
        }
    }
    Found::met(Why::Reached { index_only: front.is_none() })
}

/// The echoes that level or place rest on lie in weld or heat-affected zone, within their uncertainty.
pub(super) fn on_weld(indication: Indication<'_>) -> Found {
    let facts = indication.facts();
    let Some((number, joint)) = facts.common().joint.as_ref() else { return Found::not_met(Why::NoJoint) };
    let (section, deciding) = (joint.section(), deciding(indication));
    let of = |reading: Pooled<'_>| {
        let asked = counts(reading, deciding);
        asked.then(|| on_weld_of(joint, &section, &evaluate(facts, reading))).flatten()
    };
    over(indication, of).on(*number)
}

/// None of an echo without a place.
fn on_weld_of(joint: &Joint, section: &Section, finding: &ReadingFinding<'_>) -> Option<Found> {
    let (place, (u_y, _)) = (finding.place.ok()?, finding.uncertainty()?);
    if finding.unseen() {
        return None;
    }
    let (y, number) = (place.y, finding.reading.number());
    let side = if y.get() < 0.0 { Side::A } else { Side::B };
    let edge = section.heat_affected_extent(side).unwrap_or(section.weld_extent(side) + HAZ);
    // An uncertainty wider than the weld itself excuses nothing.
    if y.get().abs() - math::smaller(u_y, edge) > edge {
        let edge = Millimetres::new(side.sign() * -edge).unwrap_or(y);
        return Some(Found::not_met(Why::OffWeld { reading: number, y, edge }).on(number));
    }
    Some(Found::met(Why::OnWeld { assumed: joint.spec().haz.is_none() }))
}

/// The thickness of each reading is near that of the joint.
pub(super) fn thickness(indication: Indication<'_>) -> Found {
    let Some((number, joint)) = indication.facts().common().joint.as_ref() else {
        return Found::not_met(Why::NoJoint);
    };
    over(indication, |reading| Some(thickness_of(joint, reading))).on(*number)
}

fn thickness_of(joint: &Joint, reading: Pooled<'_>) -> Found {
    let Some(thickness) = reading.thickness() else { return Found::met(Why::Thickness) };
    let (joint, number) = (joint.thickness(), reading.number());
    let found = if off(thickness, joint) > THICKNESS {
        Found::not_met(Why::OtherThickness { reading: number, thickness, joint })
    } else {
        Found::met(Why::Thickness)
    };
    found.on(number)
}

/// How far a thickness is off the joint's, as a part of that.
pub(in crate::findings) fn off(thickness: Millimetres, joint: Millimetres) -> f32 {
    (thickness.get() - joint.get()).abs() / joint.get()
}

/// The reading that decides the level was read on the screen, and its level can be.
pub(super) fn amplitude(indication: Indication<'_>) -> Found {
    let facts = indication.facts();
    // Of movements the flanks are read too; where one echo was peaked by itself the level was read there.
    let read = |reading: &Pooled<'_>| {
        let tip = matches!(reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip);
        reading.sweep().is_none() && !tip && !indication.heard(*reading).unseen
    };
    let peaked =
        math::largest_by(indication.readings().filter(read), |reading| indication.heard(*reading).db());
    match peaked.or_else(|| deciding(indication)) {
        Some(reading) => amplitude_of(facts.technique(), &evaluate(facts, reading)),
        None => Found::not_met(Why::NoLevel),
    }
}

fn amplitude_of(technique: &Technique, finding: &ReadingFinding<'_>) -> Found {
    const NOTHING: ScreenPercent = ScreenPercent::constant(0.0);
    const ALL: ScreenPercent = ScreenPercent::constant(1000.0);
    let reading = finding.reading.number();
    let (from, to) = (technique.amplitude_from.unwrap_or(NOTHING), technique.amplitude_to.unwrap_or(ALL));
    let level = finding.level.map(|found| found.level.db);
    let found = match (finding.reading.height(), level) {
        (EnteredHeight::Over, _) => Found::not_met(Why::LeftTheScreen { reading }),
        (EnteredHeight::Under, _) | (_, Err(_)) => Found::not_met(Why::NoLevel),
        (EnteredHeight::Shown(shown), Ok(level)) => {
            let shown = shown.quantity();
            if shown < from || shown > to {
                Found::not_met(Why::AmplitudeOutside { reading, shown, from, to })
            } else if level.get() < IMPLAUSIBLE {
                Found::not_met(Why::Implausible { reading, level: Decibels::computed(level.get()) })
            } else {
                Found::met(Why::Amplitude)
            }
        }
    };
    found.on(reading)
}

/// The indication has a place.
pub(super) fn place(indication: Indication<'_>) -> Found {
    if indication.place().is_none() {
        return Found::not_met(Why::NoPlace);
    }
    let views = indication.views();
    views.iter().fold(Found::met(Why::Placed), |found, view| found.on(view.number()))
}

/// Weld and heat-affected zone were covered: by the recorded movements, else as far as the probes can cross them, which
/// nobody has measured.
#[cfg(feature = "coverage")]
#[inline(never)]
pub(super) fn coverage(facts: &Facts<'_>, technique: &Technique) -> Found {
    let Some(asked) = technique.coverage else { return Found::not_met(Why::NoCoverage) };
    let share = |fraction: f32| crate::units::Percent::new(100.0 * fraction).ok();
    let of = |fraction: Option<f32>| fraction.and_then(share);
    let by_scans = of(scanned::<SCANS>(facts, LEGS).and_then(|found| found.coverage.fraction()));
    if let Some(share) = by_scans.filter(|share| *share >= asked) {
        return Found::met(Why::Covered { share, asked, scanned: true });
    }
    let by_probes = reachable::<SCANS>(facts, None, LEGS, |_| {}).and_then(Result::ok);
    match of(by_probes.and_then(|found| found.fraction())) {
        Some(share) if share >= asked => Found::stated(Why::Covered { share, asked, scanned: false }),
        Some(share) => Found::not_met(Why::Covered { share, asked, scanned: false }),
        None => Found::not_met(Why::NoCoverage),
    }
}

/// What the readings of an indication say together.
fn over<'a>(indication: Indication<'a>, of: impl Fn(Pooled<'a>) -> Option<Found>) -> Found {
    let mut found: Option<Found> = None;
    for one in indication.readings().filter_map(of) {
        match &mut found {
            Some(found) => found.and(one),
            None => found = Some(one),
        }
    }
    found.unwrap_or(Found::not_met(Why::NoReading))
}
