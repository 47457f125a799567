//! Whether the beam passed an indication where an echo of it was looked for in vain.
//!
//! An echo that was not seen tells of a reflector only where the beam met it. The place that was looked at is compared
//! with that of the indication: along the weld with all that was seen of it, a step of its scans and the beam's width
//! beyond; across the weld and in depth with its point, within the uncertainty of both and half the beam's width.

use super::{Indication, Point, ReadingFinding};
use crate::math;
use crate::part::girth::Girth;
use crate::physics::beam::{EdgeDrop, spread};
use crate::physics::material::STEEL_SHEAR;
use crate::physics::probe::wavelength;
use crate::record::entry::{EnteredHeight, Sweep};
use crate::record::examination::{Facts, Pooled};

/// The widest step of a scan of which fewer than three steps are recorded, mm. Ours, as for movements that are joined.
const STEP: f32 = 25.0;

/// How far beside the indication an echo was looked for, mm; none where the beam passed it, or where no place was looked
/// at.
pub(crate) fn looked_beside(
    indication: Indication<'_>,
    point: &Point,
    looked: &ReadingFinding<'_>,
) -> Option<f32> {
    let (place, (u_y, u_z)) = (looked.place.ok()?, looked.uncertainty()?);
    let half = half_width(indication.facts(), looked);
    let (along, link) = seen_along(indication, point, looked);
    let (across, down) = ((place.y.get() - point.y).abs(), (place.z.get() - point.z).abs());
    // Views that disagree make the place wider, not the beam.
    let [of_y, of_z] = point.of_fit;
    let passed = along <= link && across <= u_y + of_y + half && down <= u_z + of_z + half;
    let distance = math::sqrt(along * along + across * across + down * down)?;
    (!passed).then_some(distance)
}

/// How far a place lies, along the weld, beside all that was seen of an indication, mm, and how far it may for the beam to
/// have passed it there.
fn seen_along(indication: Indication<'_>, point: &Point, looked: &ReadingFinding<'_>) -> (f32, f32) {
    let facts = indication.facts();
    let around = facts.girth();
    let x = looked.place.map_or(looked.reading.x(), |place| place.x).get();
    let (mut from, mut to) = (0.0f32, 0.0f32);
    for seen in indication.readings().filter_map(|reading| along(indication, reading)) {
        let off = offset(seen, point.x, around);
        (from, to) = (math::smaller(from, off), math::larger(to, off));
    }
    let off = offset(x, point.x, around);
    let beside = math::larger(math::larger(from - off, off - to), 0.0);
    (beside, width(facts, looked) + step(indication))
}

/// Half the width of the beam at the reading's path, in the plane of incidence to 20 dB below the axis, mm. A beam without
/// an edge is taken to spread by half a right angle.
fn half_width(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> f32 {
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
pub(crate) fn along(indication: Indication<'_>, reading: Pooled<'_>) -> Option<f32> {
    if reading.height() == EnteredHeight::Under {
        return None;
    }
    // A place is worked out only where the skew moves it along the weld.
    if reading.skew().is_none_or(|skew| skew.get() == 0.0) {
        return Some(reading.x().get());
    }
    let heard = indication.heard(reading);
    (!heard.unseen).then(|| heard.x(reading).get())
}

/// How far one place lies from another along the weld, the shorter way around.
pub(crate) fn offset(x: f32, middle: f32, around: Option<Girth>) -> f32 {
    around.map_or(x - middle, |girth| girth.step(middle, x))
}

/// Width of the beam at the reading's path, across the plane of incidence to 20 dB below the axis, mm.
pub(crate) fn width(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> f32 {
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
pub(crate) fn step(indication: Indication<'_>) -> f32 {
    let mut along = indication.readings().filter(|reading| reading.sweep() == Some(Sweep::Along));
    let (mut sum, mut steps) = (0.0, 0u16);
    let Some(mut before) = along.next() else { return 0.0 };
    for reading in along {
        if (reading.probe(), reading.side()) == (before.probe(), before.side()) {
            sum += offset(reading.x().get(), before.x().get(), indication.facts().girth()).abs();
            steps = steps.saturating_add(1);
        }
        before = reading;
    }
    let mean = if steps == 0 { 0.0 } else { sum / f32::from(steps) };
    if steps < 3 { math::smaller(mean, STEP) } else { mean }
}
