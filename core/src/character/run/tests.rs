//! Runs, their thinning, and their parting into echoes that walk.

use super::super::fixture::{Job, across, entered, indication, job, last, record};
use super::*;
use crate::record::entry::ReadingEntry;

/// A sweep across of these stand-offs and paths, in the order of their recording.
fn swept<const N: usize>(steps: [(f32, f32); N]) -> Job {
    let mut job = job([45.0]);
    for (standoff, path) in steps {
        record(&mut job, across(standoff, path, 40.0));
    }
    job
}

/// Its members, `N` at most.
fn members<'a, const N: usize>(facts: &Facts<'a>) -> Members<'a, N> {
    let mut members = Members::new(*runs(indication(facts)).first().unwrap());
    members.fill(indication(facts));
    members
}

#[test]
fn a_run_across_holds_what_was_read_within_5_mm_along_the_weld() {
    let mut job = job([45.0]);
    for x in [100.0, 105.0, 95.0, 105.5, 94.5] {
        record(&mut job, ReadingEntry { x: entered(x), ..across(20.0, 30.0, 40.0) });
    }
    let at = runs(indication(&job.facts())).iter().map(|run| run.x).collect::<std::vec::Vec<_>>();
    assert_eq!(at, [Some(100.0), Some(105.5), Some(94.5)]);
}

#[test]
fn a_run_longer_than_there_is_room_for_is_thinned_in_as_many_stretches() {
    // From 3 to 19 mm in five: the last begins a stretch of its own.
    assert_eq!((stretch(16.0, 6, 5), stretch(16.0, 5, 5), stretch(16.0, 4, 5)), (4.0, 0.0, 0.0));
    assert_eq!([0.0, 3.5, 4.0, 15.5, 16.0].map(|behind| part(behind, 4.0)), [0.0, 0.0, 1.0, 3.0, 4.0]);
}

#[test]
fn of_a_stretch_the_strongest_is_kept_and_of_equals_the_first() {
    let mut job = job([45.0]);
    // The less gain it takes to read 80 %, the stronger the echo; stretches of 4 mm from 103 mm on.
    let steps =
        [(19.0, 40.0), (3.0, 40.0), (4.0, 38.0), (6.0, 38.0), (5.0, 39.0), (12.0, 40.0), (11.5, 40.0)];
    for (standoff, gain) in steps {
        record(&mut job, across(100.0 + standoff, 30.0, gain));
    }
    let facts = job.facts();
    let thinned = members::<5>(&facts);
    assert!(thinned.all().iter().map(|member| member.at).eq([104.0, 112.0, 119.0]));
    assert_eq!(thinned.readings, 7);
    let whole = members::<7>(&facts);
    assert!(whole.all().iter().map(|member| member.at).eq([103.0, 104.0, 105.0, 106.0, 111.5, 112.0, 119.0]));
}

#[test]
fn a_step_is_the_mean_distance_of_places_and_one_place_has_none() {
    let job = swept([(10.0, 20.0), (10.0, 21.0), (12.0, 22.0), (16.0, 23.0)]);
    assert_eq!(members::<8>(&job.facts()).step(), Some(3.0));
    let job = swept([(10.0, 20.0), (10.0, 21.0)]);
    assert_eq!(members::<8>(&job.facts()).step(), None);
}

#[test]
fn the_usual_departure_is_the_median_of_those_between_places() {
    // Off the slope of one half by 0, 1, 2 and 3 mm: the upper one of the two in the middle, in whatever order.
    let job = swept([(10.0, 20.0), (12.0, 21.0), (14.0, 23.0), (16.0, 26.0), (18.0, 30.0)]);
    assert_eq!(members::<8>(&job.facts()).usual_departure(0.5), 2.0);
    let job = swept([(10.0, 20.0), (12.0, 24.0), (14.0, 27.0), (16.0, 29.0), (18.0, 30.0)]);
    assert_eq!(members::<8>(&job.facts()).usual_departure(0.5), 2.0);
    let job = swept([(10.0, 20.0), (12.0, 21.0), (14.0, 22.0), (16.0, 30.0)]);
    assert_eq!(members::<8>(&job.facts()).usual_departure(0.5), 0.0);
    // What lies at one place tells nothing of a walk.
    let job = swept([(10.0, 20.0), (12.0, 21.0), (12.0, 31.0), (12.0, 41.0)]);
    assert_eq!(members::<8>(&job.facts()).usual_departure(0.5), 0.0);
    assert_eq!(members::<8>(&swept([(10.0, 20.0)]).facts()).usual_departure(0.5), 0.0);
}

#[test]
fn two_echoes_at_one_place_are_no_walk_and_each_goes_on_with_its_nearest() {
    // Paths that grow by one half: two echoes an eighth of a millimetre apart, and one 8 mm behind.
    let paths = |behind: f32| [(10.0, 20.0 + behind), (12.0, 21.0 + behind), (14.0, 22.0 + behind)];
    let mut job = job([45.0]);
    for (standoff, path) in paths(0.0).into_iter().chain(paths(0.125)).chain(paths(8.0)) {
        record(&mut job, across(standoff, path, 40.0));
    }
    let facts = job.facts();
    let mut members = members::<16>(&facts);
    members.part(0.5, 0.5);
    assert_eq!(members.tracks, 3);
    for (track, first) in (0u8..).zip([20.0, 20.125, 28.0]) {
        assert!(members.track(track).map(|member| member.path).eq([first, first + 1.0, first + 2.0]));
    }
}

#[test]
fn a_member_is_the_reading_that_it_was_made_of() {
    let job = swept([(10.0, 20.0)]);
    let facts = job.facts();
    let member = members::<4>(&facts);
    assert!(member.all().iter().map(|member| member.reading.number()).eq([last(&facts).number()]));
}
