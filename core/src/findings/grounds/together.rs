//! Whether the readings of one indication lie together along the weld.
//!
//! Places are chained: two belong together where no more lies between them than the beam is wide, a step of the
//! indication's own scans, and what peaks from two sides differ by. Around a girth weld the shorter way counts.

use super::{Found, Why};
use crate::evaluate::Indication;
use crate::evaluate::passed::{along, offset, step, width};
use crate::math;
use crate::record::examination::Pooled;
use crate::units::Millimetres;

/// What peaks of one reflector from two sides differ by along the weld, mm. Ours, as beside a length.
const BESIDE: f32 = 10.0;

pub(super) fn together(indication: Indication<'_>) -> Found {
    let facts = indication.facts();
    let Ok(strongest) = indication.level() else { return Found::not_met(Why::NoReading) };
    let Some(middle) = along(indication, strongest.finding.reading) else { return Found::met(Why::Together) };
    let (link, around) = (BESIDE + width(facts, &strongest.finding) + step(indication), facts.girth());
    let at = |reading: Pooled<'_>| along(indication, reading).map(|x| offset(x, middle, around));
    let (mut from, mut to) = (0.0f32, 0.0f32);
    // Each pass takes in what lies near enough to what the passes before took in.
    loop {
        let before = (from, to);
        for x in indication.readings().filter_map(at) {
            if x >= from - link && x <= to + link {
                (from, to) = (math::smaller(from, x), math::larger(to, x));
            }
        }
        if (from, to) == before {
            break;
        }
    }
    let outside = |reading: &Pooled<'_>| at(*reading).is_some_and(|x| x < from || x > to);
    match indication.readings().find(outside) {
        Some(reading) => {
            let (number, x) = (reading.number(), at(reading).unwrap_or(0.0));
            let gap = if x < from { from - x } else { x - to };
            let mm = |value| Millimetres::new(value).unwrap_or(reading.x());
            let x = along(indication, reading).unwrap_or(x);
            Found::not_met(Why::Apart { reading: number, x: mm(x), gap: mm(gap) }).on(number)
        }
        None => Found::met(Why::Together),
    }
}
