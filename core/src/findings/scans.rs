//! The probes in force as they can be moved along the joint in force.

use crate::calibration::curve::Beyond;
use crate::part::joint::Joint;
use crate::part::side::Side;
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
    /// The scan.
    pub scan: Result<Scan, PlanError>,
}

/// The longest path at which a probe's gain line holds; `None` when it holds at every path, or there is none.
#[must_use]
pub fn range(state: &ProbeState) -> Option<Millimetres> {
    let points = state.dac().points();
    let bounded = state.beyond() == Beyond::Refuse && points.len() > 1;
    points.last().filter(|_| bounded).map(|point| point.path)
}

/// Every probe in force on each side, with as many legs as asked for, within the range of its gain line.
pub fn scans<'a>(facts: &Facts<'a>, legs: u32) -> impl Iterator<Item = ProbeScan> + Clone + use<'a> {
    let facts = *facts;
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint);
    (0..=u8::MAX).zip(facts.probes()).flat_map(move |(probe, state)| {
        [Side::A, Side::B].into_iter().filter_map(move |side| {
            let scan = scan(joint?, state, side, legs)?;
            Some(ProbeScan { probe, side, scan })
        })
    })
}

fn scan(joint: &Joint, state: &ProbeState, side: Side, legs: u32) -> Option<Result<Scan, PlanError>> {
    let limits = Limits { legs, range: range(state) };
    let (axis, probe) = (state.axis()?, state.probe()?);
    Some(Scan::new(joint, axis, probe.front(), state.index(), side, limits))
}
