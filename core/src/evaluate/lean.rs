//! What a lean does to the height of a flaw whose corner and tip were seen together.
//!
//! Such a tip lies on the arc of its path about the probe; only a flaw that is upright puts it over its corner. With d the
//! tip's way across from over the corner: h(d) ≈ h(0) ± d X / u. From one side d = 0 ± h tan φ; from both, or with a
//! tip peaked by itself, the views tell d and h as one point, in a few steps of least squares, since the arcs are bent.
//! Source: plain geometry, and \[R3\] for the uncertainty.

use super::evaluate;
use super::height::{HeightMethod, HeightObservation};
use crate::evaluate::fusion::{Fused, View, fuse};
use crate::math;
use crate::part::side::Side;
use crate::record::examination::Facts;

/// The tip's way across the weld from over its corner.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Lean {
    /// mm, positive toward side B.
    pub across: f32,
    /// Expanded uncertainty, k = 2.
    pub uncertainty: f32,
}

impl Lean {
    /// Whether it is more than its uncertainty.
    #[must_use]
    pub fn is_told(&self) -> bool {
        self.across.abs() > self.uncertainty
    }
}

/// The height of a leaning flaw.
pub(super) struct Leaning {
    /// Its height for y, and how well its views agree.
    pub(super) fused: Fused,
    /// Its lean; none where only an upright one explains one side's echoes.
    pub(super) lean: Option<Lean>,
}

/// What a tip seen alone says of the way across: nothing, so that this half width, mm, is none of the result's.
const ANYWHERE: f32 = 100.0;

/// Steps from arc to arc; each leaves less than a tenth of what was off.
const STEPS: u32 = 4;

/// How far a tip is moved to see how its height follows, mm.
const STEP: f32 = 0.1;

/// The change of height per millimetre across of a tip seen with its corner, at `across` from over it.
pub(super) fn slope(facts: &Facts<'_>, observation: &HeightObservation<'_>, across: f32) -> Option<f32> {
    let height = |across: f32| Some(observation.moved(facts, across)?.height);
    // To both ways alike, so that what is mirrored has the mirrored height.
    Some((height(across + STEP)? - height(across - STEP)?) / (2.0 * STEP))
}

/// The height as one point of all observations, where corner and tip were seen together in some of them; none else.
#[inline(never)]
pub(super) fn leaning(facts: &Facts<'_>, observations: &[HeightObservation<'_>]) -> Option<Leaning> {
    let together = observations.iter().filter(|one| one.method == HeightMethod::SeenTogether);
    let apart = observations.iter().filter(|one| one.method == HeightMethod::PeakedApart).count() as u32;
    let seen = together.clone().count() as u32;
    let from = |side: Side| together.clone().any(|one| one.tip.side() == side);
    let one_side = apart == 0 && !(from(Side::A) && from(Side::B));
    let highest = together.clone().map(|one| one.height.height.abs()).reduce(math::larger)?;
    // From one side it is upright within the lean that is taken.
    let lean = facts.common().lean.get();
    let (sin, cos) = math::sin_cos(lean);
    let upright = one_side.then_some(View {
        probe: u8::MAX,
        y: 0.0,
        z: Some(highest),
        at_face: false,
        of_y: [0.0, 0.0, 0.0, 0.0, highest * sin / cos, 0.0, 0.0],
        of_z: [0.0, 0.0, 0.0, 0.0, 0.0, ANYWHERE, 0.0],
        of_radius: [0.0; 2],
    });
    let starts = together.clone().map(|one| one.starts);
    let mut across = math::largest_by(starts, |starts| starts.abs())?;
    if one_side && across != 0.0 {
        return None;
    }
    let mut found: Option<Fused> = None;
    for _ in 0..STEPS {
        let views = observations.iter().map(|one| view(facts, one, across));
        if views.clone().any(|view| view.is_none()) {
            break;
        }
        let fused = fuse(views.flatten().chain(upright))?;
        across = fused.y;
        found = Some(fused);
    }
    let fused = found?;
    let (height, u_height) = (fused.z?, fused.u_z?);
    let told = seen.saturating_add(apart.saturating_mul(2)).saturating_add(u32::from(one_side));
    Some(Leaning {
        fused: Fused {
            y: height,
            u_y: u_height,
            views: observations.len() as u32,
            degrees_of_freedom: told.saturating_sub(2),
            ..fused
        },
        lean: (!one_side).then_some(Lean { across: fused.y, uncertainty: fused.u_y }),
    })
}

/// One observation as a view of the tip, its y counted from over the corner and its z the height.
fn view(facts: &Facts<'_>, one: &HeightObservation<'_>, across: f32) -> Option<View> {
    let finding = evaluate(facts, one.tip);
    let (y, height, of_y) = if one.method == HeightMethod::SeenTogether {
        let mut of_y = [0.0; 7];
        if let Some(along_the_arc) = of_y.get_mut(4) {
            *along_the_arc = ANYWHERE;
        }
        (across, one.moved(facts, across)?, of_y)
    } else {
        (one.across, one.height, finding.contributions(&finding.place.ok()?.y_partials))
    };
    let mut of_z = finding.contributions(&height.partials);
    if let (Some(along_the_arc), HeightMethod::SeenTogether) = (of_z.get_mut(4), one.method) {
        *along_the_arc += slope(facts, one, across)? * ANYWHERE;
    }
    let probe = one.tip.probe();
    Some(View { probe, y, z: Some(height.height), at_face: false, of_y, of_z, of_radius: [0.0; 2] })
}
