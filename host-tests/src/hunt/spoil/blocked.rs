//! What stands against a verdict by itself: no sheet, no joint, no reading, no place, voided entries, views that disagree.

use halfskip::math::larger;

use super::super::case::{Case, begins, point, seen};
use super::super::fault::Fault;
use super::super::part::{Part, Point, Seen, Timebase};
use super::{at, one, probe, readings, strongest};
use crate::drawn::Drawn;

pub fn spoil(fault: Fault, case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    let levels = case.sheet != "weighted.toml";
    match fault {
        Fault::NoSheet => case.parts.retain(|part| !begins(part, "criteria")),
        Fault::NoReading => case.parts.retain(|part| seen(part).is_none()),
        Fault::NoJoint => {
            // No thickness by a reading either.
            case.parts.retain(|part| !matches!(part, Part::Joint(_)));
            case.readings_mut().for_each(|seen| seen.thickness = None);
        }
        Fault::VoidJoint => case.void(|part| matches!(part, Part::Joint(_))),
        Fault::VoidProbe => {
            let name = probe(case, drawn)?;
            case.void(|part| matches!(part, Part::Probe(made) if made.name == name));
        }
        Fault::VoidReference => {
            let name = probe(case, drawn)?;
            case.void(|part| point(part).is_some_and(|point| point.probe == name));
        }
        Fault::AnotherProbeOfTheName => {
            let name = probe(case, drawn)?;
            let mut other = case.made(name)?.clone();
            case.void(|part| matches!(part, Part::Probe(made) if made.name == name));
            other.nominal = if other.nominal == 60.0 { 45.0 } else { 60.0 };
            (other.frequency, other.element) = (2.0, (20.0, None));
            case.parts.push(Part::Probe(other));
        }
        Fault::PathsBeyondTheCurve => {
            if !levels {
                return None;
            }
            let name = probe(case, drawn)?;
            let point = case.points(name).first()?.clone();
            let beyond = [(1_500.0, 60.0), (1_600.0, 62.0)];
            let beyond = beyond.map(|(path, gain)| Point { path, gain, ..point.clone() });
            case.replace_points(name, beyond.to_vec());
        }
        Fault::OneReadingBeyondTheCurve => {
            let place = one(drawn, &readings(case))?;
            let probe = seen(&case.parts[place])?.probe;
            if case.points(probe).len() < 2 {
                return None;
            }
            at(case, place)?.path = 1_200.0;
        }
        Fault::OneReadingWithoutReference => {
            let peak = strongest(case)?;
            let other = super::super::part::Made { name: "q", ..case.made(peak.probe)?.clone() };
            case.insert_before(|part| seen(part).is_some(), Part::Probe(other));
            case.record(vec![Seen { probe: "q", ..peak }]);
        }
        Fault::TimeBaseOff => {
            let name = probe(case, drawn)?;
            let how = Timebase::Echoes(vec![(25.0, 17.0), (50.0, 33.0), (100.0, 67.0)]);
            let such = |part: &Part| matches!(part, Part::Timebase { probe, .. } if *probe == name);
            let place = case.place(such)?;
            case.parts[place] = Part::Timebase { probe: name, how };
        }
        Fault::ThicknessOutsideTheSheet => {
            if case.sheet != "demonstration.toml" {
                return None;
            }
            case.weld_mut()?.thickness = 120.0;
            // What was measured there would be another word on it.
            case.readings_mut().for_each(|seen| seen.thickness = None);
        }
        Fault::SidesContradict => {
            let peaked = |seen: &&Seen| seen.id == 1 && seen.sweep.is_none();
            let sides = |side: char| case.readings().filter(peaked).any(|seen| seen.side == side);
            if !(sides('a') && sides('b')) {
                return None;
            }
            let longest = case.readings().map(|seen| seen.path).fold(0.0, larger);
            let off = drawn.one_of(&[-1.0, 1.0]) * (drawn.between(12.0, 18.0) + 0.15 * longest);
            for seen in case.readings_mut().filter(|seen| seen.side == 'b') {
                seen.standoff += off;
            }
        }
        Fault::TipsTiedToNothing => {
            let tip = |seen: &mut Seen| seen.more = format!("{} point=upper-tip together=7", seen.more);
            case.readings_mut().for_each(tip);
        }
        _ => return None,
    }
    Some(())
}
