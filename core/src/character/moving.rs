//! What the moving series look like: the class of echo dynamics, and how the echo behaves along, swivelled and led
//! around.

use core::mem;

use super::case::{Case, Notes};
use super::echo::{Echo, Look};
use super::evidence::{Fact, Pattern, PatternSeen, Says};
use super::run::Members;
use super::series::{Profile, profile};
use crate::math;
use crate::record::entry::{Steadiness, Sweep};
use crate::record::examination::Facts;

/// The look of one series.
#[derive(Clone, Copy)]
pub(super) enum Moved {
    Across(PatternSeen),
    Along { profile: Profile, abrupt: bool },
    Turned { orbit: bool, profile: Profile },
}

/// How much wider than a point's an echo is to count as extended. Common practice, no source.
const WIDER: f32 = 1.6;
/// Echoes so far under the strongest still count for a cluster, dB. Common practice, no source.
const CLUSTER: f32 = 12.0;
/// So many of them are several. Common practice, no source.
const SEVERAL: u32 = 3;
/// The deepest valley of a plateau that is smooth, dB. Common practice, no source.
const RIPPLE: f32 = 6.0;
/// Led around, an echo that is 6 dB down within this is that of a plane, deg; one that is not within the other, swivelled
/// or led around, is that of a body. Common practice, no source.
const FALLS_WITHIN: f32 = 20.0;
const STAYS_OVER: f32 = 40.0;
/// A flank is abrupt when it falls at least so many times as fast as a beam of a point does. Common practice, no source.
const ABRUPT: f32 = 2.0;

/// The look of one run, whose echoes are `own`.
pub(super) fn moved<'e, 'a: 'e, const N: usize>(
    facts: &Facts<'a>,
    members: &Members<'a, N>,
    own: impl Iterator<Item = &'e Echo<'a>> + Clone,
) -> Option<Moved> {
    let whole = || profile(members.all().iter().map(|member| member.step()));
    match members.run().sweep {
        Sweep::Across => pattern(own).map(Moved::Across),
        Sweep::Swivel => whole().map(|profile| Moved::Turned { orbit: false, profile }),
        Sweep::Orbit => whole().map(|profile| Moved::Turned { orbit: true, profile }),
        Sweep::Along => {
            let profile = whole()?;
            let echo = own.clone().next();
            let width = echo.and_then(|echo| across_width(facts, echo));
            // A beam of 6 dB width w falls from 3 to 12 dB within w (1 − 1/√2) / √2: 9 dB in 0.354 w, as a Gaussian.
            let rate = width.map(|width| 9.0 / (0.354 * width));
            let sharp =
                |flank: Option<f32>| flank.zip(rate).is_some_and(|(flank, rate)| flank >= ABRUPT * rate);
            Some(Moved::Along { profile, abrupt: sharp(profile.rise) && sharp(profile.fall) })
        }
    }
}

/// The 6 dB width of the beam across the plane of incidence at an echo, mm.
fn across_width(facts: &Facts<'_>, echo: &Echo<'_>) -> Option<f32> {
    use crate::physics::beam::{EdgeDrop, edges};
    let state = facts.probe(echo.probe())?;
    let shear = super::beamwidth::shear(facts, state)?;
    let (probe, axis) = (state.probe()?, state.axis()?);
    let half = edges(axis.angle(), probe, shear, EdgeDrop::PULSE_ECHO_6).ok()?.across?;
    let spread = 2.0 * echo.path * math::tan(half.get());
    let element = probe.element().across().get() / 2.0;
    math::sqrt(spread * spread + element * element)
}

/// The class of a run across, from its strongest echo and those beside it in the same leg.
fn pattern<'e, 'a: 'e>(own: impl Iterator<Item = &'e Echo<'a>> + Clone) -> Option<PatternSeen> {
    let main = math::largest_by(own.clone(), |echo| echo.strength)?;
    let (look, beam) = (main.look?, main.beam?.most()?);
    let beside = || {
        own.clone().filter(|echo| {
            echo.strength >= main.strength - CLUSTER && echo.leg == main.leg && echo.site.face().is_none()
        })
    };
    let echoes = math::larger(beside().count() as f32, 1.0) as u32;
    let width = look.width;
    let extended = width >= WIDER * beam;
    let pattern = if echoes >= SEVERAL {
        if in_line(beside().map(|echo| (echo.y, echo.depth))) {
            Pattern::RoughTravelling
        } else {
            Pattern::Cluster
        }
    } else if look.high_peaks > 1 && extended {
        Pattern::RoughNormal
    } else if extended && look.deepest <= RIPPLE {
        Pattern::SmoothExtended
    } else if !extended && !look.open {
        Pattern::Point
    } else {
        return None;
    };
    let (angle, side) = (main.angle, main.side());
    let Look { high_peaks, deepest, .. } = look;
    let (high_peaks, rise, fall) = (u32::from(high_peaks), look.rise.get(), look.fall.get());
    // A fixed point's path grows by the sine of the ray's angle.
    let walk = look.slope.get().map(|slope| (slope, math::sin_cos(angle).0));
    Some(PatternSeen { pattern, angle, side, width, beam, high_peaks, deepest, rise, fall, walk, echoes })
}

/// Whether places lie along one line: facets of one face, not a cluster. Their scatter about it is at most a quarter of
/// their extent.
fn in_line(places: impl Iterator<Item = (f32, f32)> + Clone) -> bool {
    let (mut count, mut mean_y, mut mean_z) = (0.0f32, 0.0f32, 0.0f32);
    for (y, z) in places.clone() {
        count += 1.0;
        mean_y += (y - mean_y) / count;
        mean_z += (z - mean_z) / count;
    }
    let off = places.map(|(y, z)| (y - mean_y, z - mean_z));
    let moment = |of: fn((f32, f32)) -> f32| -> f32 { off.clone().map(of).sum() };
    let (yy, yz, zz) = (moment(|(y, _)| y * y), moment(|(y, z)| y * z), moment(|(_, z)| z * z));
    // Principal moments of the 2 × 2 scatter.
    let (mean, half) = ((yy + zz) / 2.0, (yy - zz) / 2.0);
    let Some(root) = math::sqrt(half * half + yz * yz) else { return false };
    let (most, least) = (mean + root, mean - root);
    most > 0.0 && least <= most / 16.0
}

/// What the series say.
#[inline(never)]
pub(super) fn note(case: &Case<'_>, inside: bool, notes: &mut Notes) {
    // Runs of one kind of look count once.
    let once = |counted: &mut bool, planar: i8| if mem::replace(counted, true) { 0 } else { planar };
    let (mut smooth, mut cluster) = (false, false);
    for moved in &case.moved {
        match *moved {
            Moved::Across(seen) => {
                let planar = match seen.pattern {
                    _ if !inside => 0,
                    Pattern::Point => 0,
                    Pattern::SmoothExtended | Pattern::RoughNormal | Pattern::RoughTravelling => {
                        once(&mut smooth, 1)
                    }
                    Pattern::Cluster => once(&mut cluster, -1),
                };
                notes.add(Fact::Series(seen), Says::planar(planar));
            }
            Moved::Along { profile, abrupt } => {
                let fact = Fact::Along { peaks: profile.peaks, abrupt, deepest: profile.deepest };
                notes.add(fact, Says::planar(abrupt.into()));
            }
            Moved::Turned { orbit, profile } => {
                let (width, open) = (profile.width_6.get(), profile.width_6.open());
                // Led around, the echo of a plane falls with the angle; that of a body stays. Swivelled, the beam also
                // leaves the reflector, so that only an echo which stays says something.
                let planar = match (orbit, open) {
                    (true, false) if width <= FALLS_WITHIN => 1,
                    (_, _) if width >= STAYS_OVER => -1,
                    _ => 0,
                };
                let fact = Fact::Turned { orbit, width, open, peaks: profile.peaks };
                notes.add(fact, Says::planar(planar));
            }
        }
    }
    for (orbit, seen) in [(false, case.observed.swivel), (true, case.observed.orbit)] {
        let Some(seen) = seen else { continue };
        let planar = match (orbit, seen) {
            (_, Steadiness::Steady) => -1,
            (true, Steadiness::Smooth) => 1,
            _ => 0,
        };
        notes.add(Fact::TurnObserved { orbit, seen }, Says::planar(planar));
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{case, job, noted};
    use super::*;
    use crate::part::side::Side;

    #[test]
    fn series_of_one_kind_count_once_and_only_inside() {
        use Pattern::{Cluster, Point, RoughNormal, SmoothExtended};
        let job = job([45.0]);
        let facts = job.facts();
        let mut case = case(&facts, &[], &[]);
        case.moved.extend([Point, SmoothExtended, Cluster, RoughNormal, Cluster].map(|pattern| {
            let (angle, side, walk) = (45.0, Side::A, None);
            let (width, beam, high_peaks, deepest, rise, fall, echoes) = (9.0, 8.0, 1, 0.0, None, None, 1);
            let seen = PatternSeen {
                pattern,
                angle,
                side,
                width,
                beam,
                high_peaks,
                deepest,
                rise,
                fall,
                walk,
                echoes,
            };
            Moved::Across(seen)
        }));
        let said = |inside| {
            let list = noted(|notes| note(&case, inside, notes));
            list.iter().map(|evidence| evidence.says.planar).collect::<std::vec::Vec<_>>()
        };
        assert_eq!((said(true), said(false)), (std::vec![0, 1, -1, 0, 0], std::vec![0; 5]));
    }

    #[test]
    fn places_that_scatter_by_a_quarter_of_their_extent_lie_in_line_however_that_is_turned() {
        for turned in [0.0f32, 30.0, 45.0, 90.0, 140.0] {
            let (sin, cos) = math::sin_cos(turned);
            // Scatter 2 · half², extent 2 · 4².
            let told = |half: f32| {
                let places = [(-4.0, 0.0), (4.0, 0.0), (0.0, -half), (0.0, half)];
                in_line(places.into_iter().map(|(y, z)| (10.0 + y * cos - z * sin, 20.0 + y * sin + z * cos)))
            };
            assert!(told(0.99) && !told(1.01), "{turned}");
        }
        assert!(!in_line([(1.0, 2.0); 3].into_iter()) && !in_line([].into_iter()));
    }
}
