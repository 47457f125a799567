use super::*;
use crate::part::joint::{JointSpec, Preparation};
use crate::units::error::RangeError;

fn mm(value: f32) -> Millimetres {
    Millimetres::constant(value)
}

/// 60 degrees in a plate of 20 mm.
fn scan(limits: Limits) -> Scan {
    let joint = Joint::new(JointSpec { gap: Some(mm(2.0)), ..JointSpec::new(mm(20.0), Preparation::Square) });
    let axis = Axis::new(Degrees::constant(60.0)).unwrap();
    Scan::anywhere(&joint.unwrap(), &axis, mm(0.0), Side::A, limits).unwrap()
}

#[test]
fn a_plan_counts_with_one_to_three_legs() {
    let counted = |legs| scan(Limits { legs, ..Limits::default() }).limits().legs;
    assert_eq!([0, 1, 2, 3, 9].map(counted), [1, 1, 2, 3, 3]);
}

/// Cap 28 wide over a groove from −1.5 to 1.5 + 18 tan 45° = 19.5: from −5 to 23.
#[test]
fn the_nearest_stand_off_counts_from_the_edge_of_the_cap_on_its_own_side() {
    let spec = JointSpec {
        bevel: Some(Degrees::constant(45.0)),
        gap: Some(mm(3.0)),
        land: Some(mm(2.0)),
        cap: Some(mm(28.0)),
        crown: Some(mm(2.0)),
        haz: Some(mm(10.0)),
        ..JointSpec::new(mm(20.0), Preparation::SingleBevel)
    };
    let axis = Axis::new(Degrees::constant(60.0)).unwrap();
    let least = |spec, side| {
        let joint = Joint::new(spec).unwrap();
        Scan::new(&joint, &axis, Some(mm(11.0)), mm(0.0), side, Limits::default()).unwrap().least()
    };
    assert_eq!((least(spec, Side::A), least(spec, Side::B)), (16.0, 34.0));
    let on_a = JointSpec { bevelled: Some(Side::A), ..spec };
    assert_eq!((least(on_a, Side::A), least(on_a, Side::B)), (34.0, 16.0));
    let given = |centre| JointSpec { centre: Some(mm(centre)), ..spec };
    assert_eq!((least(given(8.5), Side::A), least(given(8.5), Side::B)), (16.5, 33.5));
    // A cap that ends 16 mm past the centreline leaves the nose of 11 mm room up to it, but no plan sends a probe past it.
    assert_eq!(least(given(30.0), Side::A), 0.0);
}

#[test]
fn just_below_the_surface_the_beam_still_leaves_the_index_point_at_its_angle() {
    let aim = scan(Limits::default()).standoff(1, Point { y: 0.0, z: 0.002 }).unwrap();
    // s = 0.002 / cos 60, s sin 60
    assert!((aim.path - 0.004).abs() < 1e-6 && (aim.standoff - 0.003_464).abs() < 1e-6, "{aim:?}");
}

#[test]
fn the_longest_path_is_still_in_range() {
    let scan = scan(Limits { range: Some(mm(50.0)), ..Limits::default() });
    let bar = |path| scan.bar(&Aim { leg: 1, standoff: 0.0, path });
    assert_eq!((bar(50.0), bar(50.5)), (None, Some(Barrier::Range { path: 50.5, range: 50.0 })));
    let out = |value| {
        let error = RangeError { quantity: "path", unit: "mm", value, min: 0.01, max: 10_000.0 };
        scan.barrier(CurvedError::Range(error))
    };
    assert_eq!(out(12_000.0), Barrier::Range { path: 12_000.0, range: 10_000.0 });
    assert_eq!(out(-1.0), Barrier::Range { path: 10_000.0, range: 10_000.0 });
}
