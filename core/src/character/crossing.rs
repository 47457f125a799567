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
use crate::math;
use crate::part::side::{Face, Side};
use crate::record::examination::Facts;

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

    /// Each side plots beyond the other by more than what lies there is wide: not two views of one thing.
    pub fn wider_than(&self, width: f32) -> bool {
        self.by - self.u > width
    }
}

/// What the pairs of one face say, those that agree put together; the more pairs first.
pub(super) fn crossings(facts: &Facts<'_>, echoes: &[Echo<'_>], face: Face) -> Vec<Crossing, 3> {
    together(pairs(facts, echoes, face))
}

fn together(mut pairs: Vec<Pair, PAIRS>) -> Vec<Crossing, 3> {
    let mut found = Vec::new();
    while !found.is_full() {
        let agreeing =
            pairs.iter().map(|seed| (pairs.iter().filter(|pair| agree(seed, pair)).count(), *seed));
        let Some((_, seed)) = math::largest_by(agreeing, |(count, _)| *count) else { break };
        if let Some(crossing) = fused(pairs.iter().filter(|pair| agree(&seed, pair))) {
            // There is room: it was looked for above.
            let _ = found.push(crossing);
        }
        pairs.retain(|pair| !agree(&seed, pair));
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
        let most_alike = math::smallest_by(of(Side::B).filter(stand), |echo| unlike(echo));
        let (Some(other), Some(state)) = (most_alike, facts.probe(one.probe())) else { continue };
        let (Some(a), Some(b)) = (one.at_face, other.at_face) else { continue };
        let pair = Pair {
            probe: one.probe(),
            crossed: a.y - b.y,
            own: a.own + b.own,
            index: 2.0 * facts.budget(state).index.get(),
            thickness: a.of_thickness + b.of_thickness,
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
    let weighted =
        |of: fn(&Pair) -> f32| -> f32 { pairs.clone().map(|pair| 1.0 / variance(pair) * of(pair)).sum() };
    let weights = weighted(|_| 1.0);
    if weights <= 0.0 {
        return None;
    }
    let (by, thickness) =
        (weighted(|pair| pair.crossed) / weights, weighted(|pair| pair.thickness) / weights);
    let (mut own, mut index, mut count) = (0.0f32, 0.0f32, 0u32);
    for pair in pairs.clone() {
        let weight = 1.0 / variance(pair);
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
    let total = (own + index) / (weights * weights) + thickness * thickness / 3.0;
    Some(Crossing { by, u: 2.0 * math::sqrt(total)?, pairs: count })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pair(probe: u8, crossed: f32, own: f32, index: f32, thickness: f32) -> Pair {
        Pair { probe, crossed, own, index, thickness }
    }

    #[test]
    fn pairs_agree_within_what_they_do_not_share() {
        let one = pair(0, 1.0, 0.25, 1.5, 0.4);
        // Of one probe: 2 √(0.25 + 0.25) = 1.414.
        assert!(agree(&one, &pair(0, 2.41, 0.25, 2.0, 0.4)) && agree(&one, &pair(0, -0.41, 0.25, 2.0, 0.4)));
        assert!(
            !agree(&one, &pair(0, 2.42, 0.25, 2.0, 0.4)) && !agree(&one, &pair(0, -0.42, 0.25, 2.0, 0.4))
        );
        // Of two: 2 √(0.5 + (1.5² + 2.5²) / 3) = 3.651.
        assert!(agree(&one, &pair(1, 4.65, 0.25, 2.5, 0.4)) && !agree(&one, &pair(1, 4.66, 0.25, 2.5, 0.4)));
        // The thickness moves one by 1.5 times its half width more: 2 √(0.5 + 1.5² / 3) = 2.236.
        assert!(agree(&one, &pair(0, 3.23, 0.25, 2.0, 1.9)) && !agree(&one, &pair(0, 3.24, 0.25, 2.0, 1.9)));
    }

    fn said(pairs: &[Pair]) -> (f32, f32, u32) {
        let found = fused(pairs.iter()).unwrap();
        (found.by, found.u, found.pairs)
    }

    fn is(found: (f32, f32, u32), by: f32, u: f32, pairs: u32) {
        assert!((found.0 - by).abs() < 1e-3 && (found.1 - u).abs() < 1e-3 && found.2 == pairs, "{found:?}");
    }

    #[test]
    fn a_mean_of_pairs_shares_the_thickness_and_of_one_probe_the_index_point() {
        let one = pair(0, 2.0, 0.5, 1.5, 0.6);
        // u² = own + index² / 3 + thickness² / 3 = 0.5 + 0.75 + 0.12.
        is(said(&[one]), 2.0, 2.0 * 1.170_47, 1);
        // Two probes: the first two parts are halved.
        let other = pair(1, 3.0, 0.5, 1.5, 0.6);
        is(said(&[one, other]), 2.5, 2.0 * 0.863_13, 2);
        // Twice one probe: 0.25 + 0.75 + 0.12.
        let again = pair(0, 3.0, 0.5, 1.5, 0.6);
        is(said(&[one, again]), 2.5, 2.0 * 1.058_30, 2);
        // Weights 1 / 1.25 and 1 / 5: (0.8 · 2 + 0.2 · 7) / 1, own 0.64 · 0.5 + 0.04 · 2, index 0.64 · 0.75 + 0.04 · 3,
        // thickness 0.8 · 0.6 + 0.2 · 1.1 = 0.7.
        let wide = pair(1, 7.0, 2.0, 3.0, 1.1);
        is(said(&[one, wide]), 3.0, 2.0 * 1.078_58, 2);
        assert_eq!(fused([].iter()), None);
    }

    #[test]
    fn pairs_that_agree_are_one_crossing_and_the_more_of_them_the_sooner() {
        // Each agrees with what is within 1 mm of it.
        let [far, one, other] = [8.0, 0.5, 0.5].map(|crossed| pair(0, crossed, 0.125, 1.0, 0.0));
        for listed in [[far, one, other], [one, far, other], [one, other, far]] {
            let found = together(listed.into_iter().collect());
            let told: std::vec::Vec<_> = found.iter().map(|crossing| (crossing.by, crossing.pairs)).collect();
            assert_eq!(told, [(0.5, 2), (8.0, 1)]);
        }
        // Of as many that agree the first; no more than three.
        let apart = [4.0, 2.0, 16.0, 8.0].map(|crossed| pair(0, crossed, 0.125, 1.0, 0.0));
        let found = together(apart.into_iter().collect());
        assert!(found.iter().map(|crossing| crossing.by).eq([4.0, 2.0, 16.0]));
        assert_eq!(together(Vec::new()).len(), 0);
    }

    #[test]
    fn a_crossing_is_too_wide_when_all_of_its_uncertainty_leaves_it_beyond_a_width() {
        let crossing = |by| Crossing { by, u: 1.0, pairs: 1 };
        assert!(!crossing(9.0).wider_than(8.0) && !crossing(8.5).wider_than(8.0));
        assert!(crossing(9.5).wider_than(8.0));
    }

    #[test]
    fn a_crossing_is_one_beyond_its_uncertainty() {
        let crossing = |by| Crossing { by, u: 1.0, pairs: 1 };
        assert!(crossing(1.1).crossed() && !crossing(1.1).apart());
        assert!(crossing(-1.1).apart() && !crossing(-1.1).crossed());
        for by in [1.0, 0.0, -1.0] {
            assert!(!crossing(by).crossed() && !crossing(by).apart());
        }
    }
}
