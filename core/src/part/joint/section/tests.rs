use super::*;
use crate::part::joint::{Backing, FaceKind, JointSpec, Preparation};
use crate::units::Degrees;

fn mm(value: f32) -> Option<Millimetres> {
    Millimetres::new(value).ok()
}

/// 40 mm with 2 mm gap and land, 10 degrees of bevel and a radius of 6 mm, as far as the preparation has them.
fn section(preparation: Preparation) -> Section {
    let prepared = preparation != Preparation::Square;
    let spec = JointSpec {
        bevel: Degrees::new(10.0).ok().filter(|_| prepared),
        gap: mm(2.0),
        land: mm(2.0).filter(|_| prepared),
        cap: mm(30.0),
        crown: mm(2.0),
        bead: mm(6.0),
        excess: mm(1.0),
        haz: mm(8.0),
        ..JointSpec::new(Millimetres::constant(40.0), preparation)
    };
    Joint::new(spec).unwrap().section()
}

#[test]
fn symmetric_preparations_mirror_to_the_last_bit_and_the_others_do_not() {
    for preparation in Preparation::ALL {
        let body = section(preparation).body();
        let mirrored = body.iter().rev().map(|point| Point { y: 0.0 - point.y, z: point.z });
        assert_eq!(body.iter().copied().eq(mirrored), preparation.is_symmetric(), "{preparation}");
    }
}

/// Derived: the exact area of one curve and bevel beyond the half gap, d = 38 or 19, r = 6, b = 10 degrees.
#[test]
fn areas_agree_with_the_exact_formulas() {
    let (sin, cos, tan) = (0.173_648_18f32, 0.984_807_7f32, 0.176_326_98f32);
    let bevel = |depth: f32| 0.5 * depth * depth * tan;
    let curve = |depth: f32| {
        let straight = depth - 6.0 + 6.0 * sin;
        // Sector of 80 degrees less the triangle below the bevel's foot, then the bevel's trapezium.
        let sector = 0.5 * 36.0 * 80f32.to_radians() - 0.5 * 36.0 * sin * cos;
        sector + straight * 6.0 * cos + 0.5 * straight * straight * tan
    };
    for (preparation, beyond, tolerance) in [
        (Preparation::Square, 0.0, 1e-6),
        (Preparation::SingleV, 2.0 * bevel(38.0), 1e-6),
        (Preparation::DoubleV, 4.0 * bevel(19.0), 1e-6),
        (Preparation::SingleBevel, bevel(38.0), 1e-6),
        (Preparation::DoubleBevel, 2.0 * bevel(19.0), 1e-6),
        (Preparation::SingleU, 2.0 * curve(38.0), 1e-3),
        (Preparation::DoubleU, 4.0 * curve(19.0), 2e-3),
        (Preparation::SingleJ, curve(38.0), 1e-3),
        (Preparation::DoubleJ, 2.0 * curve(19.0), 2e-3),
    ] {
        let (area, exact) = (section(preparation).area(), 80.0 + beyond);
        // Chords lie inside the curve, so they can only take away.
        assert!(
            area <= exact * (1.0 + 1e-6) && area >= exact * (1.0 - tolerance),
            "{preparation} {area} {exact}"
        );
    }
}

#[test]
fn the_upright_face_is_on_side_a_until_told_otherwise() {
    let section = section(Preparation::SingleBevel);
    assert_eq!(section.half_width(Side::A, 0.0), Some(1.0));
    assert!(section.half_width(Side::B, 0.0).unwrap() > 7.0);
    let [a, b] = section.root_edges();
    assert_eq!((a.from.y, a.from.z, a.to.z), (-1.0, 38.0, 40.0));
    assert_eq!((b.from.y, b.from.z, b.to.z), (1.0, 38.0, 40.0));
}

#[test]
fn a_double_preparation_has_its_root_at_mid_thickness() {
    for edge in section(Preparation::DoubleU).root_edges() {
        assert_eq!((edge.from.z, edge.to.z, edge.to.y.abs()), (19.0, 21.0, 1.0));
    }
}

#[test]
fn what_is_inside_follows_groove_cap_and_bead() {
    let section = section(Preparation::SingleV);
    let inside = |y, z| section.contains(Point { y, z });
    assert!(inside(0.0, 20.0) && inside(-1.0, 40.0) && inside(7.5, 0.5) && inside(-7.5, 0.5));
    assert!(!inside(1.1, 39.0) && !inside(8.0, 0.5));
    // Cap 30 wide and 2 high, bead 6 wide and 1 high.
    assert!(inside(0.0, -2.0) && !inside(0.0, -2.1) && !inside(14.9, -0.1) && inside(10.0, -1.0));
    assert!(inside(0.0, 41.0) && !inside(0.0, 41.1) && !inside(2.9, 40.9));
    assert_eq!(section.weld_extent(Side::A), 15.0);
    assert_eq!(section.heat_affected_extent(Side::B), Some(23.0));
    assert_eq!(section.heat_affected(Side::B, 39.0), Some((1.0, 9.0)));
    assert_eq!(section.heat_affected(Side::B, 41.0), None);
}

#[test]
fn bevels_tilt_by_their_angle_toward_their_own_face() {
    for face in section(Preparation::DoubleV).fusion_faces() {
        let expected = match face.kind {
            FaceKind::Bevel if face.to.z < 20.0 => 10.0,
            FaceKind::Bevel => -10.0,
            _ => 0.0,
        };
        assert!((face.tilt().unwrap().get() - expected).abs() < 1e-4, "{face:?}");
    }
}

#[test]
fn a_backing_bar_lies_below_the_far_face_about_the_centreline() {
    let backing = Some(Backing { width: Millimetres::constant(25.0), height: Millimetres::constant(5.0) });
    let spec = JointSpec { backing, ..JointSpec::new(Millimetres::constant(20.0), Preparation::Square) };
    let spec = JointSpec { gap: mm(6.0), ..spec };
    let corners = Joint::new(spec).unwrap().section().backing().unwrap().map(|Point { y, z }| (y, z));
    assert_eq!(corners, [(-12.5, 20.0), (12.5, 20.0), (12.5, 25.0), (-12.5, 25.0)]);
}
