//! What would settle the question: the readings that are missing.

use core::fmt;

use heapless::Vec;

use super::case::Case;
use super::direction::APART;
use super::evidence::Fact;
use super::told::{FaceWord, SideWord};
use super::{Breaks, Root};
use crate::math;
use crate::part::side::{Face, Side};
use crate::record::entry::Sweep;
use crate::record::examination::ProbeState;
use crate::units::decimal::Fixed;

/// Suggestions that one indication can have.
pub const SUGGESTIONS: usize = 6;
/// How far apart two angles are best, for a corner to be told by its levels, deg. Common practice, no source.
const TELLING: f32 = 20.0;

/// One thing to do next.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Next {
    /// A reference point, without which no reading has a level.
    Reference,
    /// A reading with a level: inside the reference curve, and not over the screen.
    Level,
    /// A series with the probe moved so.
    Sweep {
        /// The movement.
        sweep: Sweep,
        /// The side.
        side: Side,
        /// The probe's angle, deg.
        angle: f32,
        /// Stand-offs to move between, mm; none where no place is known.
        standoff: Option<(f32, f32)>,
    },
    /// A reading from the other side.
    OtherSide {
        /// The side.
        side: Side,
        /// The probe's angle, deg.
        angle: f32,
        /// The stand-off to look at, mm; none where no place is known.
        standoff: Option<f32>,
    },
    /// A reading with a probe whose angle differs by so much.
    OtherAngle {
        /// Deg.
        by: f32,
    },
    /// The echo's shape held against that of a hole.
    EchoShape,
    /// A look for the tip echo beside the corner.
    Tip,
    /// The same look at a length known to be clean.
    CleanLength,
    /// Damp the surface with a finger.
    Damp,
    /// Look at the face, or test it by another method.
    OtherMethod {
        /// The face.
        face: Face,
    },
}

impl Next {
    /// What gives a level: a reading, or first the reference that every reading so far lacks.
    pub(super) fn level(case: &Case<'_>) -> Self {
        let mut states = case.echoes.iter().filter_map(|echo| case.facts.probe(echo.probe()));
        let bare = |state: &ProbeState| state.dac().points().len() == 0;
        if !case.echoes.is_empty() && states.all(bare) { Self::Reference } else { Self::Level }
    }

    /// A series on the side and with the probe of the strongest echo.
    pub(super) fn sweep(case: &Case<'_>, sweep: Sweep) -> Self {
        let strongest = math::largest_by(case.echoes.iter(), |echo| echo.strength);
        let side = strongest.map_or(Side::A, |echo| echo.side());
        let angle = strongest.map_or(0.0, |echo| echo.angle);
        let standoff = strongest.and_then(|echo| {
            // The beam's width over the place, either way; at least a quarter of the thickness.
            let at = echo.reading.standoff().get();
            let half = echo.beam.map_or(case.thickness? / 4.0, |beam| beam.least);
            Some((math::larger(at - half, 0.0), at + half))
        });
        match strongest {
            None => Self::level(case),
            Some(_) => Self::Sweep { sweep, side, angle, standoff },
        }
    }

    /// The direction that would tell most: the other side where only one was looked from, else another angle.
    pub(super) fn another_direction(case: &Case<'_>) -> Self {
        let mut sides = case.echoes.iter().map(|echo| echo.side());
        let Some(first) = sides.next() else { return Self::level(case) };
        if sides.any(|side| side != first) || !case.reaches(first.opposite()) {
            return Self::OtherAngle { by: APART };
        }
        let angle = case.echoes.first().map_or(0.0, |echo| echo.angle);
        // p = X − g y: the stand-off from the other side at which the same leg meets the place.
        let standoff = case.echoes.first().map(|echo| {
            let distance = echo.reading.standoff().get() + first.sign() * echo.y;
            distance - first.opposite().sign() * echo.y
        });
        Self::OtherSide { side: first.opposite(), angle, standoff }
    }
}

/// What would settle what is open, the most telling first.
#[inline(never)]
pub(super) fn suggestions(
    case: &Case<'_>,
    told: (bool, Option<Breaks>, Option<Root>),
    facts: impl Iterator<Item = Fact> + Clone,
) -> Vec<Next, SUGGESTIONS> {
    let mut list = Vec::new();
    let mut add = |next: Next| {
        if !list.contains(&next) {
            // Beyond the capacity the less telling ones are left out.
            let _ = list.push(next);
        }
    };
    let (shape, breaks, root) = told;
    let at_face =
        Face::both().into_iter().find(|face| case.at(*face).chain(case.past(*face)).next().is_some());
    let has = |wanted: fn(&Fact) -> bool| facts.clone().any(|fact| wanted(&fact));
    if case.echoes.iter().all(|echo| echo.level.is_none()) {
        add(Next::level(case));
    }
    if !has(|fact| matches!(fact, Fact::Crossed { .. } | Fact::SamePlace { .. } | Fact::Apart { .. }))
        && !has(|fact| matches!(fact, Fact::Inside { both_sides: true, .. }))
    {
        add(Next::another_direction(case));
    }
    if let Some(face) = at_face.filter(|_| root.is_none() && breaks != Some(Breaks::Neither)) {
        if !has(|fact| matches!(fact, Fact::HoldsWithAngle { .. } | Fact::FallsWithAngle { .. })) {
            add(Next::OtherAngle { by: TELLING });
        }
        if case.observed.tip.is_none() && !has(|fact| matches!(fact, Fact::TipPeaked { .. })) {
            add(Next::Tip);
        }
        if case.observed.like_clean_length.is_none() {
            add(Next::CleanLength);
        }
        if face == Face::Near && case.observed.damped.is_none() {
            add(Next::Damp);
        }
    }
    if root != Some(Root::Geometry) && (breaks.is_none() || !shape) {
        if !case.moved.iter().any(|moved| matches!(moved, super::moving::Moved::Across(_))) {
            add(Next::sweep(case, Sweep::Across));
        }
        if case.observed.orbit.is_none() && !has(|fact| matches!(fact, Fact::Turned { orbit: true, .. })) {
            add(Next::sweep(case, Sweep::Orbit));
        }
        if !has(|fact| matches!(fact, Fact::Directions { .. })) {
            add(Next::OtherAngle { by: APART });
        }
    }
    if let Some(face) = at_face.filter(|_| root.is_none() || root == Some(Root::Both)) {
        add(Next::OtherMethod { face });
    }
    list
}

impl fmt::Display for Next {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Reference => f.write_str("a reference point of the probe, and with it a level"),
            Self::Level => {
                f.write_str("a reading with a level, on the screen and within the reference points")
            }
            Self::Sweep { sweep, side, angle, standoff } => {
                let movement = match sweep {
                    Sweep::Along => "a sweep along the weld",
                    Sweep::Across => "a sweep across the weld",
                    Sweep::Swivel => "a swivel sweep",
                    Sweep::Orbit => "a sweep around the indication",
                };
                write!(f, "{movement} from side {} with the {} deg probe", SideWord(side), Fixed(angle, 0))?;
                match (sweep, standoff) {
                    (Sweep::Across, Some((from, to))) => {
                        write!(f, " at stand-off {} to {} mm", Fixed(from, 0), Fixed(to, 0))
                    }
                    (_, Some((from, to))) => write!(f, " at stand-off {} mm", Fixed((from + to) / 2.0, 0)),
                    _ => Ok(()),
                }
            }
            Self::OtherSide { side, angle, standoff } => {
                write!(f, "a reading from side {} with the {} deg probe", SideWord(side), Fixed(angle, 0))?;
                standoff.map_or(Ok(()), |standoff| write!(f, " at stand-off {} mm", Fixed(standoff, 0)))
            }
            Self::OtherAngle { by } => {
                write!(f, "a reading with a probe whose angle differs by {} deg or more", Fixed(by, 0))
            }
            Self::EchoShape => {
                f.write_str("the examiner's look at the echo beside that of a 3 mm hole at the same path")
            }
            Self::Tip => f.write_str("a look for a tip echo just before the corner"),
            Self::CleanLength => f.write_str("the same look at a length of the weld known to be clean"),
            Self::Damp => f.write_str("damping the surface there with a finger"),
            Self::OtherMethod { face } => {
                write!(f, "looking at the {}, its profile, or testing it by another method", FaceWord(face))
            }
        }
    }
}
