//! How strongly the reflector answers from each direction.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | a, n, g | refracted angle, leg, +1 on side A and −1 on side B | deg |
//! | d | direction of incidence at the reflector, from the vertical, side A's way positive, of period 180 | deg |
//!
//! d = g a on odd legs, −g a on even ones. A plane answers alike from its front and its back, so that leg 1 from one
//! side and leg 2 from the other are one direction: hence the period.

use heapless::Vec;

use super::case::{Case, ELSEWHERE, Notes, largest, smallest};
use super::echo::{ECHOES, Echo};
use super::evidence::{Fact, Says};
use super::sample::sample;
use crate::calibration::level::Bound;
use crate::evaluate::looked_beside;
use crate::math;
use crate::part::side::{Face, Side};

/// Directions no farther apart than this are one, deg.
const ONE: f32 = 5.0;
/// The least difference of directions that is compared, deg \[R15\].
pub(super) const APART: f32 = 10.0;
/// From this difference of levels on a reflector is directional, dB \[R15\].
pub(super) const DIRECTIONAL: f32 = 9.0;
/// From this difference on nothing but a plane is. Common practice, no source.
const CLEARLY: f32 = 15.0;
/// Up to this difference it is not. Common practice, no source.
const STEADY: f32 = 6.0;
/// A level that the edges of a plane do not return, dB over the reference. Common practice, no source; simulated edges
/// of a slot reach −12.7 dB over a 3 mm side-drilled hole.
const EDGES: f32 = -9.0;

/// One direction and the best level from it.
#[derive(Clone, Copy)]
pub(super) struct Direction {
    /// d, deg.
    pub from: f32,
    /// Refracted angle, deg.
    pub angle: f32,
    pub side: Side,
    pub level: f32,
    pub bound: Bound,
    /// How far under the true peak the level may lie, dB.
    pub missed: f32,
}

/// d of an echo.
fn from(angle: f32, leg: u32, side: Side) -> f32 {
    side.signed(if leg % 2 == 1 { angle } else { -angle })
}

/// The angle between two directions, deg.
pub(super) fn between(one: f32, other: f32) -> f32 {
    let off = (one - other).abs();
    math::smaller(off, 180.0 - off)
}

/// The echoes that the directions are compared of: those of the place inside, else those at the face that most saw.
fn compared<'c, 'a>(case: &'c Case<'a>) -> impl Iterator<Item = &'c Echo<'a>> + Clone + use<'c, 'a> {
    let main = case.main().filter(|_| !Face::both().into_iter().any(|face| case.corner_peaked(face)));
    let count = |face: Face| case.at(face).chain(case.past(face)).count();
    let face = if count(Face::Near) > count(Face::Far) { Face::Near } else { Face::Far };
    case.echoes.iter().filter(move |echo| match main {
        Some(main) => echo.site.inside().is_some() && (echo.y - main.y).abs() <= main.u_y + echo.u_y,
        None => echo.site.at_or_past().is_some_and(|at| at.0 == face),
    })
}

/// Readings that looked elsewhere, and how far beside the indication.
type Elsewhere = Vec<(u32, f32), ELSEWHERE>;

/// The best level from each direction, and the limit where one was looked from in vain; and the looks that did not pass
/// the indication, which say nothing of it.
pub(super) fn directions(case: &Case<'_>) -> (Vec<Direction, ECHOES>, Elsewhere) {
    let (mut found, mut elsewhere): (Vec<Direction, ECHOES>, _) = (Vec::new(), Vec::new());
    for echo in compared(case) {
        let Some(level) = echo.peak_level() else { continue };
        let direction = Direction {
            from: from(echo.angle, echo.leg, echo.side()),
            angle: echo.angle,
            side: echo.side(),
            level: level.db.get(),
            bound: level.bound,
            missed: echo.missed,
        };
        match found
            .iter_mut()
            .find(|held| between(held.from, direction.from) <= ONE && held.side == direction.side)
        {
            Some(held) if direction.level > held.level => *held = direction,
            Some(_) => {}
            None => {
                // As many as there are echoes at most.
                let _ = found.push(direction);
            }
        }
    }
    if found.is_empty() {
        return (found, elsewhere);
    }
    let mut point = None;
    for reading in case.indication.readings().filter(|reading| reading.sweep().is_none()) {
        let Some(seen) = sample(case.facts, reading).filter(|seen| seen.bound == Bound::AtMost) else {
            continue;
        };
        let axis = case.facts.probe(reading.probe()).and_then(|state| state.axis());
        let (Some(axis), Some(level), Ok(place)) = (axis, seen.level(), seen.finding.place) else { continue };
        // Worked out for the first that asks.
        let known = *point.get_or_insert_with(|| case.indication.place());
        let Some(known) = known else { continue };
        if let Some(by) = looked_beside(case.indication, &known, &seen.finding) {
            // Beyond the capacity they are not told.
            let _ = elsewhere.push((reading.number(), by));
            continue;
        }
        let angle = axis.angle().get();
        let direction = Direction {
            from: from(angle, place.leg, reading.side()),
            angle,
            side: reading.side(),
            level: level.db.get(),
            bound: Bound::AtMost,
            missed: 0.0,
        };
        let known =
            found.iter().any(|held| between(held.from, direction.from) <= ONE && held.side == direction.side);
        if !known && found.push(direction).is_err() {
            break;
        }
    }
    (found, elsewhere)
}

/// The highest and the lowest level of two directions at least so far apart, and the angle between them; a limit counts
/// only as the lower one.
pub(super) fn extremes(directions: &[Direction], apart: f32) -> Option<(Direction, Direction, f32)> {
    let seen = directions.iter().filter(|direction| direction.bound != Bound::AtMost);
    let high = math::largest_by(seen, |direction| direction.level)?;
    let far = directions.iter().filter(|other| between(high.from, other.from) >= apart);
    let low = math::smallest_by(far, |direction| direction.level)?;
    Some((*high, *low, between(high.from, low.from)))
}

/// What the directions say; returns whether the reflector is directional.
#[inline(never)]
pub(super) fn note(case: &Case<'_>, inside: bool, notes: &mut Notes) -> bool {
    one_sided(case, notes);
    for (reading, by) in &case.elsewhere {
        notes.add(Fact::LookedElsewhere { reading: *reading, by: *by }, Says::NOTHING);
    }
    let Some((high, low, _)) = extremes(&case.directions, APART) else { return false };
    let all = || case.directions.iter();
    let count = all().count() as u32;
    let span =
        largest(all().map(|one| largest(all().map(|other| between(one.from, other.from))).unwrap_or(0.0)));
    let angles = largest(all().map(|one| one.angle)).zip(smallest(all().map(|one| one.angle)));
    // What a coarse series may have missed of the lower peak is no difference.
    let (spread, at_most) = (high.level - low.level - low.missed, low.bound == Bound::AtMost);
    let span = span.unwrap_or(0.0);
    let by_angle = angles.map_or(0.0, |(most, least)| most - least);
    let exact = high.bound == Bound::Exact;
    let says = if !inside {
        // A corner's own dependence on the angle is weighed by itself.
        Says::NOTHING
    } else if spread >= DIRECTIONAL {
        Says::planar(if spread >= CLEARLY { 3 } else { 2 })
    } else if exact
        && !at_most
        && spread <= STEADY
        && low.level >= EDGES
        && count >= 3
        && by_angle >= 2.0 * APART
    {
        Says::planar(-2)
    } else {
        Says::NOTHING
    };
    notes.add(Fact::Directions { count, span, highest: high.level, lowest: low.level, at_most }, says);
    spread >= DIRECTIONAL
}

/// One side far stronger than the other, by the same probe.
fn one_sided(case: &Case<'_>, notes: &mut Notes) {
    let exact = case.directions.iter().filter(|one| one.bound == Bound::Exact);
    let over = exact.filter_map(|one| {
        let alike = || case.directions.iter().filter(|other| (other.angle - one.angle).abs() <= ONE);
        let same = alike().filter(|same| same.side == one.side);
        if largest(same.map(|same| same.level)) != Some(one.level) {
            return None;
        }
        let others = alike().filter(|other| other.side != one.side && other.bound != Bound::AtLeast);
        Some((one.side, one.level - largest(others.map(|other| other.level))?))
    });
    let most = math::largest_by(over, |(_, over)| *over);
    if let Some((side, over)) = most.filter(|(_, over)| *over >= DIRECTIONAL) {
        notes.add(Fact::OneSided { side, over }, Says::NOTHING);
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{at_far, case, direction, echo, entered, job, level, noted, record, seen};
    use super::super::site::Site;
    use super::*;
    use crate::record::entry::{EnteredHeight, ReadingEntry, Travel};

    #[test]
    fn of_both_faces_that_as_many_saw_the_far_one_is_compared() {
        let job = job([45.0]);
        let facts = job.facts();
        let far = at_far(echo(&facts, 0, Side::A), 0.0, 0.0);
        let near = Echo { site: Site::AtFace { face: Face::Near, n: 2 }, ..far };
        let faces = |echoes: &[Echo<'_>]| {
            let case = case(&facts, echoes, &[]);
            compared(&case).filter_map(|echo| echo.site.face()).collect::<std::vec::Vec<_>>()
        };
        assert_eq!(faces(&[near, far]), [Face::Far]);
        assert_eq!(faces(&[near, far, near]), [Face::Near, Face::Near]);
    }

    #[test]
    fn of_equal_levels_from_one_direction_the_first_is_kept_and_a_stronger_one_takes_its_place() {
        let job = job([45.0]);
        let facts = job.facts();
        let told = |levels: [f32; 2]| {
            let echoes = levels.map(|db| {
                let echo = at_far(echo(&facts, 0, Side::A), 0.0, 0.0);
                Echo { level: level(db), missed: db, angle: 45.0, ..echo }
            });
            let [first, second] = echoes;
            let second = Echo { angle: 48.0, ..second };
            directions(&case(&facts, &[first, second], &[]))
                .0
                .iter()
                .map(|one| one.angle)
                .collect::<std::vec::Vec<_>>()
        };
        assert_eq!((told([3.0, 3.0]), told([3.0, 2.0])), (std::vec![45.0], std::vec![45.0]));
        assert_eq!(told([3.0, 4.0]), [48.0]);
    }

    #[test]
    fn a_look_in_vain_counts_from_each_direction_that_passed_the_indication_and_nothing_was_seen_from() {
        let mut job = job([45.0, 70.0]);
        let looked = |probe, side| ReadingEntry { height: EnteredHeight::Under, ..seen(probe, side) };
        // The paths of 30 mm at 45 degrees end at z 18.8 in the second leg; at 70 degrees one of 55 mm does in the first.
        let (standoff, travel) = (entered(50.5), Travel::Path(entered(55.0)));
        record(&mut job, looked("0", Side::A));
        record(&mut job, ReadingEntry { standoff, travel, ..looked("1", Side::A) });
        record(&mut job, looked("0", Side::B));
        // 8 mm above it and 7 mm beside it; and 100 mm along the weld.
        record(&mut job, looked("1", Side::B));
        let along = ReadingEntry { x: entered(100.0), ..looked("0", Side::B) };
        record(&mut job, along);
        let facts = job.facts();
        let strong = Echo { level: level(0.0), ..at_far(echo(&facts, 0, Side::A), 0.0, 0.0) };
        let (found, elsewhere) = directions(&case(&facts, &[strong], &[]));
        let told: std::vec::Vec<_> = found.iter().map(|one| (one.from, one.side, one.bound)).collect();
        let in_vain = [(-45.0, Side::A), (70.0, Side::A), (45.0, Side::B)]
            .map(|(from, side)| (from, side, Bound::AtMost));
        assert_eq!(told.first(), Some(&(45.0, Side::A, Bound::Exact)));
        assert_eq!(told.get(1..), Some(&in_vain[..]));
        let by: std::vec::Vec<f32> = elsewhere.iter().map(|(_, by)| math::floor(*by)).collect();
        assert!(matches!(by[..], [5.0..15.0, 100.0..102.0]), "{elsewhere:?}");
    }

    /// What levels from some directions say of the shape of a place inside.
    fn said(directions: &[Direction]) -> i8 {
        let job = job([45.0]);
        let facts = job.facts();
        let mut case = case(&facts, &[], &[]);
        case.directions.extend(directions.iter().copied());
        let list = noted(|notes| {
            note(&case, true, notes);
        });
        list.iter().map(|evidence| evidence.says.planar).sum()
    }

    #[test]
    fn levels_within_6_decibels_from_three_directions_over_20_degrees_are_those_of_a_body() {
        let levels = |levels: [f32; 3], from: [f32; 3]| {
            let [a, b, c] = [0, 1, 2].map(|place: usize| (from.get(place), levels.get(place)));
            [a, b, c].map(|(from, level)| direction(*from.unwrap(), Side::A, *level.unwrap()))
        };
        let wide = [45.0, 55.0, 65.0];
        let steady = levels([0.0, -2.0, -6.0], wide);
        let [first, second, third] = steady;
        assert_eq!(said(&steady), -2);
        assert_eq!(said(&levels([0.0, -2.0, -6.5], wide)), 0, "6.5 dB apart");
        assert_eq!(said(&levels([-3.0, -5.0, -9.0], wide)), -2);
        assert_eq!(said(&levels([-3.5, -5.0, -9.5], wide)), 0, "as weak as edges");
        assert_eq!(said(&levels([0.0, -2.0, -6.0], [45.0, 55.0, 60.0])), 0, "15 degrees");
        assert_eq!(said(&[first, third]), 0, "two directions");
        assert_eq!(said(&[Direction { bound: Bound::AtLeast, ..first }, second, third]), 0, "at least");
        assert_eq!(said(&[first, second, Direction { bound: Bound::AtMost, ..third }]), 0, "at most");
        assert_eq!(said(&levels([0.0, -2.0, -9.0], wide)), 2);
        assert_eq!(said(&levels([0.0, -2.0, -15.0], wide)), 3);
    }

    #[test]
    fn sides_are_held_against_each_other_at_one_angle() {
        let told = |directions: &[Direction]| {
            let job = job([45.0]);
            let facts = job.facts();
            let mut case = case(&facts, &[], &[]);
            case.directions.extend(directions.iter().copied());
            noted(|notes| one_sided(&case, notes)).first().map(|evidence| evidence.fact)
        };
        let one_sided = |side, over| Some(Fact::OneSided { side, over });
        let [a, steep, b] = [(45.0, Side::A, 10.0), (70.0, Side::A, 20.0), (-45.0, Side::B, 0.0)]
            .map(|(from, side, level)| direction(from, side, level));
        assert_eq!(told(&[a, steep, b]), one_sided(Side::A, 10.0));
        assert_eq!(told(&[a, Direction { level: 1.0, ..b }]), one_sided(Side::A, 9.0));
        assert_eq!(told(&[a, Direction { level: 1.5, ..b }]), None);
        // At two angles alike the first; at two unlike the larger.
        let other = direction(-70.0, Side::B, 30.0);
        assert_eq!(told(&[a, steep, b, other]), one_sided(Side::A, 10.0));
        assert_eq!(told(&[a, steep, b, Direction { level: 35.0, ..other }]), one_sided(Side::B, 15.0));
    }

    #[test]
    fn directions_are_counted_from_side_a_downward_and_lie_at_most_a_right_angle_apart() {
        assert_eq!([(1, Side::A), (2, Side::A), (3, Side::A)].map(|(leg, side)| from(60.0, leg, side)), {
            let sign = Side::A.sign();
            [60.0 * sign, -60.0 * sign, 60.0 * sign]
        });
        assert_eq!(from(60.0, 1, Side::B), -from(60.0, 1, Side::A));
        for (one, other, apart) in [
            (60.0, 45.0, 15.0),
            (-60.0, 60.0, 60.0),
            (45.0, -45.0, 90.0),
            (-70.0, 60.0, 50.0),
            (20.0, 20.0, 0.0),
        ] {
            assert_eq!((between(one, other), between(other, one)), (apart, apart));
        }
    }
}
