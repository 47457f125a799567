//! Whether the shape of the joint explains an indication: advice, which never takes it away.

use heapless::Vec;

use super::reading::seen;
use super::{ReadingFinding, evaluate, point_views};
use crate::entry::PointPeaked;
use crate::examination::{Facts, Pooled};
use crate::expected::{Feature, Off, Reflector, held, with_drawn};
use crate::joint::Joint;
use crate::views::{View, fuse};

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

/// Views held against one feature.
const VIEWS: usize = 64;

/// The feature of the joint that explains an indication, the nearest of several; none when there is no such feature.
///
/// The strongest view of each probe and side counts. Each must lie on the feature within its own uncertainty, and their
/// common distance from it - by least squares in which shared errors are shared - within that of all together, where a
/// stand-off read wrong no longer hides it. An indication with a tip is not explained: it has a height of its own.
#[must_use]
pub fn geometry(facts: &Facts<'_>, indication: u8) -> Option<Match> {
    let (_, joint) = facts.common().joint.as_ref()?;
    let tip = |point| matches!(point, PointPeaked::UpperTip | PointPeaked::LowerTip);
    if facts.readings_of(indication).any(|reading| tip(reading.point())) {
        return None;
    }
    let views = strongest_of_each(facts, &point_views(facts, indication));
    best(SOUND.into_iter().filter_map(|feature| {
        let mut offs: Vec<(u8, Off), VIEWS> = Vec::new();
        for view in &views {
            let finding = evaluate(facts, *view);
            let off = of_view(facts, joint, &finding, feature).filter(|off| off.distance() <= 1.0)?;
            offs.push((view.probe(), off)).ok()?;
        }
        together(feature, &offs)
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

/// All views' common distance from the feature.
fn together(feature: Feature, offs: &[(u8, Off)]) -> Option<Match> {
    let views = offs.iter().map(|(probe, off)| View {
        probe: *probe,
        y: off.beyond,
        z: None,
        at_face: false,
        of_y: off.of,
        of_z: Default::default(),
    });
    let fused = fuse(views)?;
    let worst = offs.iter().reduce(
        |held, other| {
            if other.1.distance() > held.1.distance() { other } else { held }
        },
    )?;
    let agree = fused.consistent() != Some(false);
    let distance = fused.y.abs() / with_drawn(fused.u_y * fused.u_y / 4.0);
    let reflector = worst.1.reflector;
    agree.then_some(Match { feature, reflector, distance, views: fused.views })
}

/// The nearest of those within the uncertainty.
fn best(matches: impl Iterator<Item = Match>) -> Option<Match> {
    let within = matches.filter(|found| found.distance <= 1.0);
    within.reduce(|held, other| if other.distance < held.distance { other } else { held })
}

/// The strongest view of each probe and side; where none of them has a level, every one.
fn strongest_of_each<'a>(facts: &Facts<'_>, views: &[Pooled<'a>]) -> Vec<Pooled<'a>, VIEWS> {
    let level = |view: Pooled<'_>| evaluate(facts, view).level.ok().map(|found| found.level.db.get());
    let stand = |view: Pooled<'_>| (view.probe(), view.side());
    let mut strongest = Vec::new();
    for view in views {
        let mut of_stand = views.iter().filter(|other| stand(**other) == stand(*view));
        if !of_stand.any(|other| level(*other) > level(*view)) {
            // There is room for every view.
            let _ = strongest.push(*view);
        }
    }
    strongest
}

fn of_view(facts: &Facts<'_>, joint: &Joint, view: &ReadingFinding<'_>, feature: Feature) -> Option<Off> {
    held(joint, &seen(facts, view)?, feature)
}
