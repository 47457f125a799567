//! The probes in force as they can be moved along the joint in force.

use crate::calibration::curve::Beyond;
use crate::part::joint::Joint;
use crate::part::side::{Face, Side};
use crate::planning::plan::{Limits, PlanError, Scan};
use crate::record::examination::{Facts, ProbeState};
use crate::units::Millimetres;

/// A probe on a side: how it can be moved, or why nobody can tell.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ProbeScan {
    /// The probe, by its place.
    pub probe: u8,
    /// The side.
    pub side: Side,
    /// The face.
    pub face: Face,
    /// The scan.
    pub scan: Result<Scan, PlanError>,
}

/// The longest path at which a probe's gain line holds; `None` when it holds at every path, or there is none.
#[must_use]
pub fn range(state: &ProbeState) -> Option<Millimetres> {
    state.dac().points().last().filter(|_| is_bounded(state)).map(|point| point.path)
}

/// The shortest path at which a probe's gain line holds; `None` when it holds at every path, or there is none.
#[must_use]
pub fn nearest(state: &ProbeState) -> Option<Millimetres> {
    state.dac().points().next().filter(|_| is_bounded(state)).map(|point| point.path)
}

/// One point is the reference at every path, and so is what is carried on beyond the points.
fn is_bounded(state: &ProbeState) -> bool {
    state.beyond() == Beyond::Refuse && state.dac().points().len() > 1
}

/// The faces that probes are moved on: the near one, and the far one where a reading in force was taken there.
#[must_use]
pub fn faces_in_use(facts: &Facts<'_>) -> &'static [Face] {
    const BOTH: &[Face] = &Face::both();
    let far = facts.readings().any(|reading| reading.face() == Face::Far);
    if far { BOTH } else { NEAR }
}

/// The near face alone.
pub const NEAR: &[Face] = &[Face::Near];

/// Every probe in force on each side of those faces, with as many legs as asked for, within the range of its gain line.
pub fn scans<'a>(
    facts: &Facts<'a>,
    faces: &'static [Face],
    legs: u32,
) -> impl Iterator<Item = ProbeScan> + Clone + use<'a> {
    let facts = *facts;
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint);
    (0..=u8::MAX).zip(facts.probes()).flat_map(move |(probe, state)| {
        faces.iter().flat_map(move |&face| {
            [Side::A, Side::B].into_iter().filter_map(move |side| {
                let scan = scan(joint?, state, (side, face), legs)?;
                Some(ProbeScan { probe, side, face, scan })
            })
        })
    })
}

fn scan(
    joint: &Joint,
    state: &ProbeState,
    stand: (Side, Face),
    legs: u32,
) -> Option<Result<Scan, PlanError>> {
    let limits = Limits { legs, range: range(state), nearest: nearest(state) };
    let (axis, probe) = (state.axis()?, state.probe()?);
    Some(Scan::on(joint, axis, probe.front(), state.index(), stand, limits))
}
