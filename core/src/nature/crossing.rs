//! One face seen from both sides: the same place, past the centreline from each, or short of it.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | y_A, y_B | place across the weld by thickness and path, from either side | mm |
//! | c | y_A − y_B: positive where each side plots beyond the other, crossed | mm |
//! | e, t | index point and thickness, whose errors both sides share | mm |
//!
//! u²(c) = own_A + own_B + (2 u(e))² + ((∂y_A/∂t − ∂y_B/∂t) u(t))²: an error of the index point moves the two apart, and
//! so does one of the thickness \[R3\]. The angle is in neither. c of a reflector at one place is 0; the flanks of a
//! root bead answer from beyond its middle, so that c is positive; the two edges of an unfused root lie apart, c < 0.

use heapless::Vec;

use super::echo::Echo;
use crate::examination::Facts;
use crate::math;
use crate::side::{Face, Side};

/// Pairs of one face that are compared.
const PAIRS: usize = 16;

/// Both sides of one probe at one face.
#[derive(Clone, Copy)]
struct Pair {
    probe: u8,
    crossed: f32,
    own: f32,
    /// Half-width parts of what both sides share.
    index: f32,
    thickness: f32,
    taken: bool,
}

/// Pairs that agree, as one.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Crossing {
    /// c, mm.
    pub by: f32,
    /// Its expanded uncertainty (k = 2), mm.
    pub u: f32,
    /// How many probes' pairs it rests on.
    pub pairs: u32,
}

impl Crossing {
    /// Each side plots beyond the other.
    pub fn crossed(&self) -> bool {
        self.by > self.u
    }

    /// Each side plots short of the other.
    pub fn apart(&self) -> bool {
        self.by < -self.u
    }
}

/// What the pairs of one face say, those that agree put together; the more pairs first.
pub(super) fn crossings(facts: &Facts<'_>, echoes: &[Echo<'_>], face: Face) -> Vec<Crossing, 3> {
    let mut pairs = pairs(facts, echoes, face);
    let mut found = Vec::new();
    while !found.is_full() {
        let mut seed: Option<(Pair, usize)> = None;
        for candidate in pairs.iter().filter(|pair| !pair.taken) {
            let count = pairs.iter().filter(|pair| !pair.taken && agree(candidate, pair)).count();
            if seed.as_ref().is_none_or(|(_, most)| count > *most) {
                seed = Some((*candidate, count));
            }
        }
        let Some((seed, _)) = seed else { break };
        for pair in &mut pairs {
            pair.taken |= agree(&seed, pair);
        }
        let members = pairs.iter().filter(|pair| pair.taken);
        if let Some(crossing) = fused(members) {
            // There is room: it was looked for above.
            let _ = found.push(crossing);
        }
        pairs.retain(|pair| !pair.taken);
    }
    found
}

/// A pair for each echo of side A and the echo of side B, seen by the same probe, that is most like it.
fn pairs(facts: &Facts<'_>, echoes: &[Echo<'_>], face: Face) -> Vec<Pair, PAIRS> {
    let mut found = Vec::new();
    let of = |side: Side| {
        echoes.iter().filter(move |echo| {
            echo.side() == side
                && echo.at_face.is_some()
                && echo.site.at_or_past().is_some_and(|at| at.0 == face)
        })
    };
    for one in of(Side::A) {
        let stand = |echo: &&Echo<'_>| {
            (echo.probe(), echo.scanned()) == (one.probe(), one.scanned())
                && echo.site.at_or_past().map(|at| at.1) == one.site.at_or_past().map(|at| at.1)
        };
        let unlike = |echo: &Echo<'_>| (echo.path - one.path).abs();
        let most_alike = of(Side::B)
            .filter(stand)
            .reduce(|held, echo| if unlike(echo) < unlike(held) { echo } else { held });
        let (Some(other), Some(state)) = (most_alike, facts.probe(one.probe())) else { continue };
        let (Some(a), Some(b)) = (one.at_face, other.at_face) else { continue };
        let pair = Pair {
            probe: one.probe(),
            crossed: a.y - b.y,
            own: a.own + b.own,
            index: 2.0 * facts.budget(state).index.get(),
            thickness: a.of_thickness + b.of_thickness,
            taken: false,
        };
        if found.push(pair).is_err() {
            break;
        }
    }
    found
}

/// Whether two pairs can be of one reflector: their difference within k = 2 of what they do not share.
fn agree(one: &Pair, other: &Pair) -> bool {
    let index = if one.probe == other.probe {
        0.0
    } else {
        (one.index * one.index + other.index * other.index) / 3.0
    };
    let thickness = one.thickness - other.thickness;
    let variance = one.own + other.own + index + thickness * thickness / 3.0;
    let off = one.crossed - other.crossed;
    off * off <= 4.0 * variance
}

/// The mean of several pairs, each weighted by its own and its index' variance; the thickness is common to all.
fn fused<'p>(pairs: impl Iterator<Item = &'p Pair> + Clone) -> Option<Crossing> {
    let variance = |pair: &Pair| pair.own + pair.index * pair.index / 3.0 + 1e-6;
    let (mut sum, mut weights, mut thickness, mut count) = (0.0f32, 0.0f32, 0.0f32, 0u32);
    let (mut own, mut index) = (0.0f32, 0.0f32);
    for pair in pairs.clone() {
        let weight = 1.0 / variance(pair);
        sum += weight * pair.crossed;
        thickness += weight * pair.thickness;
        weights += weight;
        own += weight * weight * pair.own;
        // Pairs of one probe share its index point: their parts add, those of different probes do not.
        let first = pairs.clone().position(|earlier| earlier.probe == pair.probe);
        let here = pairs.clone().position(|earlier| core::ptr::eq(earlier, pair));
        if first == here {
            let same = pairs.clone().filter(|other| other.probe == pair.probe);
            let part: f32 = same.map(|other| other.index / variance(other)).sum();
            index += part * part / 3.0;
        }
        count = count.saturating_add(1);
    }
    if weights <= 0.0 {
        return None;
    }
    let thickness = thickness / weights;
    let total = (own + index) / (weights * weights) + thickness * thickness / 3.0;
    Some(Crossing { by: sum / weights, u: 2.0 * math::sqrt(total)?, pairs: count })
}
