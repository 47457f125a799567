//! Whether the beam passed an indication where an echo of it was looked for in vain.
//!
//! An echo that was not seen tells of a reflector only where the beam met it. The place that was looked at is compared
//! with that of the indication: along the weld with all that was seen of it, a step of its scans and the beam's width
//! beyond; across the weld and in depth with its point, within the uncertainty of both and half the beam's width.

use super::grounds::{half_width, seen_along};
use super::{Point, ReadingFinding};
use crate::math;
use crate::record::examination::Facts;

/// How far beside the indication an echo was looked for, mm; none where the beam passed it, or where no place was looked
/// at.
pub(crate) fn looked_beside(
    facts: &Facts<'_>,
    indication: u8,
    point: &Point,
    looked: &ReadingFinding<'_>,
) -> Option<f32> {
    let (place, (u_y, u_z)) = (looked.place.ok()?, looked.uncertainty()?);
    let half = half_width(facts, looked);
    let (along, link) = seen_along(facts, indication, point, looked);
    let (across, down) = ((place.y.get() - point.y).abs(), (place.z.get() - point.z).abs());
    let passed = along <= link && across <= u_y + point.u_y + half && down <= u_z + point.u_z + half;
    let distance = math::sqrt(along * along + across * across + down * down)?;
    (!passed).then_some(distance)
}
