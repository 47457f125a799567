//! Which refracted angles suit a joint, ranked, with the reason: advice for the procedure, never a choice made.

use core::fmt;

use heapless::Vec;

use super::{Barrier, Limits, PlanError, Scan, TargetKind, off_square, targets};
use crate::math;
use crate::part::Part;
use crate::part::joint::{FaceKind, Joint};
use crate::part::path::Axis;
use crate::part::side::Side;
use crate::units::decimal::{Fixed, fixed};
use crate::units::{Degrees, Millimetres};

/// The angles that probes are commonly made for. Common practice, no source \[R7\].
pub const CANDIDATES: [Degrees; 3] =
    [Degrees::constant(45.0), Degrees::constant(60.0), Degrees::constant(70.0)];

/// Angles compared at once.
const COMPARED: usize = 8;

/// What speaks for an angle and against it.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Suggestion {
    /// The refracted angle.
    pub angle: Degrees,
    /// The largest angle that meets the bore, when this one does not.
    pub bore_missed: Option<Degrees>,
    /// Whether leg 1 reaches the far edge of the root from each usable side; if not, why not.
    pub root: Result<(), RootMissed>,
    /// How far off square the worst of the faces is met at best, degrees; none when no face is met.
    pub off_square: Option<Degrees>,
    /// Length of one leg, mm.
    pub leg: f32,
}

/// Why leg 1 does not reach the root.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum RootMissed {
    /// Something is in the way.
    Barred(Barrier),
    /// There is no plan at all.
    NoPlan(PlanError),
}

impl fmt::Display for Suggestion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(largest) = self.bore_missed {
            return write!(f, "misses the bore, which is met below {} deg", Fixed(largest.get(), 1));
        }
        match self.root {
            Ok(()) => f.write_str("root in leg 1")?,
            Err(RootMissed::Barred(barrier)) => write!(f, "root not in leg 1 ({barrier})")?,
            Err(RootMissed::NoPlan(error)) => write!(f, "root in leg 1 not known ({error})")?,
        }
        match self.off_square {
            Some(off) => write!(f, "; fusion faces met {} deg off square at worst", Fixed(off.get(), 0))?,
            None => f.write_str("; no fusion face met")?,
        }
        write!(f, "; {} mm a leg", fixed(math::floor(self.leg * 10.0 + 0.5) / 10.0))
    }
}

/// Compares angles for a joint, the best first: those that meet the bore, then those that reach the root in leg 1, then
/// the squarest on the fusion faces (in steps of 5 degrees), then the shortest leg.
///
/// `front` is the nose of the probes at hand. More than eight angles are not compared; one given twice counts once.
#[must_use]
pub fn suggest(
    joint: &Joint,
    angles: impl Iterator<Item = Degrees>,
    front: Option<Millimetres>,
    limits: Limits,
) -> Vec<Suggestion, COMPARED> {
    let mut ranked: Vec<Suggestion, COMPARED> = Vec::new();
    for angle in angles {
        let known = ranked.iter().any(|held| (held.angle.get() - angle.get()).abs() < 0.05);
        let Some(one) = judge(joint, angle, front, limits).filter(|_| !known) else { continue };
        if ranked.is_full() {
            continue;
        }
        // Each one from the place on moves on by one.
        let place = ranked.iter().position(|held| rank(&one) < rank(held)).unwrap_or(ranked.len());
        let mut carried = one;
        for held in ranked.iter_mut().skip(place) {
            core::mem::swap(held, &mut carried);
        }
        let _ = ranked.push(carried);
    }
    ranked
}

/// Smaller is better.
fn rank(one: &Suggestion) -> (bool, bool, u32, f32) {
    let off = one.off_square.map_or(90.0, Degrees::get);
    (one.bore_missed.is_some(), one.root.is_err(), (off / 5.0) as u32, one.leg)
}

fn judge(joint: &Joint, angle: Degrees, front: Option<Millimetres>, limits: Limits) -> Option<Suggestion> {
    let axis = Axis::new(angle).ok()?;
    let part = Part::of(joint)?;
    let legs = part.legs(&axis);
    let bore_missed = match part {
        Part::Around(pipe) if legs.misses_bore() => pipe.largest_angle(),
        _ => None,
    };
    let section = joint.section();
    let index = const { Millimetres::constant(0.0) };
    let mut root = Ok(());
    let sides = [Side::A, Side::B].into_iter().filter(|side| joint.spec().reaches(*side));
    for side in sides.clone() {
        let scan = match Scan::new(joint, &axis, front, index, side, limits) {
            Ok(scan) => scan,
            Err(error) => {
                root = Err(RootMissed::NoPlan(error));
                break;
            }
        };
        let far = section.root_edges().into_iter().find(|edge| edge.side != side);
        if let Some(Err(barrier)) = far.map(|edge| scan.aim(1, edge.to)) {
            root = Err(RootMissed::Barred(barrier));
            break;
        }
    }
    let mut worst: Option<Degrees> = None;
    targets(&section, |target| {
        let TargetKind::Face(FaceKind::Bevel | FaceKind::Upright) = target.kind else { return };
        let mut best: Option<Degrees> = None;
        for (from, to) in target.pieces() {
            for side in sides.clone() {
                for leg in 1..=limits.legs {
                    let off = off_square(&legs, side, leg, from, to);
                    best = match (best, off) {
                        (Some(best), Some(off)) if off >= best => Some(best),
                        (best, off) => off.or(best),
                    };
                }
            }
        }
        if best > worst {
            worst = best;
        }
    });
    Some(Suggestion { angle, bore_missed, root, off_square: worst, leg: legs.length() })
}
