//! Height from the tips of an indication.

use heapless::Vec;

use super::lean::{Lean, leaning, slope};
use super::point::is_peak;
use super::reading::tip_moved;
use super::{Indication, Point, evaluate};
use crate::evaluate::fusion::{View, fuse};
use crate::evaluate::sizing::height::{BrokenFace, Height, between_tips, from_face};
use crate::math;
use crate::part::locate::{Budget, EXPANDED, Place};
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
    /// The face that it is measured from; none between two tips.
    pub(super) from: Option<(BrokenFace, Plate)>,
    /// The tip's y from that of the indication, mm.
    pub(super) across: f32,
    /// What the lean taken moves it by, mm: half width; 0 of what was not seen together with its corner.
    pub lean: f32,
    /// The way across from over its corner at which its path first gives it a place, mm; 0 where it may be upright.
    pub(super) starts: f32,
}

impl HeightObservation<'_> {
    /// Expanded uncertainty, k = 2, as of one side alone.
    #[must_use]
    pub fn uncertainty(&self) -> f32 {
        let (upright, lean) = (self.height.uncertainty(&self.budget), self.lean * EXPANDED);
        if lean == 0.0 { upright } else { math::sqrt(upright * upright + lean * lean).unwrap_or(upright) }
    }

    /// The height, if the tip lies so far across from over its corner.
    pub(super) fn moved(&self, facts: &Facts<'_>, across: f32) -> Option<Height> {
        let (face, plate) = self.from.as_ref()?;
        Some(from_face(*face, plate, &tip_moved(facts, self.tip, across)?))
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
    /// How far the tip lies across from over the corner, where the observations tell.
    pub lean: Option<Lean>,
    /// It holds of a flaw that leans no more than is taken: corner and tip were seen together from one side alone.
    pub if_upright: bool,
}

impl HeightFinding {
    /// Whether the observations are farther apart than their uncertainty explains. What fits them best is then told by none
    /// of them, and may lie outside them all: errors that they share go with different weights into each.
    #[must_use]
    pub const fn disagrees(&self) -> bool {
        matches!(self.consistent, Some(false))
    }
}

/// Every height, put into its list: one that long is not moved about on the stack of a device.
#[inline(never)]
fn observe<'a>(
    indication: Indication<'a>,
    point: Option<&Point>,
    found: &mut Vec<HeightObservation<'a>, HEIGHTS>,
) {
    let facts = indication.facts();
    let corner_at = point.and_then(|point| point.corner_at);
    let tips = indication.tips();
    // A tip that was not seen has no place, and the flank of a series is no tip.
    let placed = |reading| {
        let finding = evaluate(facts, reading);
        let peaked = !finding.unseen() && is_peak(indication, reading);
        finding.place.ok().filter(|_| peaked).map(|place| (place, finding.budget))
    };
    // The path of a tip that leans toward its probe may be too short for one over its corner.
    let leaning = |reading: Pooled<'a>| {
        let finding = evaluate(facts, reading);
        let tied = corner_at.is_some() && reading.together() > 0 && !finding.unseen();
        let (starts, place) = tied.then(|| nearest(facts, reading)).flatten()?;
        Some((starts, place, finding.budget))
    };
    for tip in tips.clone() {
        let upright = placed(tip).map(|(place, budget)| (0.0, place, budget));
        let Some((starts, place, budget)) = upright.or_else(|| leaning(tip)) else { continue };
        let observation = match corner_at {
            Some(face) => {
                let Some(plate) = plate(facts, tip) else { continue };
                let face = if face == Face::Near { BrokenFace::Near } else { BrokenFace::Far };
                let together = tip.together() > 0;
                let method = if together { HeightMethod::SeenTogether } else { HeightMethod::PeakedApart };
                let mut observation = HeightObservation {
                    method,
                    height: from_face(face, &plate, &place),
                    budget,
                    tip,
                    lower: None,
                    from: Some((face, plate)),
                    across: place.y.get() - point.map_or(0.0, |point| point.y),
                    lean: 0.0,
                    starts,
                };
                if together {
                    let (sin, cos) = math::sin_cos(facts.common().lean.get());
                    let per_mm = slope(facts, &observation, starts).unwrap_or(0.0);
                    observation.lean = (per_mm * observation.height.height).abs() * sin / cos;
                }
                observation
            }
            None if tip.point() == PointPeaked::UpperTip => {
                let stand = |reading: Pooled<'_>| {
                    (reading.probe(), reading.side(), reading.face(), reading.together())
                };
                let pairs = tips.clone().filter_map(|other| {
                    let pair = other.point() == PointPeaked::LowerTip && stand(other) == stand(tip);
                    let (below, _) = pair.then(|| placed(other)).flatten()?;
                    let (method, height) = (HeightMethod::BetweenTips, between_tips(&place, &below));
                    let (from, across, lean, starts) = (None, 0.0, 0.0, 0.0);
                    let lower = Some(other);
                    Some(HeightObservation { method, height, budget, tip, lower, from, across, lean, starts })
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

/// Where the path of a tied tip first gives it a place, toward the probe from over its corner in twentieths of the
/// thickness: how far, and the place.
fn nearest(facts: &Facts<'_>, tip: Pooled<'_>) -> Option<(f32, Place)> {
    let step = plate(facts, tip)?.thickness() / 20.0;
    (1u8..=8).find_map(|count| {
        let starts = -tip.side().signed(step * f32::from(count));
        Some((starts, tip_moved(facts, tip, starts)?))
    })
}

fn plate(facts: &Facts<'_>, tip: Pooled<'_>) -> Option<Plate> {
    Plate::new(facts.thickness_of(tip)?).ok()
}

impl<'a> Indication<'a> {
    /// Its tips.
    pub(super) fn tips(self) -> impl Iterator<Item = Pooled<'a>> + Clone {
        self.readings()
            .filter(|reading| matches!(reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip))
    }

    /// Every height that its tips give, by its [`place`](Self::place).
    ///
    /// With a corner among the views the flaw breaks that face and each tip gives a height of its own. Without one it is
    /// buried, and the lower and upper tip of one probe and side make a pair.
    #[must_use]
    #[inline(never)]
    pub fn heights(self, place: Option<&Point>) -> Vec<HeightObservation<'a>, HEIGHTS> {
        let mut found = Vec::new();
        observe(self, place, &mut found);
        found
    }

    /// Its height, by its [`place`](Self::place); none without tips that give one.
    #[must_use]
    #[inline(never)]
    pub fn height(self, place: Option<&Point>) -> Option<HeightFinding> {
        self.tips().next()?;
        let mut observations = Vec::new();
        observe(self, place, &mut observations);
        height_of(self.facts(), &observations)
    }
}

/// The height that [observations](Indication::heights) amount to; none of no observation.
#[must_use]
pub fn height_of(facts: &Facts<'_>, observations: &[HeightObservation<'_>]) -> Option<HeightFinding> {
    let views = observations.iter().map(|observation| View {
        probe: observation.tip.probe(),
        y: observation.height.height,
        z: None,
        at_face: false,
        of_y: evaluate(facts, observation.tip).contributions(&observation.height.partials),
        of_z: [0.0; 7],
        of_radius: [0.0; 2],
    });
    let leaning = leaning(facts, observations);
    if leaning.is_none() && observations.iter().any(|one| one.starts != 0.0) {
        return None;
    }
    let if_upright = leaning.as_ref().is_some_and(|found| found.lean.is_none());
    let lean = leaning.as_ref().and_then(|found| found.lean);
    let fused = leaning.map(|found| found.fused).or_else(|| fuse(views))?;
    let heights = observations.iter().map(|observation| observation.height.height);
    Some(HeightFinding {
        height: fused.y,
        uncertainty: fused.u_y,
        observations: fused.views,
        consistent: fused.consistent(),
        lowest: heights.clone().reduce(math::smaller)?,
        highest: heights.reduce(math::larger)?,
        lean,
        if_upright,
    })
}
