//! Checks that are missing, failed, voided, of another day, of another calibration, too far apart.

use std::ops::Range;

use super::super::case::{Case, check, point, seen};
use super::super::fault::Fault;
use super::super::part::{Check, Part, Timebase};
use super::{one, readings};
use crate::drawn::Drawn;

/// A probe on a day: its first and last reading, and where the day is.
struct Stint {
    probe: &'static str,
    first: usize,
    last: usize,
    day: Range<usize>,
}

impl Stint {
    fn draw(case: &Case, drawn: &mut Drawn) -> Option<Self> {
        let place = one(drawn, &readings(case))?;
        let probe = seen(&case.parts[place])?.probe;
        let is_date = |part: &Part| matches!(part, Part::Date { .. });
        let start = case.parts[..place].iter().rposition(is_date).unwrap_or(0);
        let end = case.parts[place..].iter().position(is_date).map_or(case.parts.len(), |more| place + more);
        let of_probe = |part: &Part| seen(part).is_some_and(|seen| seen.probe == probe);
        let first = start + case.parts[start..].iter().position(of_probe)?;
        let last = start + case.parts[start..end].iter().rposition(of_probe)?;
        Some(Self { probe, first, last, day: start..end })
    }

    fn is_check(&self, part: &Part) -> bool {
        check(part).is_some_and(|check| check.probe == self.probe)
    }

    /// Takes its checks of a part of the job away.
    fn without_checks(&self, case: &mut Case, range: Range<usize>) -> Option<()> {
        let before = case.parts.len();
        let kept: Vec<Part> =
            case.parts[range.clone()].iter().filter(|part| !self.is_check(part)).cloned().collect();
        case.parts.splice(range, kept);
        (case.parts.len() < before).then_some(())
    }

    /// The check that follows a reading of it, with a level where that is asked for.
    fn next(&self, case: &Case, from: usize, with_level: bool) -> Option<usize> {
        let such = |part: &Part| {
            self.is_check(part) && (!with_level || check(part).is_some_and(|check| check.level.is_some()))
        };
        case.parts[from..self.day.end].iter().position(such).map(|more| from + more)
    }
}

pub fn spoil(fault: Fault, case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    let stint = Stint::draw(case, drawn)?;
    let Stint { probe, first, last, day } = &stint;
    match fault {
        Fault::NoChecks => {
            let before = case.parts.len();
            case.parts.retain(|part| check(part).is_none());
            (case.parts.len() < before).then_some(())
        }
        Fault::NoCheckBefore => {
            let measured = |part: &Part| matches!(part, Part::Timebase { probe: of, how: Timebase::Echoes(_) } if of == probe);
            let place = case.parts[day.start..*first].iter().position(measured);
            if let Some(Part::Timebase { how, .. }) = place.map(|place| &mut case.parts[day.start + place]) {
                *how = Timebase::Stated { velocity: 3.255, delay: 2.5 };
            }
            let found = stint.without_checks(case, day.start..*first);
            place.map(|_| ()).or(found)
        }
        Fault::NoCheckAfter => stint.without_checks(case, *last..day.end),
        Fault::CheckedTheDayBefore | Fault::CheckedTheDayAfter => {
            let place = if fault == Fault::CheckedTheDayBefore { *first } else { last + 1 };
            if case.place(|part| matches!(part, Part::Date { .. })).is_none() {
                case.parts.insert(place, Part::Date { day: 25, time: None });
                case.parts.insert(0, Part::Date { day: 9, time: None });
            } else {
                case.parts.insert(place, Part::Date { day: 25, time: None });
            }
            Some(())
        }
        Fault::RangeOff | Fault::LevelOff => off(fault, case, drawn, &stint),
        Fault::TimeBaseAnew => {
            let such = |part: &Part| matches!(part, Part::Timebase { probe: of, how: Timebase::Echoes(_) } if of == probe);
            let old = case.parts[case.in_force(such).next()?].clone();
            let mut new = old.clone();
            if let Part::Timebase { how: Timebase::Echoes(echoes), .. } = &mut new {
                echoes.iter_mut().for_each(|(_, time)| *time += 0.05);
            }
            case.parts.splice(last + 1..last + 1, [Part::Void(Box::new(old)), new]);
            Some(())
        }
        Fault::PointAnew => {
            let such = |part: &Part| point(part).is_some_and(|point| point.probe == *probe);
            let old = case.parts[case.in_force(such).next()?].clone();
            let mut new = old.clone();
            if let Part::Point(point) = &mut new {
                point.gain += drawn.between(0.1, 0.5);
            }
            case.parts.splice(last + 1..last + 1, [Part::Void(Box::new(old)), new]);
            Some(())
        }
        Fault::ChecksApart | Fault::ChecksBackwards => times(fault, case, drawn, &stint),
        Fault::NoLevelBefore => {
            let is_point = |part: &Part| point(part).is_some_and(|point| point.probe == *probe);
            if case.parts[day.clone()].iter().any(is_point) {
                return None;
            }
            without_levels(&mut case.parts[day.start..*first], &stint)
        }
        Fault::NoLevelAfter => without_levels(&mut case.parts[*last..day.end], &stint),
        Fault::FailedCheckVoided | Fault::FailedThenAnew => voided(fault, case, drawn, &stint),
        _ => None,
    }
}

fn without_levels(parts: &mut [Part], stint: &Stint) -> Option<()> {
    let mut found = None;
    for part in parts {
        if let Part::Check(check) = part
            && check.probe == stint.probe
            && check.level.take().is_some()
        {
            found = Some(());
        }
    }
    found
}

/// Puts the range or the level of a check beyond its limit.
fn fail(check: &mut Check, case: &Case, drawn: &mut Drawn, range: bool) {
    let sign = drawn.one_of(&[-1.0, 1.0]);
    if range {
        let limit = case.asked().range_within.map_or(2.0, |within| within.get());
        check.off = sign * (limit + drawn.between(0.3, 8.0)) / 100.0;
        // Of a short path the next figure of what is typed may be the limit.
        check.off += sign * 0.02 / check.path;
    } else {
        let limit = case.asked().sensitivity_within.map_or(2.0, |within| within.get());
        check.level = Some((80.0, sign * (limit + drawn.between(0.2, 10.0))));
    }
}

fn off(fault: Fault, case: &mut Case, drawn: &mut Drawn, stint: &Stint) -> Option<()> {
    let range = fault == Fault::RangeOff;
    let after = || stint.next(case, stint.last, !range);
    let before = || {
        let such = |part: &Part| {
            stint.is_check(part) && (range || check(part).is_some_and(|check| check.level.is_some()))
        };
        case.parts[stint.day.start..stint.first].iter().rposition(such).map(|more| stint.day.start + more)
    };
    let place =
        if drawn.bits().is_multiple_of(2) { before().or_else(after) } else { after().or_else(before) }?;
    let mut failed = check(&case.parts[place])?.clone();
    fail(&mut failed, case, drawn, range);
    case.parts[place] = Part::Check(failed);
    Some(())
}

fn voided(fault: Fault, case: &mut Case, drawn: &mut Drawn, stint: &Stint) -> Option<()> {
    let range = drawn.bits().is_multiple_of(2);
    let good = check(&case.parts[stint.next(case, stint.last, true)?])?.clone();
    let mut failed = good.clone();
    fail(&mut failed, case, drawn, range);
    // Other work may follow, but no good check of that probe.
    let end = case.parts.len();
    stint.without_checks(case, stint.last..end);
    let failed = Part::Check(failed);
    case.parts.insert(stint.last + 1, failed.clone());
    case.parts.push(Part::Void(Box::new(failed)));
    if fault == Fault::FailedThenAnew {
        let such = |part: &Part| matches!(part, Part::Timebase { probe, .. } if *probe == stint.probe);
        let mut new = case.parts[case.in_force(such).next()?].clone();
        case.parts.push(Part::Void(Box::new(new.clone())));
        if let Part::Timebase { how, .. } = &mut new {
            *how = Timebase::Stated { velocity: 3.25, delay: drawn.between(2.0, 6.0) };
        }
        case.parts.extend([new, Part::Check(good)]);
    }
    Some(())
}

/// Sets the clock of the checks after the readings of a day.
fn times(fault: Fault, case: &mut Case, drawn: &mut Drawn, stint: &Stint) -> Option<()> {
    let allowed = case.asked().check_every;
    let Part::Date { time: Some(began), .. } = case.parts[stint.day.start] else { return None };
    let last = case.parts[stint.day.start..stint.last].iter().rev().find(|part| stint.is_check(part));
    let last = last.and_then(check).map_or(Some(began), |check| check.time)?;
    let time = match fault {
        Fault::ChecksApart => last + u32::from(allowed?) + 1 + (drawn.bits() % 300) as u32,
        _ => last - 1 - (drawn.bits() % 100) as u32,
    };
    let mut found = None;
    for part in &mut case.parts[stint.last..stint.day.end] {
        if let Part::Check(check) = part
            && check.probe == stint.probe
        {
            (check.time, found) = (Some(time.min(1439)), Some(()));
        }
    }
    found
}
