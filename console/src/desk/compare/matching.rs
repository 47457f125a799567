//! Which indication of one examination is which of another: the nearest by place, each taken once.

use std::vec::Vec;

use super::{Difference, Side};
use crate::desk::drawing::{larger, smaller};
use crate::desk::findings::Indication;

/// How many times the expanded uncertainty of its difference y and z may differ at one place. Common practice, no source:
/// beyond twice, the two are told as two.
pub const REACH: f32 = 2.0;

/// Pairs of places in the two lists, in the order of the first.
pub fn matched(first: &Side<'_>, second: &Side<'_>, within: f32) -> Vec<(usize, usize)> {
    let mut candidates: Vec<(f32, usize, usize)> = Vec::new();
    for (place, one) in first.found.iter().enumerate() {
        for (with, other) in second.found.iter().enumerate() {
            if let Some(apart) = apart(one, other, second.shift - first.shift, within) {
                candidates.push((apart, place, with));
            }
        }
    }
    // The nearest first; of equals, the one that was recorded first.
    candidates.sort_by(|one, other| one.0.total_cmp(&other.0).then((one.1, one.2).cmp(&(other.1, other.2))));
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    for (_, place, with) in candidates {
        if !pairs.iter().any(|pair| pair.0 == place || pair.1 == with) {
            pairs.push((place, with));
        }
    }
    pairs.sort_unstable();
    pairs
}

/// How far apart two indications lie, in expanded uncertainties; nothing when they cannot be one.
fn apart(one: &Indication<'_>, other: &Indication<'_>, shift: f32, within: f32) -> Option<f32> {
    let (first, second) = (one.point?, other.point?);
    let span = |found: &Indication<'_>, x: f32, shift: f32| {
        let (from, to) = found.length.map_or((x, x), |length| (length.start.get(), length.end.get()));
        (from + shift, to + shift)
    };
    let ((from, to), (other_from, other_to)) = (span(one, first.x, 0.0), span(other, second.x, shift));
    // Negative where the two overlap.
    let gap = larger(from, other_from) - smaller(to, other_to);
    if gap > within {
        return None;
    }
    let units = |a, b| Difference::new("", "", [Some(a), Some(b)]).units;
    let y = units((first.y, Some(first.u_y)), (second.y, Some(second.u_y)))?;
    let z = units((first.z, Some(first.u_z)), (second.z, Some(second.u_z)))?;
    let furthest = larger(y, z);
    // Among those that could be one, the one that also lies nearest along the weld.
    let aside = (first.x - second.x - shift).abs() / larger(within, 1.0);
    (furthest <= REACH).then_some(y + z + aside)
}
