//! Whether the shape of the joint explains an indication: advice, which never takes it away.

use super::point::{Candidate, Views};
use super::reading::seen;
use super::{Indication, ReadingFinding, evaluate};
use crate::evaluate::fusion::{View, fuse};
use crate::math;
use crate::part::joint::Joint;
use crate::planning::geometry_echoes::{Feature, Off, Reflector, held, with_drawn};
use crate::record::examination::{Facts, Pooled};

/// A feature of the joint that explains an indication, or a reading.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Match {
    /// The feature.
    pub feature: Feature,
    /// The reflector of it; for several views, that of the view that fits it least.
    pub reflector: Reflector,
    /// The distance of all views together, in units of the expanded uncertainty (k = 2).
    pub distance: f32,
    /// How many views were held against it.
    pub views: u32,
}

/// The features that a sound weld has.
const SOUND: [Feature; 4] = [Feature::Bead, Feature::Cap, Feature::Backing, Feature::Counterbore];

impl Indication<'_> {
    /// The feature of the joint that explains it, the nearest of several; none when there is no such feature.
    ///
    /// The strongest view of each probe and side counts. Each must lie on the feature within its own uncertainty, and their
    /// common distance from it - by least squares in which shared errors are shared - within that of all together, where a
    /// stand-off read wrong no longer hides it. An indication with a tip is not explained: it has a height of its own.
    #[must_use]
    #[inline(never)]
    pub fn geometry(self) -> Option<Match> {
        let (_, joint) = self.facts().common().joint.as_ref()?;
        self.tips().next().is_none().then_some(())?;
        let mut views = Views::new();
        self.echoes(&mut views)?;
        explained(self, joint, &views)
    }
}

fn explained(indication: Indication<'_>, joint: &Joint, views: &[Candidate<'_>]) -> Option<Match> {
    let (facts, chosen) = (indication.facts(), strongest_of_each(indication, views));
    best(SOUND.into_iter().filter_map(|feature| {
        let views = views.iter().zip(0u32..).filter(|(_, place)| chosen & (1 << place) != 0);
        let offs = views.map(|(view, _)| {
            let off = of_view(facts, joint, &evaluate(facts, view.reading), feature);
            off.filter(|off| off.distance() <= 1.0).map(|off| (view.reading.probe(), off))
        });
        offs.clone().all(|off| off.is_some()).then(|| together(feature, offs.flatten())).flatten()
    }))
}

/// The feature of the joint on which one reading lies within its uncertainty.
#[must_use]
pub fn geometry_of_reading(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> Option<Match> {
    let (_, joint) = facts.common().joint.as_ref()?;
    best(SOUND.into_iter().filter_map(|feature| {
        let off = of_view(facts, joint, finding, feature)?;
        Some(Match { feature, reflector: off.reflector, distance: off.distance(), views: 1 })
    }))
}

/// All views' common distance from the feature. They are worked out anew at each look: a device has no room for a list.
#[inline(never)]
fn together(feature: Feature, offs: impl Iterator<Item = (u8, Off)> + Clone) -> Option<Match> {
    let views = offs.clone().map(|(probe, off)| View {
        probe,
        y: off.beyond,
        z: None,
        at_face: false,
        of_y: off.of,
        of_z: Default::default(),
        of_radius: [0.0; 2],
    });
    let fused = fuse(views)?;
    let (_, worst) = math::largest_by(offs, |(_, off)| off.distance())?;
    let agree = fused.consistent() != Some(false);
    let distance = fused.y.abs() / with_drawn(fused.u_y * fused.u_y / 4.0);
    agree.then_some(Match { feature, reflector: worst.reflector, distance, views: fused.views })
}

/// The nearest of those within the uncertainty.
fn best(matches: impl Iterator<Item = Match>) -> Option<Match> {
    math::smallest_by(matches.filter(|found| found.distance <= 1.0), |found| found.distance)
}

/// The strongest view of each probe and side, as bits by their places; where none of them has a level, every one.
fn strongest_of_each(indication: Indication<'_>, views: &[Candidate<'_>]) -> u64 {
    let level = |view: Pooled<'_>| indication.heard(view).level.map(|(level, _)| level.db.get());
    let stand = |view: Pooled<'_>| (view.probe(), view.side());
    let mut strongest = 0;
    for (view, place) in views.iter().zip(0u32..64) {
        let view = view.reading;
        let mut of_stand =
            views.iter().map(|other| other.reading).filter(|other| stand(*other) == stand(view));
        if !of_stand.any(|other| level(other) > level(view)) {
            strongest |= 1 << place;
        }
    }
    strongest
}

fn of_view(facts: &Facts<'_>, joint: &Joint, view: &ReadingFinding<'_>, feature: Feature) -> Option<Off> {
    held(joint, &seen(facts, view)?, feature)
}
