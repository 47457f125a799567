//! Angle, index point and transfer correction that are missing, off, or somebody's word.

use halfskip::acceptance::technique::Ground;

use super::super::case::Case;
use super::super::fault::Fault;
use super::super::part::{Part, Transfer};
use super::{one, probe};
use crate::drawn::Drawn;

fn is_angle(part: &Part, name: &str) -> bool {
    matches!(part, Part::Hole { probe, .. } | Part::Stated { probe, .. } if *probe == name)
}

/// Puts other lines in the place of those that tell a probe's angle.
fn replace(case: &mut Case, name: &str, parts: Vec<Part>) -> Option<()> {
    let place = case.place(|part| is_angle(part, name))?;
    case.parts.retain(|part| !is_angle(part, name));
    case.parts.splice(place..place, parts);
    Some(())
}

fn holes(probe: &'static str, angle: f32, index: f32) -> Vec<Part> {
    let tan = f64::from(angle).to_radians().tan() as f32;
    let hole = |depth: f32| Part::Hole { probe, depth, distance: depth * tan + index };
    vec![hole(15.0), hole(40.0)]
}

pub fn spoil(fault: Fault, case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    let probe = probe(case, drawn)?;
    let nominal = case.made(probe)?.nominal;
    let asked = case.asked();
    let sign = drawn.one_of(&[-1.0, 1.0]);
    let measured = case.place(|part| matches!(part, Part::Hole { probe: of, .. } if *of == probe)).is_some();
    match fault {
        Fault::NoAngle => replace(case, probe, Vec::new()),
        Fault::AngleByWord => {
            if case.takes_word(Ground::Angle) {
                return None;
            }
            let angle = nominal + drawn.between(-0.5, 0.5);
            replace(case, probe, vec![Part::Stated { probe, angle, index: 0.0 }])
        }
        Fault::AngleOff | Fault::StatedAngleOff => {
            let within = asked.angle_within.map_or(case.within.0, |within| within.get());
            let angle = nominal + sign * (within + drawn.between(0.1, 8.0));
            let parts = match fault {
                Fault::AngleOff => holes(probe, angle, 0.0),
                _ => vec![Part::Stated { probe, angle, index: 0.0 }],
            };
            replace(case, probe, parts)
        }
        Fault::IndexOff => {
            let within = asked.index_within.map_or(case.within.1, |within| within.get());
            let index = sign * (within + drawn.between(0.15, 8.0));
            let stated = Part::Stated { probe, angle: nominal, index };
            let parts = if measured { holes(probe, nominal, index) } else { vec![stated] };
            replace(case, probe, parts)
        }
        Fault::AngleNotInTheTechnique => {
            if asked.angles.is_empty() {
                return None;
            }
            let made = case.probes_mut().find(|made| made.name == probe)?;
            made.nominal += sign * drawn.one_of(&[0.5, 1.0, 5.0]);
            Some(())
        }
        Fault::FrequencyNotInTheTechnique => {
            let (from, to) = (asked.frequency_from, asked.frequency_to);
            let low = from.map(|from| from.get() * drawn.between(0.4, 0.95));
            let high = to.map(|to| to.get() * drawn.between(1.05, 2.0));
            let both: Vec<f32> = [low, high].into_iter().flatten().collect();
            case.probes_mut().find(|made| made.name == probe)?.frequency =
                (one(drawn, &both)? * 100.0).round() / 100.0;
            Some(())
        }
        Fault::TemperatureUnknown => {
            if !measured {
                return None;
            }
            let made = case.probes_mut().find(|made| made.name == probe)?;
            let at = drawn.between(60.0, 90.0).round();
            made.more = format!("{} wedge-slope=-0.0009 marked-at=20 at={at}", made.more);
            Some(())
        }
        _ => transfer(fault, case, drawn, probe),
    }
}

fn transfer(fault: Fault, case: &mut Case, drawn: &mut Drawn, name: &'static str) -> Option<()> {
    let asked = case.asked();
    let gain = match fault {
        Fault::NoTransfer => {
            let before = case.parts.len();
            case.parts.retain(|part| !matches!(part, Part::Transfer { probe, .. } if *probe == name));
            return (case.parts.len() < before).then_some(());
        }
        Fault::TransferTooLow => asked.transfer_from?.get() - drawn.between(0.1, 20.0),
        Fault::TransferTooHigh => asked.transfer_to?.get() + drawn.between(0.1, 20.0),
        Fault::TransferByWord => {
            if case.takes_word(Ground::Transfer) {
                return None;
            }
            (drawn.between(-3.0, 5.0) * 10.0).round() / 10.0
        }
        _ => return None,
    };
    let by_word = fault == Fault::TransferByWord || drawn.bits().is_multiple_of(2);
    let how = case.transfer_mut(name)?;
    *how = if by_word {
        // A tenth is typed.
        Transfer::Stated(if gain < 0.0 { (gain * 10.0).floor() / 10.0 } else { (gain * 10.0).ceil() / 10.0 })
    } else {
        let gain = if gain < 0.0 { gain - 0.05 } else { gain + 0.05 };
        Transfer::Shots { block: vec![(40.0, 38.0)], part: vec![(40.0, 38.0 + gain)] }
    };
    Some(())
}
