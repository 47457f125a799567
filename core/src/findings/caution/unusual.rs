//! What is beyond the usual, though it may be right: transfer corrections, reference points far apart, wide tolerances.

use super::Caution;
use crate::evaluate::path_of;
use crate::math;
use crate::record::examination::{Facts, ReferencePoint};

/// Surface terms from here to there are usual, dB. Ours; a part is rougher than its block, not smoother.
const SURFACE: [f32; 2] = [-2.0, 6.0];
/// What the slope of a transfer correction usually makes of the longest path, dB. Ours.
const SLOPE: f32 = 2.0;
/// The usual greatest ratio of the paths of two neighbouring points. Straight lines in path read low between them: 1.9 dB
/// where the echo falls by 9 dB a doubling.
const RATIO: f32 = 3.0;
/// The widest half widths that are usual. Ours: an angle is not known from its mark alone, lengths are read to a
/// millimetre or two, a height to a screen division.
const ANGLE: f32 = 5.0;
const LENGTH: f32 = 5.0;
const OF_THICKNESS: f32 = 0.25;
const HEIGHT: f32 = 20.0;
/// The widest limits of checks that are usual, % of the path and dB. Ours: twice those that hold by default and more.
const RANGE: f32 = 5.0;
const SENSITIVITY: f32 = 4.0;

/// Which half widths, and which limits of checks, are wider than usual.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Wide {
    /// Over 5 degrees.
    pub angle: bool,
    /// Over 5 mm or a quarter of the joint's thickness, as all lengths.
    pub path: bool,
    /// Likewise.
    pub index: bool,
    /// Likewise.
    pub standoff: bool,
    /// Likewise.
    pub thickness: bool,
    /// Over 20 %.
    pub height: bool,
    /// Of checks, over 5 % of the path.
    pub range: bool,
    /// Of checks, over 4 dB.
    pub sensitivity: bool,
}

/// What of the uncertainty and the limits of checks is wider than usual; none where nothing is.
#[must_use]
pub fn wide(facts: &Facts<'_>) -> Option<Wide> {
    let common = facts.common();
    let (budget, limits) = (&common.budget, &common.check_limits);
    let thickness = common.joint.as_ref().map(|(_, joint)| OF_THICKNESS * joint.thickness().get());
    let longest = thickness.map_or(LENGTH, |quarter| math::smaller(quarter, LENGTH));
    let wide = Wide {
        angle: budget.angle.get() > ANGLE,
        path: budget.path.get() > longest,
        index: budget.index.get() > longest,
        standoff: budget.standoff.get() > longest,
        thickness: budget.thickness.get() > longest,
        height: budget.height.get() > HEIGHT,
        range: limits.range.get() > RANGE,
        sensitivity: limits.sensitivity.get() > SENSITIVITY,
    };
    (wide != Wide::default()).then_some(wide)
}

/// Tells what is unusual of the transfer correction and the reference points of a probe.
pub fn unusual(facts: &Facts<'_>, probe: u8, tell: &mut impl FnMut(Caution)) {
    let Some(state) = facts.probe(probe) else { return };
    if let Some(transfer) = state.transfer() {
        let ([least, most], surface) = (SURFACE, transfer.surface().get());
        if surface < least || surface > most {
            tell(Caution::TransferUnusual { probe, surface });
        }
        let own = facts.readings().filter(|reading| reading.probe() == probe);
        let path = own.filter_map(|reading| Some(path_of(facts, reading)?.get())).fold(0.0, math::larger);
        let by = transfer.slope().unwrap_or(0.0) * path;
        if by.abs() > SLOPE {
            tell(Caution::TransferSlopes { probe, by, path });
        }
    }
    let mut below: Option<ReferencePoint> = None;
    for above in state.reference_points() {
        if let Some(below) = below {
            let ratio = above.path.get() / below.path.get();
            if ratio > RATIO {
                tell(Caution::PointsApart { probe, from: below.number, to: above.number, ratio });
            }
        }
        below = Some(above);
    }
}
