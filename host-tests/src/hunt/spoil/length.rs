//! Lengths that are open, missing, gone past, or that a neighbour may add to.

use super::super::case::{Case, seen};
use super::super::fault::Fault;
use super::super::part::{Part, Seen};
use super::strongest;
use crate::drawn::Drawn;

pub fn spoil(fault: Fault, case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    let asks_length = matches!(case.sheet, "length.toml" | "length-at-level.toml");
    let groups = asks_length || case.sheet == "demonstration.toml";
    let peak = strongest(case)?;
    let swept = |seen: &Seen| seen.id == 1 && seen.sweep == Some("along");
    let sweep: Vec<Seen> = case.readings().filter(|seen| swept(seen)).cloned().collect();
    let last = sweep.last()?.clone();
    let step = 0.06 * case.thickness();
    let matters = match fault {
        Fault::NoSweep
        | Fault::OpenStart
        | Fault::OpenEnds
        | Fault::LongerSweep
        | Fault::EchoBeyondTheLength => asks_length,
        // The weak are let pass at any length there.
        Fault::RisesAgain => case.sheet != "level-length.toml",
        _ => groups,
    };
    if !matters || sweep.len() < 7 {
        return None;
    }
    match fault {
        Fault::NoSweep => case.keep(|seen| !swept(seen)),
        Fault::OpenStart => {
            let start = drawn.one_of(&[2, 3]);
            let from = sweep[start].x;
            case.keep(|seen| !swept(seen) || seen.x >= from);
        }
        Fault::OpenEnds => {
            case.keep(|seen| !swept(seen));
            let at = |x: f32| Seen { x: peak.x + x, sweep: Some("along"), ..peak.clone() };
            case.record([-1.0, 0.0, 1.0].map(at).to_vec());
        }
        Fault::RisesAgain => {
            let again = [(0.1, 20.0), (0.2, 3.0), (0.3, 20.0)].map(|(x, below)| Seen {
                x: last.x + x * case.thickness(),
                gain: peak.gain + below,
                sweep: Some("along"),
                ..peak.clone()
            });
            insert_after_sweep(case, again.to_vec());
        }
        Fault::NeighbourWithoutLength => {
            case.record(vec![Seen { id: 2, x: peak.x + 20.0, ..peak }]);
        }
        Fault::WithoutLengthBesideANeighbour => {
            let far: Vec<Seen> =
                sweep.iter().map(|seen| Seen { id: 3, x: seen.x + 200.0, ..seen.clone() }).collect();
            case.record(far);
            case.keep(|seen| !swept(seen));
        }
        Fault::OpenTowardsANeighbour => {
            let far = peak.x + 40.0 + 3.0 * case.thickness();
            // Strong enough for a reject of both together.
            let gain = peak.gain - 25.0;
            let member = |(place, below): (f32, f32)| Seen {
                id: 4,
                x: far + place * step,
                gain: gain + below,
                sweep: Some("along"),
                ..peak.clone()
            };
            case.record([(0.0, 2.0), (1.0, 0.0), (2.0, 9.0), (3.0, 30.0)].map(member).to_vec());
        }
        Fault::LongerSweep => {
            let other = case.readings().find(|seen| {
                seen.id == 1 && seen.sweep.is_none() && (seen.probe, seen.side) != (peak.probe, peak.side)
            })?;
            let other = other.clone();
            let along = [(-0.8, 20.0), (-0.6, 3.0), (0.0, 1.0), (0.6, 3.0), (0.8, 20.0)];
            let along = along.map(|(place, below)| Seen {
                x: peak.x + place * case.thickness(),
                gain: other.gain - 6.0 + below,
                sweep: Some("along"),
                ..other.clone()
            });
            case.record(along.to_vec());
        }
        Fault::EchoBeyondTheLength => {
            let (x, gain) = (peak.x + 1.5 * case.thickness(), peak.gain + 2.0);
            case.record(vec![Seen { x, gain, ..peak }]);
        }
        _ => return None,
    }
    Some(())
}

/// Right after the sweep, so that it is one movement.
fn insert_after_sweep(case: &mut Case, readings: Vec<Seen>) {
    let is_sweep = |part: &Part| seen(part).is_some_and(|seen| seen.id == 1 && seen.sweep == Some("along"));
    let place = case.parts.iter().rposition(is_sweep).map_or(case.parts.len(), |place| place + 1);
    case.parts.splice(place..place, readings.into_iter().map(Part::Reading));
}
