//! Whether the readings of one indication lie together along the weld.
//!
//! Places are chained: two belong together where no more lies between them than the beam is wide, a step of the
//! indication's own scans, and what peaks from two sides differ by. Around a girth weld the shorter way counts.

use super::{Found, Why};
use crate::findings::{Point, ReadingFinding, evaluate, strongest};
use crate::math;
use crate::part::joint::{Curvature, ScannedFrom};
use crate::physics::beam::{EdgeDrop, spread};
use crate::physics::material::STEEL_SHEAR;
use crate::physics::probe::wavelength;
use crate::record::entry::{EnteredHeight, Sweep};
use crate::record::examination::{Facts, Pooled};
use crate::units::Millimetres;

/// What peaks of one reflector from two sides differ by along the weld, mm. Ours, as beside a length.
const BESIDE: f32 = 10.0;
/// The widest step of a scan of which fewer than three steps are recorded, mm. Ours, as for movements that are joined.
const STEP: f32 = 25.0;

pub(super) fn together(facts: &Facts<'_>, indication: u8) -> Found {
    let Ok(strongest) = strongest(facts, indication) else { return Found::not_met(Why::NoReading) };
    let Some(middle) = along(facts, strongest.finding.reading) else { return Found::met(Why::Together) };
    let (link, around) = (BESIDE + width(facts, &strongest.finding) + step(facts, indication), around(facts));
    let at = |reading: Pooled<'_>| along(facts, reading).map(|x| offset(x, middle, around));
    let (mut from, mut to) = (0.0f32, 0.0f32);
    // Each pass takes in what lies near enough to what the passes before took in.
    loop {
        let before = (from, to);
        for x in facts.readings_of(indication).filter_map(at) {
            if x >= from - link && x <= to + link {
                (from, to) = (math::smaller(from, x), math::larger(to, x));
            }
        }
        if (from, to) == before {
            break;
        }
    }
    let outside = |reading: &Pooled<'_>| at(*reading).is_some_and(|x| x < from || x > to);
    match facts.readings_of(indication).find(outside) {
        Some(reading) => {
            let (number, x) = (reading.number(), at(reading).unwrap_or(0.0));
            let gap = if x < from { from - x } else { x - to };
            let mm = |value| Millimetres::new(value).unwrap_or(reading.x());
            let x = along(facts, reading).unwrap_or(x);
            Found::not_met(Why::Apart { reading: number, x: mm(x), gap: mm(gap) }).on(number)
        }
        None => Found::met(Why::Together),
    }
}

/// How far a place lies, along the weld, beside all that was seen of an indication, mm, and how far it may for the beam to
/// have passed it there.
pub(in crate::findings) fn seen_along(
    facts: &Facts<'_>,
    indication: u8,
    point: &Point,
    looked: &ReadingFinding<'_>,
) -> (f32, f32) {
    let around = around(facts);
    let x = looked.place.map_or(looked.reading.x(), |place| place.x).get();
    let (mut from, mut to) = (0.0f32, 0.0f32);
    for seen in facts.readings_of(indication).filter_map(|reading| along(facts, reading)) {
        let off = offset(seen, point.x, around);
        (from, to) = (math::smaller(from, off), math::larger(to, off));
    }
    let off = offset(x, point.x, around);
    let beside = math::larger(math::larger(from - off, off - to), 0.0);
    (beside, width(facts, looked) + step(facts, indication))
}

/// Half the width of the beam at the reading's path, in the plane of incidence to 20 dB below the axis, mm. A beam without
/// an edge is taken to spread by half a right angle.
pub(in crate::findings) fn half_width(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> f32 {
    let of = || {
        let probe = facts.probe(finding.reading.probe())?.probe()?;
        let shear = facts.common().material.as_ref().map_or(STEEL_SHEAR, |(_, material)| material.shear());
        let element = probe.element();
        let factor = EdgeDrop::PULSE_ECHO_20.factor(&element);
        let edge = spread(factor, wavelength(shear, probe.frequency()), element.in_plane());
        // s tan g
        Some(finding.path.ok()?.get() * edge.map_or(1.0, |edge| math::tan(edge.get())))
    };
    of().unwrap_or(0.0)
}

/// Where an echo lies along the weld, mm; none where none was seen.
fn along(facts: &Facts<'_>, reading: Pooled<'_>) -> Option<f32> {
    if reading.height() == EnteredHeight::Under {
        return None;
    }
    // A place is worked out only where the skew moves it along the weld.
    if reading.skew().is_none_or(|skew| skew.get() == 0.0) {
        return Some(reading.x().get());
    }
    let finding = evaluate(facts, reading);
    if finding.unseen() {
        return None;
    }
    Some(finding.place.map_or(reading.x(), |place| place.x).get())
}

/// The circumference that x runs along, where the beam runs along a pipe's axis.
fn around(facts: &Facts<'_>) -> Option<f32> {
    let (_, joint) = facts.common().joint.as_ref()?;
    let Curvature::AlongPipe { od, from } = joint.spec().curvature else { return None };
    let diameter = match from {
        ScannedFrom::Outside => od.get(),
        ScannedFrom::Inside => od.get() - 2.0 * joint.thickness().get(),
    };
    Some(core::f32::consts::PI * diameter)
}

/// How far one place lies from another along the weld, the shorter way around.
fn offset(x: f32, middle: f32, around: Option<f32>) -> f32 {
    let off = x - middle;
    match around {
        Some(around) if around > 0.0 => off - around * math::floor(off / around + 0.5),
        _ => off,
    }
}

/// Width of the beam at the reading's path, across the plane of incidence to 20 dB below the axis, mm.
fn width(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> f32 {
    let of = || {
        let probe = facts.probe(finding.reading.probe())?.probe()?;
        let shear = facts.common().material.as_ref().map_or(STEEL_SHEAR, |(_, material)| material.shear());
        let element = probe.element();
        let factor = EdgeDrop::PULSE_ECHO_20.factor(&element);
        let edge = spread(factor, wavelength(shear, probe.frequency()), element.across())?;
        // 2 s tan g
        Some(2.0 * finding.path.ok()?.get() * math::tan(edge.get()))
    };
    of().unwrap_or(0.0)
}

/// The step from reading to reading of the indication's scans along the weld, on the average, mm.
fn step(facts: &Facts<'_>, indication: u8) -> f32 {
    let mut along = facts.readings_of(indication).filter(|reading| reading.sweep() == Some(Sweep::Along));
    let (mut sum, mut steps) = (0.0, 0u16);
    let Some(mut before) = along.next() else { return 0.0 };
    for reading in along {
        if (reading.probe(), reading.side()) == (before.probe(), before.side()) {
            sum += (reading.x().get() - before.x().get()).abs();
            steps = steps.saturating_add(1);
        }
        before = reading;
    }
    let mean = if steps == 0 { 0.0 } else { sum / f32::from(steps) };
    if steps < 3 { math::smaller(mean, STEP) } else { mean }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn on_a_girth_weld_the_shorter_way_around_counts() {
        let around = Some(857.7);
        assert!((offset(5.0, 850.0, around) - 12.7).abs() < 1e-3);
        assert!((offset(850.0, 5.0, around) + 12.7).abs() < 1e-3);
        assert_eq!(offset(5.0, 850.0, None), -845.0);
    }
}
