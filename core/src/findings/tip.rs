//! Height from the tips of an indication.

use heapless::Vec;

use super::point::is_peak;
use super::{Point, evaluate, point};
use crate::evaluate::fusion::{Fused, View, fuse};
use crate::evaluate::sizing::height::{BrokenFace, Height, between_tips, from_face};
use crate::math;
use crate::part::locate::Budget;
use crate::part::path::Plate;
use crate::part::side::Face;
use crate::record::entry::PointPeaked;
use crate::record::examination::{Facts, Pooled};

/// Heights of one indication that can be fused.
const HEIGHTS: usize = 32;

/// How a height was come by.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum HeightMethod {
    /// Corner and tip seen together at one probe position: exact triangle.
    SeenTogether,
    /// Corner and tip peaked apart: the tip on the beam's axis.
    PeakedApart,
    /// Two tips of a buried flaw.
    BetweenTips,
}

/// One height, by one probe from one side.
#[derive(Clone, Copy)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct HeightObservation<'a> {
    /// How it was come by.
    pub method: HeightMethod,
    /// The height and its partials.
    pub height: Height,
    /// The uncertainty budget that holds for it.
    pub budget: Budget,
    /// The tip's reading; the upper one of two.
    pub tip: Pooled<'a>,
    /// The lower tip of two.
    pub lower: Option<Pooled<'a>>,
}

impl HeightObservation<'_> {
    /// Expanded uncertainty, k = 2.
    #[must_use]
    pub fn uncertainty(&self) -> f32 {
        self.height.uncertainty(&self.budget)
    }
}

/// The height of an indication, fused over its observations.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct HeightFinding {
    /// mm; no height of the indication where its observations [disagree](Self::disagrees).
    pub height: f32,
    /// Expanded uncertainty, k = 2.
    pub uncertainty: f32,
    /// How many observations it rests on.
    pub observations: u32,
    /// Whether they agree (χ² test at 95 %); none of one.
    pub consistent: Option<bool>,
    /// The lowest of them, mm.
    pub lowest: f32,
    /// The highest of them, mm.
    pub highest: f32,
}

impl HeightFinding {
    /// Whether the observations are farther apart than their uncertainty explains. What fits them best is then told by none
    /// of them, and may lie outside them all: errors that they share go with different weights into each.
    #[must_use]
    pub const fn disagrees(&self) -> bool {
        matches!(self.consistent, Some(false))
    }
}

/// Every height that the tips of an indication give.
///
/// With a corner among the views the flaw breaks that face and each tip gives a height of its own. Without one it is
/// buried, and the lower and upper tip of one probe and side make a pair.
#[must_use]
#[inline(never)]
pub fn height_observations<'a>(
    facts: &Facts<'a>,
    indication: u8,
    point: Option<&Point>,
) -> Vec<HeightObservation<'a>, HEIGHTS> {
    let mut found = Vec::new();
    observe(facts, indication, point, &mut found);
    found
}

/// The tips of an indication.
pub(super) fn tips<'a>(
    facts: &Facts<'a>,
    indication: u8,
) -> impl Iterator<Item = Pooled<'a>> + Clone + use<'a> {
    facts
        .readings_of(indication)
        .filter(|reading| matches!(reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip))
}

/// Every height, put into its list: one that long is not moved about on the stack of a device.
#[inline(never)]
fn observe<'a>(
    facts: &Facts<'a>,
    indication: u8,
    point: Option<&Point>,
    found: &mut Vec<HeightObservation<'a>, HEIGHTS>,
) {
    let corner_at = point.and_then(|point| point.corner_at);
    let tips = tips(facts, indication);
    // A tip that was not seen has no place, and the flank of a series is no tip.
    let placed = |reading| {
        let finding = evaluate(facts, reading);
        let peaked = !finding.unseen() && is_peak(facts, &finding);
        finding.place.ok().filter(|_| peaked).map(|place| (place, finding.budget))
    };
    for tip in tips.clone() {
        let Some((place, budget)) = placed(tip) else { continue };
        let observation = match corner_at {
            Some(face) => {
                let Some(plate) = plate(facts, tip) else { continue };
                let face = if face == Face::Near { BrokenFace::Near } else { BrokenFace::Far };
                let together = tip.together() > 0;
                let method = if together { HeightMethod::SeenTogether } else { HeightMethod::PeakedApart };
                HeightObservation {
                    method,
                    height: from_face(face, &plate, &place),
                    budget,
                    tip,
                    lower: None,
                }
            }
            None if tip.point() == PointPeaked::UpperTip => {
                let stand = |reading: Pooled<'_>| {
                    (reading.probe(), reading.side(), reading.face(), reading.together())
                };
                let pairs = tips.clone().filter_map(|other| {
                    let pair = other.point() == PointPeaked::LowerTip && stand(other) == stand(tip);
                    let (below, _) = pair.then(|| placed(other)).flatten()?;
                    let (method, height) = (HeightMethod::BetweenTips, between_tips(&place, &below));
                    Some(HeightObservation { method, height, budget, tip, lower: Some(other) })
                });
                // Of several lower tips, as in several legs, the one that tells the height best.
                let Some(pair) = math::smallest_by(pairs, HeightObservation::uncertainty) else { continue };
                pair
            }
            None => continue,
        };
        if found.push(observation).is_err() {
            break;
        }
    }
}

fn plate(facts: &Facts<'_>, tip: Pooled<'_>) -> Option<Plate> {
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.spec().thickness);
    Plate::new(tip.thickness().or(joint)?).ok()
}

/// The height of an indication; none without tips that give one.
#[must_use]
pub fn height(facts: &Facts<'_>, indication: u8) -> Option<HeightFinding> {
    tips(facts, indication).next()?;
    height_by(facts, indication, point(facts, indication).as_ref())
}

/// The same by the point that is known already.
#[inline(never)]
pub(super) fn height_by(facts: &Facts<'_>, indication: u8, point: Option<&Point>) -> Option<HeightFinding> {
    tips(facts, indication).next()?;
    let mut observations = Vec::new();
    observe(facts, indication, point, &mut observations);
    height_of(facts, &observations)
}

/// The height that [observations](height_observations) amount to; none of no observation.
#[must_use]
pub fn height_of(facts: &Facts<'_>, observations: &[HeightObservation<'_>]) -> Option<HeightFinding> {
    let views = observations.iter().map(|observation| View {
        probe: observation.tip.probe(),
        y: observation.height.height,
        z: None,
        at_face: false,
        of_y: evaluate(facts, observation.tip).contributions(&observation.height.partials),
        of_z: [0.0; 7],
    });
    let fused: Fused = fuse(views)?;
    let heights = observations.iter().map(|observation| observation.height.height);
    Some(HeightFinding {
        height: fused.y,
        uncertainty: fused.u_y,
        observations: fused.views,
        consistent: fused.consistent(),
        lowest: heights.clone().reduce(math::smaller)?,
        highest: heights.reduce(math::larger)?,
    })
}
