//! Echoes from inside that lie at one place, whichever probe, side or leg saw them.

use heapless::Vec;

use super::echo::{ECHOES, Echo, thickness};
use crate::math;
use crate::part::locate::EXPANDED;
use crate::record::examination::Facts;

/// Places inside that are told apart.
pub(super) const GROUPS: usize = 4;

/// One place inside.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Group {
    /// Across the weld, mm, and its expanded uncertainty.
    pub y: f32,
    pub u_y: f32,
    /// Below the near face, mm, and its expanded uncertainty.
    pub z: f32,
    pub u_z: f32,
    /// How many probes, sides and faces saw it.
    pub stands: u32,
    /// Whether it was seen from both sides of the weld.
    pub both_sides: bool,
    /// Whether a first leg saw it.
    pub direct: bool,
}

/// Depth and its uncertainty with the thickness of the legs in it.
fn depth(facts: &Facts<'_>, echo: &Echo<'_>) -> Option<(f32, f32)> {
    let z = echo.site.inside()?;
    let t = thickness(facts, echo.reading)?;
    // z = u − (n − 1) t on odd legs, n t − u on even ones
    let leg = math::larger(math::ceil(echo.depth / t), 1.0);
    let thicknesses = if leg as u32 % 2 == 1 { leg - 1.0 } else { leg };
    let of_thickness = thicknesses * EXPANDED * facts.common().budget.thickness.get();
    let u_z = math::sqrt(echo.u_depth * echo.u_depth + of_thickness * of_thickness)?;
    Some((z, u_z))
}

/// Whether two echoes lie at one place: both coordinates within their uncertainties.
fn together(facts: &Facts<'_>, one: &Echo<'_>, other: &Echo<'_>) -> bool {
    let (Some((z_1, u_1)), Some((z_2, u_2))) = (depth(facts, one), depth(facts, other)) else { return false };
    let within = |off: f32, u_1: f32, u_2: f32| off * off <= u_1 * u_1 + u_2 * u_2;
    within(one.y - other.y, one.u_y, other.u_y) && within(z_1 - z_2, u_1, u_2)
}

/// Gathers the echoes from inside into places, the one that most stands saw first, and marks each echo with its place.
pub(super) fn group<'a>(facts: &Facts<'a>, echoes: &mut Vec<Echo<'a>, ECHOES>) -> Vec<Group, GROUPS> {
    let mut groups = Vec::new();
    while !groups.is_full() {
        let free = |echo: &&Echo<'a>| echo.group.is_none() && echo.site.inside().is_some();
        // Of those that as many stands agree with, the strongest.
        let candidates = echoes.iter().filter(free).map(|candidate| {
            let members = echoes.iter().filter(free).filter(|echo| together(facts, candidate, echo));
            (stands(members), candidate)
        });
        let seed = math::largest_by(candidates, |(stands, candidate)| (*stands, candidate.strength));
        let Some(seed) = seed.map(|(_, seed)| *seed) else { break };
        let number = groups.len() as u8;
        for echo in echoes.iter_mut() {
            if echo.group.is_none() && together(facts, &seed, echo) {
                echo.group = Some(number);
            }
        }
        let Some(group) = mean(facts, echoes.iter().filter(|echo| echo.group == Some(number))) else { break };
        // There is room: it was looked for above.
        let _ = groups.push(group);
    }
    groups
}

/// How many different probes, sides and faces saw these echoes.
pub(super) fn stands<'e, 'a: 'e>(echoes: impl Iterator<Item = &'e Echo<'a>> + Clone) -> u32 {
    let firsts = echoes
        .clone()
        .enumerate()
        .filter(|(place, echo)| !echoes.clone().take(*place).any(|earlier| earlier.same_stand(echo)));
    firsts.count() as u32
}

/// The mean place, weighted by 1 / U²; its uncertainty is the least of its members', since most errors are shared.
fn mean<'e, 'a: 'e>(facts: &Facts<'a>, echoes: impl Iterator<Item = &'e Echo<'a>> + Clone) -> Option<Group> {
    let (mut y, mut z, mut weight_y, mut weight_z) = (0.0f32, 0.0f32, 0.0f32, 0.0f32);
    let (mut u_y, mut u_z) = (f32::INFINITY, f32::INFINITY);
    for echo in echoes.clone() {
        let (depth, u_depth) = depth(facts, echo)?;
        // A micrometre keeps the weight finite where a half width was given as 0.
        let weigh = |u: f32| 1.0 / (u * u + 1e-6);
        (y, weight_y) = (y + weigh(echo.u_y) * echo.y, weight_y + weigh(echo.u_y));
        (z, weight_z) = (z + weigh(u_depth) * depth, weight_z + weigh(u_depth));
        (u_y, u_z) = (math::smaller(u_y, echo.u_y), math::smaller(u_z, u_depth));
    }
    let first = echoes.clone().next()?;
    Some(Group {
        y: y / weight_y,
        u_y,
        z: z / weight_z,
        u_z,
        stands: stands(echoes.clone()),
        both_sides: echoes.clone().any(|echo| echo.side() != first.side()),
        direct: echoes.clone().any(|echo| echo.leg == 1),
    })
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{echo, inside, job};
    use super::*;
    use crate::part::side::Side;

    #[test]
    fn an_echo_belongs_to_the_first_place_that_it_fits() {
        let job = job([45.0, 60.0]);
        let facts = job.facts();
        // Known to 2.2 mm each, so that those within 3.1 mm are at one place: the two in the middle with three each.
        let at = |probe, side, y, strength| {
            let echo = inside(echo(&facts, probe, side), y, 10.0, strength);
            Echo { u_y: 2.2, u_depth: 2.2, ..echo }
        };
        let mut echoes = Vec::new();
        echoes.extend([
            at(0, Side::A, -3.0, 9.0),
            at(0, Side::B, 0.0, 1.0),
            at(1, Side::A, 3.0, 0.0),
            at(1, Side::B, 6.0, 9.0),
        ]);
        let groups = group(&facts, &mut echoes);
        assert!(groups.iter().map(|group| group.stands).eq([3, 1]));
        assert!(echoes.iter().map(|echo| echo.group).eq([Some(0), Some(0), Some(0), Some(1)]));
        assert!(groups.iter().map(|group| group.both_sides).eq([true, false]));
    }
}
