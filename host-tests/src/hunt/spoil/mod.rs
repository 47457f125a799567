//! How a case is spoiled, by what the fault is about. Each tells `None` where there is nothing that it could spoil.

pub(super) mod angle;
pub(super) mod blocked;
pub(super) mod checks;
pub(super) mod grounds;
pub(super) mod length;
pub(super) mod reference;
pub(super) mod screen;

use super::case::{Case, seen};
use super::part::{Part, Seen};
use crate::drawn::Drawn;

/// One of several; none where there is none.
fn one<T: Clone>(drawn: &mut Drawn, several: &[T]) -> Option<T> {
    (!several.is_empty()).then(|| several[(drawn.bits() % several.len() as u64) as usize].clone())
}

/// One of the probes.
fn probe(case: &Case, drawn: &mut Drawn) -> Option<&'static str> {
    let used = |name: &&str| case.readings().any(|seen| seen.probe == *name);
    one(drawn, &case.probes().into_iter().filter(used).collect::<Vec<_>>())
}

/// Where the readings are, those of movements across the weld apart.
fn readings(case: &Case) -> Vec<usize> {
    let such = |part: &Part| seen(part).is_some_and(|seen| seen.sweep != Some("across"));
    case.parts.iter().enumerate().filter(|(_, part)| such(part)).map(|(place, _)| place).collect()
}

/// Where the peaks are.
fn peaks(case: &Case) -> Vec<usize> {
    let such = |part: &Part| seen(part).is_some_and(|seen| seen.sweep.is_none() && seen.id == 1);
    case.parts.iter().enumerate().filter(|(_, part)| such(part)).map(|(place, _)| place).collect()
}

/// The reading at a place, to be changed.
fn at(case: &mut Case, place: usize) -> Option<&mut Seen> {
    match case.parts.get_mut(place) {
        Some(Part::Reading(seen)) => Some(seen),
        _ => None,
    }
}

/// The strongest peak of indication 1: the first view's, which the others are weaker than.
fn strongest(case: &Case) -> Option<Seen> {
    let swept = case.readings().find(|seen| seen.id == 1 && seen.sweep == Some("along"))?;
    let of_it = |seen: &&Seen| {
        seen.id == 1
            && seen.sweep.is_none()
            && (seen.probe, seen.side, seen.path) == (swept.probe, swept.side, swept.path)
    };
    case.readings().find(of_it).cloned()
}
