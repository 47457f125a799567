//! What sums of evidence amount to.

use super::super::fixture::noted;
use super::*;

/// What facts say of the shape, each so much.
fn shape(planar: &[i8], root: Option<Root>) -> Option<Shape> {
    let mut found = None;
    noted(|notes| {
        for weight in planar {
            notes.add(Fact::TipObserved { seen: true }, Says::planar(*weight));
        }
        found = shape_of(notes, root);
    });
    found
}

#[test]
fn a_shape_takes_three_more_for_than_against_and_is_none_of_the_weld_s_own() {
    assert_eq!(shape(&[2, 1], None), Some(Shape::Planar));
    assert_eq!(shape(&[3, 2, -2], Some(Root::Flaw)), Some(Shape::Planar));
    assert_eq!(shape(&[-2, -1], Some(Root::Both)), Some(Shape::Volumetric));
    assert_eq!((shape(&[2], None), shape(&[-2], None), shape(&[], None)), (None, None, None));
    assert_eq!((shape(&[4], Some(Root::Geometry)), shape(&[-4], Some(Root::Geometry))), (None, None));
}

/// What facts say of flaw or shape of the weld, each so much, where a face or none is told to be broken.
fn root_by(fact: Fact, flaw: &[i8], breaks: Option<Breaks>) -> Option<Root> {
    let mut found = None;
    noted(|notes| {
        for weight in flaw {
            notes.add(fact, Says::flaw(*weight));
        }
        found = root_of(notes, breaks);
    });
    found
}

/// By place, at the far face.
fn root(flaw: &[i8]) -> Option<Root> {
    root_by(Fact::Crossed { face: Face::Far, by: 5.0, u: 1.0, pairs: 1 }, flaw, Some(Breaks::FarFace))
}

#[test]
fn what_speaks_for_a_flaw_and_what_against_it_is_summed_apart() {
    assert_eq!(root(&[2]), Some(Root::Flaw));
    assert_eq!(root(&[1, 1, -1, 0]), Some(Root::Flaw));
    assert_eq!(root(&[2, -2, 0]), Some(Root::Both));
    assert_eq!(root(&[1, -2, -1]), Some(Root::Geometry));
    assert_eq!((root(&[1, -2]), root(&[1, -1]), root(&[])), (None, None, None));
}

#[test]
fn a_flaw_is_told_at_a_face_that_is_told_and_the_shape_of_the_weld_by_its_place() {
    let placed = Fact::Crossed { face: Face::Far, by: 5.0, u: 1.0, pairs: 1 };
    assert_eq!((root_by(placed, &[2], None), root_by(placed, &[2, -2], None)), (None, None));
    assert_eq!(root_by(placed, &[-2, -1], None), Some(Root::Geometry));
    assert_eq!(root_by(placed, &[-1, -1, -1], None), None, "each thinks too little of it");
    let by_level = Fact::TipObserved { seen: true };
    assert_eq!(root_by(by_level, &[-2, -2], None), None);
    assert_eq!(root_by(placed, &[2, -3], Some(Breaks::Neither)), None, "it is at no face");
}
