//! The probe where it cannot be, the echo beside the weld, another thickness, readings apart; nothing said of linearity,
//! parent metal and coverage.

use halfskip::math::larger;

use super::super::case::{Case, begins, seen};
use super::super::fault::Fault;
use super::super::part::Part;
use super::super::sound::least;
use super::{at, one, peaks, readings};
use crate::drawn::Drawn;

pub fn spoil(fault: Fault, case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    match fault {
        Fault::SideNotReached => {
            let side = seen(&case.parts[one(drawn, &readings(case))?])?.side;
            case.weld_mut()?.reach = Some(if side == 'a' { 'b' } else { 'a' });
            Some(())
        }
        Fault::WiderCap => {
            let off = case.within.2;
            let found = seen(&case.parts[one(drawn, &readings(case))?])?.clone();
            let front = case.made(found.probe)?.front.unwrap_or(0.0);
            let half = found.standoff - front + off + drawn.between(0.1, 15.0);
            let weld = case.weld_mut()?;
            if weld.crown == 0.0 || half < 0.5 * weld.cap {
                return None;
            }
            weld.cap = 2.0 * half;
            Some(())
        }
        Fault::OnTheCap => {
            let off = case.within.2;
            let place = one(drawn, &readings(case))?;
            let probe = seen(&case.parts[place])?.probe;
            let least = least(case.weld()?, case.made(probe)?.front)?;
            at(case, place)?.standoff = least - off - drawn.between(0.1, least);
            Some(())
        }
        Fault::BesideTheWeld => beside(case, drawn),
        Fault::SkewedAway => {
            let weld = case.weld()?;
            let edge = 0.5 * weld.cap + weld.haz.unwrap_or(10.0);
            let skew = drawn.between(60.0, 80.0);
            let turned = 1.0 - f64::from(skew).to_radians().cos() as f32;
            let near = |path: f32, standoff: f32| turned * standoff < edge + 6.0 + 0.08 * path;
            if case.readings().any(|seen| near(seen.path, seen.standoff)) {
                return None;
            }
            case.readings_mut().for_each(|seen| seen.more = format!("{} skew={skew:.1}", seen.more));
            Some(())
        }
        Fault::OtherThickness => {
            let part = 1.0 + drawn.one_of(&[-1.0, 1.0]) * drawn.between(0.21, 0.6);
            let thickness = case.thickness() * part;
            let place = one(drawn, &readings(case))?;
            at(case, place)?.thickness = Some(thickness);
            Some(())
        }
        Fault::PeakFarAlong => {
            let place = one(drawn, &peaks(case))?;
            at(case, place)?.x += far(drawn);
            Some(())
        }
        Fault::AnotherFarAlong => {
            let mut more = seen(&case.parts[one(drawn, &peaks(case))?])?.clone();
            more.x += far(drawn);
            more.gain += drawn.between(0.0, 10.0);
            case.record(vec![more]);
            Some(())
        }
        Fault::SweepFarAlong => {
            let off = far(drawn);
            let sweep = case.readings_mut().filter(|seen| seen.id == 1 && seen.sweep == Some("along"));
            sweep.map(|seen| seen.x += off).last()
        }
        Fault::NoScreenLinearity => without(case, |part| begins(part, "linearity screen")),
        Fault::NoGainLinearity => without(case, |part| begins(part, "linearity gain")),
        Fault::LinearityOff => {
            let line = drawn.one_of(&[
                "linearity screen large=80,60 small=55,45",
                "linearity gain set=80,80,40 change=-6,-12,6 shown=55,20,79",
            ]);
            let place = case.place(|part| matches!(part, Part::Probe(_)))?;
            case.parts.insert(place, Part::Line(line.to_string()));
            Some(())
        }
        Fault::NoParentMetal => without(case, |part| begins(part, "detail lamination")),
        Fault::NotMoved => without(case, |part| seen(part).is_some_and(|seen| seen.sweep == Some("across"))),
        Fault::MovedAtOnePlace => {
            let across =
                |part: &Part| seen(part).filter(|seen| seen.sweep == Some("across")).map(|seen| seen.x);
            let first = case.parts.iter().find_map(across)?;
            without(case, |part| across(part).is_some_and(|x| x != first))
        }
        Fault::MovedSkewed => {
            let across = case.readings_mut().filter(|seen| seen.sweep == Some("across"));
            across.map(|seen| seen.more = format!("{} skew=10", seen.more)).last()
        }
        _ => None,
    }
}

/// Further than readings of one name can be apart, mm.
fn far(drawn: &mut Drawn) -> f32 {
    drawn.one_of(&[1.0, 1.0, -1.0]) * drawn.between(140.0, 1_500.0)
}

fn without(case: &mut Case, such: impl Fn(&Part) -> bool) -> Option<()> {
    let before = case.parts.len();
    case.parts.retain(|part| !such(part));
    (case.parts.len() < before).then_some(())
}

/// All echoes beside weld, heat-affected zone and uncertainty, on the one side or the other.
fn beside(case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    let weld = case.weld()?;
    let edge = 0.5 * weld.cap + weld.haz.unwrap_or(10.0);
    let longest = case.readings().map(|seen| seen.path).fold(0.0, larger);
    // The echoes are within 3 mm of the centreline; how far one may be off grows with its path.
    let away = edge + 3.0 + 4.0 + 0.08 * longest + drawn.between(1.0, 100.0);
    let away = drawn.one_of(&[-away, away]);
    for seen in case.readings_mut() {
        // y = g (-p + e + d)
        seen.standoff += if seen.side == 'a' { -away } else { away };
    }
    Some(())
}
