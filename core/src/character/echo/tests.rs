//! Places and limits of echoes, by hand.

use super::super::fixture::{at_far, echo, entered, inside, job, last, record, seen, tolerate};
use super::*;
use crate::part::side::Side::{A, B};
use crate::record::entry::ReadingEntry;

/// Right triangles of 20, 15 and 25 mm, and of 20, 21 and 29: the mean distance is 18, the mean path 27 mm.
#[test]
fn an_echo_at_a_face_lies_where_thickness_and_path_make_their_triangles() {
    let mut job = job([45.0]);
    tolerate(&mut job, 3.0, 0.75);
    let facts = job.facts();
    for (side, y) in [(A, -2.0), (B, 2.0)] {
        let echo = at_far(echo(&facts, 0, side), 0.0, 0.0);
        let of = |paths: &[f32]| at_face(&facts, &echo, paths.iter().map(|path| (echo.reading, *path)));
        let found = of(&[25.0, 29.0]).unwrap();
        assert!((found.y - y).abs() < 1e-5, "{}", found.y);
        // ∂y/∂s = 27 / 18: ((1.5 · 0.5)² + 3²) / 3, of a mean of two.
        assert!((found.own - 9.5625 / 6.0).abs() < 1e-5, "{}", found.own);
        // ∂y/∂t = 20 / 18.
        assert!((found.of_thickness - 20.0 / 18.0 * 0.75).abs() < 1e-5, "{}", found.of_thickness);
        // Those of a longer series count as four; a path that does not reach the face as none.
        let found = of(&[25.0, 29.0, 19.0, 25.0, 29.0, 25.0, 29.0]).unwrap();
        assert!((found.own - 9.5625 / 12.0).abs() < 1e-5, "{}", found.own);
        assert!(of(&[19.0, 20.0]).is_none());
    }
}

#[test]
fn one_or_two_steps_count_in_a_series_of_less_than_twelve() {
    let counts = |steps, readings| counts(0.0, 0.0, steps, readings);
    assert!(counts(1, 11) && counts(2, 11) && counts(3, 12) && counts(3, 100));
    assert!(!counts(2, 12) && !counts(1, 100));
}

#[test]
fn an_echo_more_than_26_db_below_the_strongest_is_not_looked_at() {
    let counts = |strength: f32| [counts(strength, 10.0, 3, 12), counts(strength, 10.0, 1, 11)];
    assert_eq!((counts(10.0), counts(-16.0), counts(-16.1)), ([true; 2], [true; 2], [false; 2]));
}

#[test]
fn a_beam_without_a_skew_or_with_one_of_nothing_looks_square() {
    let mut job = job([45.0]);
    for (skew, looks) in [(None, true), (Some(0.0), true), (Some(10.0), false), (Some(-10.0), false)] {
        let skew = skew.map(entered);
        record(&mut job, ReadingEntry { skew, ..seen("0", A) });
        assert_eq!(square(last(&job.facts())), looks);
    }
}

#[test]
fn a_walk_places_an_echo_where_it_knows_depth_and_then_y_better() {
    let job = job([45.0]);
    let facts = job.facts();
    let by_axis = Echo { y: 1.0, u_y: 5.0, depth: 10.0, u_depth: 2.0, ..echo(&facts, 0, A) };
    let placed = |u_depth: f32, u_y: f32| {
        let mut echo = by_axis;
        let walked = Walk { y: 2.0, u_y, depth: 11.0, u_depth, steps: 9, slope: 0.7 };
        // Twice the standard uncertainty of a rectangle of ±2√3 mm.
        place_by_walk(&mut echo, &walked, 3.464_101_6);
        assert!((echo.u_y - math::floor(echo.u_y + 0.5)).abs() < 1e-5);
        (echo.walked, echo.depth, echo.u_depth, echo.y, math::floor(echo.u_y + 0.5))
    };
    // With 4 mm of the index point, 3 mm make 5 and nothing makes 4.
    assert_eq!(placed(1.5, 0.0), (true, 11.0, 1.5, 2.0, 4.0));
    assert_eq!(placed(1.5, 3.0), (true, 11.0, 1.5, 1.0, 5.0));
    assert_eq!(placed(2.0, 0.0), (false, 10.0, 2.0, 1.0, 5.0));
}

#[test]
fn half_a_step_of_a_quarter_of_the_width_misses_three_eighths_of_a_decibel() {
    // 6 (2 / 8)².
    assert_eq!(missed(2.0, 8.0), 0.375);
}

#[test]
fn an_echo_followed_over_less_than_three_tenths_of_the_beam_is_a_fragment() {
    assert!(fragment(2.9, 10.0) && !fragment(FRAGMENT * 10.0, 10.0) && !fragment(3.1, 10.0));
}

#[test]
fn beyond_the_capacity_a_stronger_echo_takes_the_place_of_the_weakest() {
    let job = job([45.0]);
    let facts = job.facts();
    let weighed = |strength: f32, y: f32| inside(echo(&facts, 0, A), y, 10.0, strength);
    let kept = |strength: f32| {
        let mut found = Vec::new();
        // The weakest, of 1 dB, lies in the middle, and once more behind it.
        for place in 0..ECHOES {
            let strength = if place == 10 || place == 20 { 1.0 } else { place as f32 + 5.0 };
            keep(&mut found, weighed(strength, place as f32));
        }
        keep(&mut found, weighed(strength, 99.0));
        assert_eq!(found.len(), ECHOES);
        found.iter().position(|echo| echo.y == 99.0)
    };
    assert_eq!((kept(1.5), kept(50.0)), (Some(10), Some(10)));
    assert_eq!((kept(1.0), kept(0.5)), (None, None));
}
