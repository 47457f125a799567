//! How much of the weld the probes in force can cross, standing wherever cap and joint let them.

use heapless::Vec;

use super::{ProbeScan, faces_in_use, scans};
use crate::part::side::Face;
use crate::planning::coverage::{Cell, Coverage, survey};
use crate::planning::plan::{PlanError, Scan};
use crate::record::examination::Facts;

/// Why the coverage of a probe is not known.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct NotPlanned {
    /// The probe, by its place.
    pub probe: u8,
    /// Why.
    pub error: PlanError,
}

/// The coverage by every probe in force, or by one, with as many legs as asked for, from the [faces in
/// use](faces_in_use); each cell is told to `visit`.
///
/// `SCANS` is twice the number of probes on each face, at least. `None` without a joint or a probe in force. A side that the joint
/// excludes, or that its cap keeps out of reach, adds nothing; when no side is left, that is the error.
///
/// # Errors
/// [`NotPlanned`] when it is not known how near a probe gets, or the part cannot be.
#[inline(never)]
pub fn coverage<const SCANS: usize>(
    facts: &Facts<'_>,
    probe: Option<u8>,
    legs: u32,
    visit: impl FnMut(&Cell),
) -> Option<Result<Coverage, NotPlanned>> {
    coverage_from::<SCANS>(facts, faces_in_use(facts), probe, legs, visit)
}

/// The same from the faces asked for.
///
/// # Errors
/// As those of [`coverage`].
pub fn coverage_from<const SCANS: usize>(
    facts: &Facts<'_>,
    faces: &'static [Face],
    probe: Option<u8>,
    legs: u32,
    visit: impl FnMut(&Cell),
) -> Option<Result<Coverage, NotPlanned>> {
    let (_, joint) = facts.common().joint.as_ref()?;
    let mut usable: Vec<Scan, SCANS> = Vec::new();
    let mut refused = None;
    for ProbeScan { probe, scan, .. } in
        scans(facts, faces, legs).filter(|one| probe.is_none_or(|wanted| one.probe == wanted))
    {
        match scan {
            // More scans than were allowed for can only add to the coverage.
            Ok(scan) => drop(usable.push(scan)),
            Err(error @ (PlanError::OutOfReach { .. } | PlanError::CapTooWide { .. })) => {
                // Of a side that is excluded and one that is too far, the latter is worth telling.
                let told = matches!(error, PlanError::CapTooWide { .. });
                if told || refused.is_none() {
                    refused = Some(NotPlanned { probe, error });
                }
            }
            Err(error) => return Some(Err(NotPlanned { probe, error })),
        }
    }
    if usable.is_empty() {
        return refused.map(Err);
    }
    survey::<SCANS>(joint, &usable, |scan, aim| usable.get(scan)?.bar(aim), visit).map(Ok)
}
