//! The reference: a curve that one reflector can have given, and points near enough to the paths that it serves.

use super::{Found, Why, counts, deciding, probes};
use crate::acceptance::criteria::Measure;
use crate::calibration::curve::How;
use crate::evaluate::{Indication, ReadingFinding, evaluate};
use crate::math;
use crate::physics::material::STEEL_SHEAR;
use crate::physics::probe::{Probe, near_field_rectangular, near_field_round, wavelength};
use crate::record::entry::PointPeaked;
use crate::record::examination::{Facts, ProbeState, ReferencePoint};
use crate::units::{Decibels, Millimetres};

/// Beyond the near field the gain for one reflector does not fall with path by more than this, dB. Ours: twice what one
/// reading of an echo's height may be off.
const FALL: f32 = 2.0;
/// Inside it the gain may fall by so much, dB; from the field of a piston on its axis it is 3 to 8 dB.
const FALL_NEAR: f32 = 8.0;
/// How far a point may lie off the line of its neighbours, dB. Ours.
const OFF: f32 = 6.0;
/// The greatest ratio of the paths of two points that a level may be read between: straight lines in path then read
/// 3.1 dB low where the echo falls 9 dB a doubling.
const RATIO: f32 = 4.0;
/// How many times the longest path a curve may be carried on to by the procedure's word. Ours: an end value that is held
/// reads 9 dB low there.
const CARRIED: f32 = 2.0;
/// How much longer than the path of the only point another may be: what a check of the range may be off by default.
const LONGER: f32 = 1.02;

/// The reference of each probe, for the readings that level or place rest on.
pub(super) fn reference(indication: Indication<'_>) -> Found {
    let (facts, measure) = (indication.facts(), indication.findings().measure());
    let deciding = deciding(indication);
    let mut found: Option<Found> = None;
    let mut add = |one: Found| match &mut found {
        Some(found) => found.and(one),
        None => found = Some(one),
    };
    for probe in probes(indication) {
        if let Some(state) = facts.probe(probe) {
            add(curve(facts, probe, state, measure));
        }
    }
    for reading in indication.readings().filter(|reading| counts(*reading, deciding)) {
        let finding = evaluate(facts, reading);
        let tip = matches!(reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip);
        if tip || finding.unseen() {
            continue;
        }
        if let (Some(state), Measure::Level) = (facts.probe(reading.probe()), measure)
            && let Some(one) = at_path(facts, state, &finding)
        {
            add(one);
        }
    }
    found.unwrap_or(Found::not_met(Why::NoReading))
}

/// The curve by itself.
fn curve(facts: &Facts<'_>, probe: u8, state: &ProbeState, measure: Measure) -> Found {
    let points = state.reference_points();
    let (named, all) = (points.clone().filter(|point| point.hole.is_some()).count(), points.clone().count());
    let found = if let Some(fault) = implausible(facts, probe, state) {
        return fault;
    } else if all == 0 {
        return Found::not_met(Why::NoReference { probe });
    } else if named == 0 {
        Found::stated(Why::HolesNotNamed { probe })
    } else if named < all {
        Found::not_met(Why::HolesMixed { probe })
    } else if matches!(measure, Measure::Weighted(_)) {
        Found::met(Why::OneHole)
    } else {
        Found::met(Why::ReferenceMeasured)
    };
    points.fold(found, |found, point| found.on(point.number))
}

/// What is wrong with a probe's reference curve by itself: what one reflector cannot have given, or points of which only
/// some name their hole.
#[must_use]
pub fn reference_fault(facts: &Facts<'_>, probe: u8) -> Option<Why> {
    let state = facts.probe(probe)?;
    if let Some(fault) = implausible(facts, probe, state) {
        return Some(fault.why);
    }
    let named = |point: &ReferencePoint| point.hole.is_some();
    let mut points = state.reference_points();
    let first = named(&points.next()?);
    points.any(|point| named(&point) != first).then_some(Why::HolesMixed { probe })
}

/// What one reflector cannot have given, if the curve has it.
fn implausible(facts: &Facts<'_>, probe: u8, state: &ProbeState) -> Option<Found> {
    let near_field = near_field(facts, state).map_or(0.0, Millimetres::get);
    let beyond = |point: &ReferencePoint| point.path.get() >= near_field;
    let points = state.reference_points();
    let mut highest: [Option<ReferencePoint>; 2] = [None, None];
    for point in points.clone() {
        // Inside the near field and beyond it; a fall from the one into the other is one of the near field.
        let [all, far] = highest;
        let fell = |from: Option<ReferencePoint>, most: f32| {
            let from = from?;
            let by = from.gain.get() - point.gain.get();
            (by > most).then(|| {
                let fall =
                    Why::Falls { probe, from: from.number, to: point.number, by: Decibels::computed(by) };
                Found::not_met(fall).on(from.number).on(point.number)
            })
        };
        if let Some(fault) = fell(far.filter(|_| beyond(&point)), FALL).or_else(|| fell(all, FALL_NEAR)) {
            return Some(fault);
        }
        let higher =
            |held: Option<ReferencePoint>| held.filter(|held| held.gain >= point.gain).or(Some(point));
        highest = [higher(all), if beyond(&point) { higher(far) } else { far }];
    }
    let triples = points.clone().zip(points.clone().skip(1)).zip(points.skip(2));
    for ((before, point), after) in triples.filter(|((_, point), _)| beyond(point)) {
        if let Some(by) =
            off_the_line([&before, &point, &after].map(|point| (point.path.get(), point.gain.get())))
        {
            let why = Why::OffTheLine { probe, entry: point.number, by: Decibels::computed(by) };
            return Some(Found::not_met(why).on(point.number));
        }
    }
    None
}

/// How far the middle one of three points lies off both lines of its neighbours, the one in path and the one in its
/// logarithm, where that is on the same side of both and more than can be.
fn off_the_line([before, point, after]: [(f32, f32); 3]) -> Option<f32> {
    let along = |scale: fn(f32) -> f32| {
        let (from, at, to) = (scale(before.0), scale(point.0), scale(after.0));
        point.1 - (before.1 + (after.1 - before.1) * (at - from) / (to - from))
    };
    let (straight, curved) = (along(|path| path), along(|path| math::log10(path).unwrap_or(path)));
    let least = math::smaller(straight.abs(), curved.abs());
    (straight * curved > 0.0 && least > OFF).then(|| if straight < 0.0 { -least } else { least })
}

/// What the path of a reading has to do with the points.
fn at_path(facts: &Facts<'_>, state: &ProbeState, finding: &ReadingFinding<'_>) -> Option<Found> {
    let reading = finding.reading.number();
    let (path, level) = (finding.path.ok()?, finding.level.ok()?);
    match level.reference.how {
        How::Held | How::Sloped => {
            let points = || state.reference_points().map(|point| point.path.get());
            let (first, last) = (points().next()?, points().last()?);
            let far = path.get() > CARRIED * last || path.get() * CARRIED < first;
            let found = if far {
                Found::not_met(Why::FarBeyond { reading })
            } else {
                Found::stated(Why::CarriedOn { reading })
            };
            Some(found.on(reading))
        }
        How::Flat => {
            let point = state.reference_points().next()?;
            let near_field = near_field(facts, state).filter(|near_field| path < *near_field);
            if path.get() > point.path.get() * LONGER {
                let why = Why::BeyondOnePoint { reading, path: point.path };
                return Some(Found::not_met(why).on(point.number).on(reading));
            }
            let near_field = near_field?;
            Some(Found::not_met(Why::NearField { reading, near_field }).on(point.number).on(reading))
        }
        How::Between => {
            let mut below: Option<ReferencePoint> = None;
            for above in state.reference_points() {
                if let Some(below) = below
                    && below.path < path
                    && path < above.path
                    && above.path.get() > RATIO * below.path.get()
                {
                    let why = Why::PointsApart { reading, from: below.number, to: above.number };
                    return Some(Found::not_met(why).on(below.number).on(above.number).on(reading));
                }
                below = Some(above);
            }
            None
        }
    }
}

/// What is left of the near field in the part, the larger of both planes; where the wedge is not known, all of it.
fn near_field(facts: &Facts<'_>, state: &ProbeState) -> Option<Millimetres> {
    let probe = state.probe()?;
    let shear = facts.common().material.as_ref().map_or(STEEL_SHEAR, |(_, material)| material.shear());
    if let Ok(Some(left)) = probe.near_field(shear) {
        return Some(if left.in_plane > left.across { left.in_plane } else { left.across });
    }
    whole(probe, wavelength(shear, probe.frequency()))
}

fn whole(probe: &Probe, wavelength: Millimetres) -> Option<Millimetres> {
    let element = probe.element();
    match element {
        crate::physics::probe::Element::Round { diameter } => near_field_round(diameter, wavelength).ok(),
        crate::physics::probe::Element::Rectangular { in_plane, across } => {
            near_field_rectangular(in_plane, across, wavelength).ok()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_is_off_where_neither_line_of_its_neighbours_explains_it() {
        // 38 to 45.5 dB from 40 to 80 mm: 41.75 dB straight at 60 mm, 42.4 dB in the logarithm.
        let off = |gain| off_the_line([(40.0, 38.0), (60.0, gain), (80.0, 45.5)]);
        assert_eq!(off(42.0), None);
        assert_eq!(off(36.0), None, "5.75 and 6.4 dB");
        assert!((off(22.0).unwrap() + 19.75).abs() < 1e-3);
        assert!((off(50.0).unwrap() - 7.6).abs() < 0.05);
    }

    #[test]
    fn a_long_step_is_judged_by_the_line_that_fits() {
        // A true curve of 9 dB a doubling from 10 to 80 mm at 20 mm: 29 dB; straight it would be 23.9, in log 29.
        let off = off_the_line([(10.0, 20.0), (20.0, 29.0), (80.0, 47.0)]);
        assert_eq!(off, None);
    }
}
