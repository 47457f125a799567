//! The days at the weld: checks before, between and after the readings.

use halfskip::math::{larger, smaller};

use super::case::{Case, point};
use super::part::{Check, Part, Point, Seen};
use super::set_up::Draft;
use super::sound::movements;
use crate::drawn::Drawn;

/// The first day.
const FIRST: u32 = 10;

/// The clock of a job whose times are recorded.
struct Clock(Option<u32>);

impl Clock {
    fn next(&mut self, drawn: &mut Drawn) -> Option<u32> {
        let minutes = drawn.between(5.0, 55.0) as u32;
        self.0 = self.0.map(|time| time + minutes);
        self.0
    }
}

/// Records the readings of each view, on one day or on several; `crossed` are the stand-offs of movements across the
/// weld, by probe, where these are asked for.
pub fn work(
    drawn: &mut Drawn,
    case: &mut Case,
    drafts: &[Draft],
    views: Vec<Vec<Seen>>,
    crossed: Option<Vec<(f32, f32)>>,
) {
    let days = drawn.one_of(&[0, 1, 1, 2, 3]).min(views.len());
    let timed = days > 0 && drawn.bits().is_multiple_of(2);
    let mut clock = Clock(timed.then(|| 420 + (drawn.bits() % 120) as u32));
    let date = |day: usize, clock: &Clock| Part::Date { day: FIRST + day as u32, time: clock.0 };
    if days > 0 {
        case.parts.insert(0, date(0, &clock));
    }
    let mut left = views.into_iter().enumerate().peekable();
    for day in 0..days.max(1) {
        let count = left.len().div_ceil(days.max(1) - day);
        let todays: Vec<(usize, Vec<Seen>)> = left.by_ref().take(count).collect();
        if day > 0 {
            clock = Clock(timed.then(|| 420 + (drawn.bits() % 120) as u32));
            case.parts.push(date(day, &clock));
        }
        let mut used: Vec<&Draft> = drafts.iter().collect();
        used.retain(|draft| todays.iter().any(|(_, seen)| seen[0].probe == draft.name));
        for draft in &used {
            // What was measured that day is its first check.
            if day > 0 || draft.timebase_stated || drawn.bits().is_multiple_of(2) {
                check(drawn, case, draft, &mut clock);
            }
        }
        let last = todays.len() - 1;
        for (place, (view, seen)) in todays.into_iter().enumerate() {
            let first = seen[0].clone();
            let from_to = seen
                .iter()
                .map(|seen| seen.x)
                .fold((f32::MAX, f32::MIN), |(low, high), x| (smaller(low, x), larger(high, x)));
            case.parts.extend(seen.into_iter().map(Part::Reading));
            if let (Some(crossed), 0) = (&crossed, view) {
                cross(case, drafts, &first, from_to, crossed);
            }
            if place < last && drawn.bits().is_multiple_of(3) {
                let draft = used.iter().find(|draft| draft.name == first.probe);
                draft.into_iter().for_each(|draft| check(drawn, case, draft, &mut clock));
            }
        }
        for draft in used {
            check(drawn, case, draft, &mut clock);
        }
    }
}

/// The probe of the first view across the weld, from both sides, at steps along the sweep.
fn cross(case: &mut Case, drafts: &[Draft], seen: &Seen, (low, high): (f32, f32), crossed: &[(f32, f32)]) {
    let Some(place) = drafts.iter().position(|draft| draft.name == seen.probe) else { return };
    let steps = larger(((high - low) / 2.0).ceil(), 1.0);
    for side in ['a', 'b'] {
        let seen = Seen { side, ..seen.clone() };
        for step in 0..=steps as u16 {
            let x = low + (high - low) * f32::from(step) / steps;
            case.parts.extend(movements(&seen, x, crossed[place]));
        }
    }
}

/// One check of range and sensitivity, or one of each.
fn check(drawn: &mut Drawn, case: &mut Case, draft: &Draft, clock: &mut Clock) {
    let limits = case.asked();
    let range = 0.008 * limits.range_within.map_or(2.0, |within| within.get());
    let level = 0.8 * limits.sensitivity_within.map_or(2.0, |within| within.get());
    let of_probe = case.parts.iter().filter_map(point).filter(|point| point.probe == draft.name);
    let paths: Vec<f32> = of_probe.map(|point: &Point| point.path).collect();
    let apart = drawn.bits().is_multiple_of(5);
    let mut one = |drawn: &mut Drawn, with_level: bool| {
        let level = with_level.then(|| (drawn.between(50.0, 95.0).round(), drawn.between(-level, level)));
        Part::Check(Check {
            probe: draft.name,
            path: drawn.one_of(&paths),
            off: drawn.between(-range, range),
            level,
            time: clock.next(drawn),
        })
    };
    let mut checks = vec![one(drawn, true)];
    if apart {
        checks.insert(0, one(drawn, false));
        checks.swap(0, 1);
    }
    case.parts.extend(checks);
}
