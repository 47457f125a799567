//! Corners, echoes by way of a face and places inside: margins and depths by hand.

use super::super::beamwidth::BeamTravel;
use super::super::case::EVIDENCE;
use super::super::evidence::Evidence;
use super::super::fixture::{at_far, case, echo, inside as placed, job, level, look, noted, place};
use super::super::site::Site;
use super::*;
use crate::part::side::Side;
use crate::record::examination::Facts;

/// What the far face answers with, where each of some stands sees it and, some of them, the place inside so much weaker;
/// so many stands confirm that place.
fn answer(margins: &[Option<f32>], stands: u32) -> (Option<AtTheFace>, heapless::Vec<Evidence, EVIDENCE>) {
    let job = job([45.0, 60.0, 70.0]);
    let facts = job.facts();
    let mut echoes = std::vec::Vec::new();
    for (margin, probe) in margins.iter().zip(0..) {
        let echo = echo(&facts, probe, Side::A);
        echoes.push(at_far(echo, 0.0, 0.0));
        echoes.extend(margin.map(|margin| placed(echo, 0.0, 10.0, -margin)));
    }
    let case = case(&facts, &echoes, &[Group { stands, ..place(0.0, 10.0) }]);
    let mut found = None;
    let list = noted(|notes| found = at_face(&case, Face::Far, notes));
    (found, list)
}

#[test]
fn echoes_at_a_face_are_by_way_of_it_up_to_11_decibels_over_those_inside_of_half_their_stands() {
    let (found, list) = answer(&[Some(11.0), Some(5.0)], 2);
    assert_eq!(found, Some(AtTheFace::ByWayOf));
    let fact = Fact::ByWayOf { face: Face::Far, margin: 11.0 };
    assert!(list.contains(&Evidence { fact, says: Says::breaks(Face::Far, -2).and_buried(1) }));
    assert_eq!(answer(&[Some(5.0), None], 2).0, Some(AtTheFace::ByWayOf));
    // One stand of three; and one of two that is over it.
    assert_eq!(answer(&[Some(5.0), None, None], 2).0, Some(AtTheFace::Untold));
    assert_eq!(answer(&[Some(11.5), Some(5.0)], 2).0, Some(AtTheFace::Untold));
}

#[test]
fn a_corner_stands_14_decibels_over_everything_inside_and_two_stands_see_it() {
    let (found, list) = answer(&[Some(15.0), Some(14.0)], 2);
    assert_eq!(found, Some(AtTheFace::Corner));
    let fact = Fact::OverInside { face: Face::Far, margin: 14.0 };
    assert!(list.contains(&Evidence { fact, says: Says::breaks(Face::Far, 2).and_buried(-2) }));
    assert_eq!(answer(&[Some(16.0), Some(15.0), Some(20.0)], 2).0, Some(AtTheFace::Corner));
    assert_eq!(answer(&[Some(15.0), Some(13.5)], 2).0, Some(AtTheFace::Untold));
    assert_eq!(answer(&[Some(15.0)], 2).0, Some(AtTheFace::Untold));
}

#[test]
fn stands_that_see_nothing_inside_stand_alone_unless_more_of_them_place_it_there() {
    let (found, list) = answer(&[None, None], 2);
    assert_eq!(found, Some(AtTheFace::Alone));
    let fact = Fact::NothingInside { face: Face::Far, views: 2 };
    assert!(list.contains(&Evidence { fact, says: Says::breaks(Face::Far, 1) }));
    assert_eq!(answer(&[None, None, None], 2).0, Some(AtTheFace::Alone));
    assert_eq!(answer(&[None, None], 3).0, Some(AtTheFace::Untold));
}

#[test]
fn a_stand_s_best_echo_at_a_face_lies_at_most_14_decibels_under_its_strongest() {
    let job = job([45.0]);
    let facts = job.facts();
    let echo = echo(&facts, 0, Side::A);
    let counted = |over: f32| {
        let case = case(&facts, &[at_far(echo, 0.0, 0.0), placed(echo, 0.0, 10.0, over)], &[]);
        best(&case, Face::Far).count()
    };
    assert_eq!((counted(14.0), counted(14.5)), (1, 0));
}

/// 1 mm of its own, 2 √2.25 mm of the corner's, and 2 mm that a flaw leans by.
#[test]
fn the_edge_of_a_flaw_lies_within_what_both_are_known_to_and_its_lean() {
    let at = AtFace { y: 4.0, own: 2.25, of_thickness: 0.0 };
    assert!([-2.0, 4.0, 10.0].into_iter().all(|y| above_or_beside(y, 1.0, &at)));
    assert!(![-2.25, 10.25].into_iter().any(|y| above_or_beside(y, 1.0, &at)));
}

#[test]
fn an_echo_is_wide_from_1_6_times_the_beam_of_less_than_54_degrees() {
    let job = job([45.0]);
    let facts = job.facts();
    let told = |angle: f32, width: f32| {
        let beam = BeamTravel { least: 8.0, most: Some(10.0), wedge_assumed: false };
        let echo = at_far(echo(&facts, 0, Side::A), 0.0, 0.0);
        let echo = Echo { angle, look: look(width), beam: Some(beam.into()), ..echo };
        let mut found = false;
        let list = noted(|notes| found = wide(&case(&facts, &[echo], &[]), Face::Far, notes));
        assert_eq!(list.len(), usize::from(found));
        found
    };
    assert!(told(45.0, WIDE * 10.0) && told(53.5, 17.0));
    assert!(!told(45.0, 15.5) && !told(54.0, 17.0));
}

#[test]
fn a_level_under_4_decibels_is_weak_for_a_corner() {
    let job = job([45.0]);
    let facts = job.facts();
    let told = |db: f32| {
        let echoes = [db, -20.0].map(|db| Echo { level: level(db), ..echo(&facts, 0, Side::A) });
        noted(|notes| weak(&case(&facts, &echoes, &[]), Face::Far, notes))
            .first()
            .map(|evidence| evidence.fact)
    };
    assert_eq!(told(4.0), None);
    assert_eq!(told(3.5), Some(Fact::WeakAtFace { face: Face::Far, level: 3.5, limit: LIKELY }));
}

#[test]
fn both_faces_answer_alike_within_10_decibels_and_4_mm_across() {
    let job = job([45.0]);
    let facts = job.facts();
    let apart = |y: f32, strength: f32| {
        let far = at_far(echo(&facts, 0, Side::A), 2.0, 0.0);
        let near = at_far(echo(&facts, 0, Side::B), 2.0 - y, strength);
        let near = Echo { site: Site::AtFace { face: Face::Near, n: 2 }, ..near };
        at_both(&case(&facts, &[far, near], &[]))
    };
    assert_eq!((apart(4.0, 10.0), apart(-4.0, -10.0)), (Some(10.0), Some(10.0)));
    assert_eq!((apart(4.25, 10.0), apart(-4.25, 0.0), apart(0.0, 10.5)), (None, None, None));
}

#[test]
fn two_ends_lean_as_the_triangle_between_them() {
    let (upper, lower) = (place(4.0, 5.0), place(1.0, 9.0));
    // atan 3/4, from either side.
    assert!((tilt(&upper, &lower) - 36.87).abs() < 0.01);
    assert!((tilt(&Group { y: -2.0, ..upper }, &lower) - 36.87).abs() < 0.01);
}

/// Depths known to 3 and 4 mm differ from 5 mm on.
#[test]
fn one_place_lies_above_the_other_beyond_both_uncertainties_and_more_so_than_beside_it() {
    let upper = Group { u_z: 3.0, ..place(10.0, 10.0) };
    let lower = Group { u_z: 4.0, ..place(13.0, 15.5) };
    let both = |upper: &Group, lower: &Group| {
        assert_eq!(one_above_the_other(upper, lower), one_above_the_other(lower, upper));
        one_above_the_other(upper, lower)
    };
    assert!(both(&upper, &lower));
    assert!(!both(&upper, &Group { z: 15.0, ..lower }));
    assert!(both(&upper, &Group { y: 4.5, ..lower }) && !both(&upper, &Group { y: 16.0, ..lower }));
    assert!(!both(&upper, &Group { direct: false, ..lower }));
    assert!(!both(&upper, &Group { stands: 1, ..lower }));
}

/// Ends at 5 and 15 mm, each seen by one echo.
fn ends_of<'a>(facts: &Facts<'a>, upper: Echo<'a>, lower: Echo<'a>) -> Option<(Group, Group)> {
    let echoes = [Echo { group: Some(0), ..lower }, Echo { group: Some(1), ..upper }];
    ends(&case(facts, &echoes, &[place(0.0, 15.0), place(0.0, 5.0)]))
}

#[test]
fn ends_were_seen_by_one_stand_in_one_leg_and_the_upper_one_comes_first() {
    let job = job([45.0]);
    let facts = job.facts();
    let (one, other) = (echo(&facts, 0, Side::A), echo(&facts, 0, Side::B));
    let (upper, lower) = ends_of(&facts, one, one).unwrap();
    assert_eq!((upper.z, lower.z), (5.0, 15.0));
    assert_eq!(ends_of(&facts, one, other), None);
    assert_eq!(ends_of(&facts, one, Echo { leg: 2, ..one }), None);
}

#[test]
fn a_body_is_as_thick_as_odd_and_even_legs_tell_of_what_lies_near_it() {
    let job = job([45.0]);
    let facts = job.facts();
    // Two echoes of either leg, half a millimetre known across as the place is.
    let told = |y: f32, below: f32| {
        let near = |leg: u32, z: f32| Echo { leg, u_y: 0.5, ..placed(echo(&facts, 0, Side::A), y, z, 0.0) };
        let echoes = [near(1, 8.0), near(2, below), near(3, 8.0), near(2, below)];
        body(&case(&facts, &echoes, &[Group { u_y: 0.5, ..place(0.0, 10.0) }]))
    };
    assert_eq!((told(1.0, 12.0), told(-1.0, 12.0)), (Some((8.0, 12.0)), Some((8.0, 12.0))));
    assert_eq!((told(1.25, 12.0), told(0.0, 4.0)), (None, None));
}

#[test]
fn a_depth_is_deeper_beyond_what_both_are_known_to() {
    assert!(deeper((15.5, 3.0), (10.0, 4.0)) && deeper((15.5, 4.0), (10.0, 3.0)));
    assert!(!deeper((15.0, 3.0), (10.0, 4.0)) && !deeper((4.0, 3.0), (10.0, 4.0)));
    assert!(deeper((10.5, 0.25), (10.0, 0.25)) && !deeper((10.25, 0.25), (10.0, 0.25)));
}
