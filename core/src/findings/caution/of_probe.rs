//! What a probe and its references call for.

use super::super::evaluate;
use super::super::suspect::suspicion_of_probe;
use super::{Caution, unusual};
use crate::calibration::curve::How;
use crate::part::Part;
use crate::record::examination::{Facts, Pooled, ProbeState};

/// A path this far from the only reference point, as a part of that point's path, is another path. Common practice, no
/// source.
const ANOTHER_PATH: f32 = 0.1;

pub(super) fn of_probe(facts: &Facts<'_>, place: u8, tell: &mut impl FnMut(Caution)) {
    let Some(state) = facts.probe(place) else { return };
    if let Some(suspicion) = suspicion_of_probe(facts, place) {
        tell(Caution::Probe { probe: place, suspicion });
    }
    if let Some(first) = facts.readings().find(|reading| reading.probe() == place) {
        let reading = first.number();
        if let Some(entry) = facts.calibrated_anew(state, reading) {
            tell(Caution::CalibratedAnew { probe: place, entry, reading });
        }
        let angle = state.angle_check().is_none() && state.angle_stated().is_none();
        let (timebase, transfer) = (state.timebase().is_none(), state.transfer().is_none());
        if angle || timebase || transfer {
            tell(Caution::NotRecorded { probe: place, angle, timebase, transfer });
        }
        let half_width = facts.common().velocity;
        if half_width > 0.0 && timebase && facts.common().material.is_none() {
            tell(Caution::VelocityNotCounted { probe: place, half_width });
        }
    }
    if let Some((base, material)) = speed_differs(facts, state) {
        tell(Caution::SpeedDiffers { probe: place, base, material });
    }
    if let Some(turned) = state.turned_untold() {
        tell(Caution::BlockTemperature { probe: place, turned });
    }
    if let Some(why) = state.no_beam() {
        tell(Caution::NoBeam { probe: place, why });
    }
    unusual(facts, place, tell);
    if let Some(path) = one_point(facts, place, state) {
        tell(Caution::OnePoint { probe: place, path });
    }
    if let Some(up_to) = facts.transfer_up_to(state) {
        let beyond = |reading: &Pooled<'_>| {
            reading.probe() == place && evaluate(facts, *reading).path.is_ok_and(|path| path.get() > up_to)
        };
        let mut beyond = facts.readings().filter(beyond);
        if let Some(first) = beyond.next() {
            let count = (beyond.count() as u32).saturating_add(1);
            tell(Caution::TransferExtended { probe: place, first: first.number(), count, up_to });
        }
    }
    if let Some((angle, largest)) = bore_missed(facts, state) {
        tell(Caution::BoreMissed { probe: place, angle, largest });
    }
}

/// The velocities of time base and material, when they differ by more than the range tolerance.
fn speed_differs(facts: &Facts<'_>, state: &ProbeState) -> Option<(f32, f32)> {
    let (_, material) = facts.common().material.as_ref()?;
    let (base, shear) = (state.timebase()?.base().velocity.get(), material.shear().get());
    let allowed = facts.common().check_limits.range.get() / 100.0 * shear;
    ((base - shear).abs() > allowed).then_some((base, shear))
}

/// The path of the only reference point, when a level at another path rests on it.
fn one_point(facts: &Facts<'_>, place: u8, state: &ProbeState) -> Option<f32> {
    let mut points = state.dac().points();
    let (Some(point), None) = (points.next(), points.next()) else { return None };
    let own = point.path.get();
    let elsewhere = |path: f32| (path - own).abs() > ANOTHER_PATH * own;
    let mut found =
        facts.readings().filter(|reading| reading.probe() == place).map(|reading| evaluate(facts, reading));
    found
        .any(|found| {
            found.level.is_ok_and(|level| level.reference.how == How::Flat)
                && found.path.is_ok_and(|path| elsewhere(path.get()))
        })
        .then_some(own)
}

/// A probe's angle and the largest that meets the bore, when it misses it.
fn bore_missed(facts: &Facts<'_>, state: &ProbeState) -> Option<(f32, f32)> {
    let (_, joint) = facts.common().joint.as_ref()?;
    let axis = state.axis()?;
    let Part::Around(pipe) = Part::of(joint)? else { return None };
    let largest = pipe.largest_angle()?;
    (axis.angle() >= largest).then(|| (axis.angle().get(), largest.get()))
}
