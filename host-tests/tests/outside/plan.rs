//! The scan plan: against a published case, against places, and against points tried one by one.

use halfskip::part::Part;
use halfskip::part::joint::{
    Curvature, FaceKind, Joint, JointSpec, Point, Preparation, Reach, ScannedFrom, Section,
};
use halfskip::part::locate::{Peaked, Position, Side, locate};
use halfskip::part::path::Axis;
use halfskip::planning::plan::{
    Barrier, CANDIDATES, Limits, PlanError, Scan, Target, TargetKind, scan_width, suggest, targets,
};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::drawn::Drawn;

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

fn axis(angle: f32) -> Axis {
    Axis::new(Degrees::new(angle).unwrap()).unwrap()
}

const NONE: Millimetres = Millimetres::constant(0.0);

/// A single V of 20 mm with 30 degrees of bevel and a cap of 26 mm.
fn single_v() -> JointSpec {
    JointSpec {
        bevel: Some(Degrees::constant(30.0)),
        gap: Some(mm(3.0)),
        land: Some(mm(2.0)),
        cap: Some(mm(26.0)),
        crown: Some(mm(2.0)),
        haz: Some(mm(8.0)),
        ..JointSpec::new(mm(20.0), Preparation::SingleV)
    }
}

fn all_targets(section: &Section) -> Vec<Target> {
    let mut found = Vec::new();
    targets(section, |target| found.push(target));
    found
}

/// Published: non-destructive testing worker examination bank (Chinese), thickness 30, cap half-width 30, root
/// half-width 15, nose 15 mm: the whole weld is covered from tan a >= 2. There leg 1 just meets the far edge of the root
/// with the probe against the cap.
#[test]
fn the_least_angle_for_the_root_is_the_published_one() {
    let spec = JointSpec {
        gap: Some(mm(30.0)),
        cap: Some(mm(60.0)),
        crown: Some(mm(2.0)),
        ..JointSpec::new(mm(30.0), Preparation::Square)
    };
    let joint = Joint::new(spec).unwrap();
    let far_root = Point { y: 15.0, z: 30.0 };
    let aim = |angle: f32| {
        let scan = Scan::new(&joint, &axis(angle), Some(mm(15.0)), NONE, Side::A, Limits::default()).unwrap();
        (scan.standoff(1, far_root).unwrap().standoff - scan.least(), scan.aim(1, far_root))
    };
    // atan 2 = 63.435 degrees, the source prints 63.4
    assert!(aim(63.434_95).0.abs() < 1e-3);
    assert!(matches!(aim(63.35).1, Err(Barrier::Cap { .. })));
    assert!(aim(63.45).1.is_ok());
}

/// A joint of any kind, on a plate or around a pipe.
fn drawn_joint(from: &mut Drawn) -> Joint {
    let thickness = from.between(8.0, 40.0);
    let preparation = from.one_of(&Preparation::ALL);
    let prepared = preparation != Preparation::Square;
    let scanned = from.one_of(&[ScannedFrom::Outside, ScannedFrom::Inside]);
    let around = Curvature::AroundPipe { od: mm(thickness * from.between(4.0, 60.0)), from: scanned };
    let spec = JointSpec {
        bevel: Degrees::new(from.between(5.0, 40.0)).ok().filter(|_| prepared),
        gap: Some(mm(from.between(0.0, 5.0))),
        land: Some(mm(from.between(0.5, 3.0))).filter(|_| prepared),
        radius: Some(mm(from.between(0.5, 2.0))).filter(|_| preparation.has_radius()),
        cap: Some(mm(from.between(5.0, 40.0))),
        crown: Some(mm(from.one_of(&[0.0, 2.0]))),
        haz: Some(mm(from.between(2.0, 12.0))),
        curvature: from.one_of(&[None, Some(around)]),
        ..JointSpec::new(mm(thickness), preparation)
    };
    Joint::new(spec).unwrap()
}

fn drawn_scan(from: &mut Drawn, joint: &Joint) -> Option<(Scan, Axis, f32)> {
    let (axis, index) = (axis(from.between(35.0, 72.0)), from.between(-2.0, 2.0));
    let side = from.one_of(&[Side::A, Side::B]);
    let range = from.one_of(&[None, Some(mm(from.clone().between(30.0, 200.0)))]);
    let limits = Limits { legs: 3, range, ..Limits::default() };
    Some((Scan::new(joint, &axis, Some(mm(8.0)), mm(index), side, limits).ok()?, axis, index))
}

#[test]
fn a_probe_put_where_the_plan_says_locates_the_point_that_was_aimed_at() {
    let (mut from, mut compared) = (Drawn::seeded(50), 0);
    for _ in 0..3_000 {
        let joint = drawn_joint(&mut from);
        let Some((scan, axis, index)) = drawn_scan(&mut from, &joint) else { continue };
        let point =
            Point { y: from.between(-20.0, 20.0), z: joint.thickness().get() * from.between(0.02, 0.98) };
        let leg = from.one_of(&[1, 2, 3]);
        let Ok(aim) = scan.aim(leg, point) else { continue };
        compared += 1;
        let position = Position::new(scan.side(), mm(0.0), mm(aim.standoff), mm(index)).unwrap();
        let part = Part::of(&joint).unwrap();
        let place = locate(&axis, &part, &position, mm(aim.path), Peaked::Axis).unwrap();
        assert_eq!(place.leg, leg);
        let term = aim.path + aim.standoff;
        assert!((place.y.get() - point.y).abs() < 2e-5 * term, "{place:?} {point:?}");
        assert!((place.z.get() - point.z).abs() < 2e-5 * term, "{place:?} {point:?}");
    }
    assert!(compared > 1_000, "{compared}");
}

#[test]
fn the_share_of_a_target_is_what_trying_its_points_gives() {
    let (mut from, mut partial) = (Drawn::seeded(51), 0);
    for _ in 0..150 {
        let joint = drawn_joint(&mut from);
        let Some((scan, ..)) = drawn_scan(&mut from, &joint) else { continue };
        for target in all_targets(&joint.section()) {
            for leg in scan.allowed() {
                let (mut all, mut met) = (0.0, 0.0);
                let (mut low, mut high) = (f32::INFINITY, f32::NEG_INFINITY);
                for (start, end) in target.pieces() {
                    let length = f64::from(end.y - start.y).hypot(f64::from(end.z - start.z));
                    for step in 0..200 {
                        let part = (step as f32 + 0.5) / 200.0;
                        let point = Point {
                            y: start.y + (end.y - start.y) * part,
                            z: start.z + (end.z - start.z) * part,
                        };
                        all += length;
                        if let Ok(aim) = scan.aim(leg, point) {
                            met += length;
                            low = if aim.standoff < low { aim.standoff } else { low };
                            high = if aim.standoff > high { aim.standoff } else { high };
                        }
                    }
                }
                if all == 0.0 {
                    continue;
                }
                let expected = met / all;
                match scan.reach(leg, &target) {
                    Ok(reach) => {
                        assert!(
                            (f64::from(reach.share) - expected).abs() < 0.02,
                            "{target:?} leg {leg} {reach:?} {expected} {joint:?} {scan:?}"
                        );
                        if met > 0.0 {
                            // The points tried stand half a step away from the ends, and near the deepest point of a
                            // beam that misses the bore half a step is far along the surface.
                            let slack =
                                if scan.legs().misses_bore() { 10.0 } else { 0.02 * (high - low) + 1.0 };
                            // Before the stand-offs from which it meets a cap may lie less than half a step.
                            let slack = slack + scan.turned_off(leg).map(|(from, to)| to - from).sum::<f32>();
                            // An extreme between two cuts of a curved line is missed by a little.
                            assert!(reach.from <= low + 0.05 && reach.from >= low - slack, "{reach:?} {low}");
                            assert!(reach.to >= high - 0.05 && reach.to <= high + slack, "{reach:?} {high}");
                        }
                        assert_eq!(reach.share < 0.9999, reach.barrier.is_some(), "{reach:?} {expected}");
                        partial += usize::from(reach.share < 0.98);
                    }
                    Err(_) => assert!(expected < 0.02, "{target:?} {expected}"),
                }
            }
        }
    }
    assert!(partial > 100, "{partial}");
}

#[test]
fn a_bevel_is_met_squarely_by_the_leg_that_fits_it() {
    let joint = Joint::new(single_v()).unwrap();
    let scan = Scan::new(&joint, &axis(60.0), Some(mm(11.0)), NONE, Side::A, Limits::default()).unwrap();
    for target in all_targets(&joint.section()) {
        let TargetKind::Face(FaceKind::Bevel) = target.kind else { continue };
        let off = |leg| scan.reach(leg, &target).ok().and_then(|reach| reach.off_square).map(Degrees::get);
        // From side A leg 1 meets the bevel of side B squarely and leg 2 its own side's.
        let (square, other) = if target.side == Side::B { (1, 2) } else { (2, 1) };
        assert!(off(square).unwrap() < 0.1, "{target:?}");
        assert!(off(other).is_none_or(|off| (off - 60.0).abs() < 0.1), "{target:?}");
    }
    assert!((scan_width(scan.legs()) - 2.5 * 34.641).abs() < 0.01);
}

#[test]
fn angles_are_ranked_by_bore_root_squareness_and_path() {
    let joint = Joint::new(single_v()).unwrap();
    let ranked = suggest(&joint, CANDIDATES.into_iter(), Some(mm(11.0)), Limits::default());
    let angles: Vec<f32> = ranked.iter().map(|one| one.angle.get()).collect();
    assert_eq!(angles, [60.0, 70.0, 45.0]);
    assert!(ranked[0].root.is_ok() && ranked[0].off_square.unwrap().get() < 0.1);
    // 45 degrees: the far edge of the root takes a stand-off of 18.5 mm, the cap leaves 24.
    assert!(ranked[2].to_string().contains("root not in leg 1 (cap in the way: stand-off 18.5 mm"));
    // Without the nose nobody can say whether the root is reached.
    let unknown = suggest(&joint, CANDIDATES.into_iter(), None, Limits::default());
    assert!(unknown.iter().all(|one| one.to_string().contains("root in leg 1 not known")));
    // Tube of 6 in by 0.75 in: 48.6 degrees is the largest (preparatory notes for ASNT Level III, p. 1285).
    let tube = JointSpec {
        thickness: mm(19.05),
        crown: None,
        curvature: Some(Curvature::AroundPipe { od: mm(152.4), from: ScannedFrom::Outside }),
        ..single_v()
    };
    let ranked = suggest(&Joint::new(tube).unwrap(), CANDIDATES.into_iter(), None, Limits::default());
    assert_eq!(ranked[0].angle.get(), 45.0);
    assert_eq!(ranked[1].to_string(), "misses the bore, which is met below 48.6 deg");
}

#[test]
fn what_cannot_be_planned_is_named() {
    let joint = Joint::new(single_v()).unwrap();
    let plan = |joint: &Joint, front, side, angle| {
        Scan::new(joint, &axis(angle), front, NONE, side, Limits::default()).unwrap_err()
    };
    assert_eq!(plan(&joint, None, Side::A, 60.0), PlanError::NoFront);
    let one_side = Joint::new(JointSpec { reach: Some(Reach::B), ..single_v() }).unwrap();
    let told = plan(&one_side, Some(mm(11.0)), Side::A, 60.0).to_string();
    assert_eq!(told, "the joint says that side a cannot be reached");
    let wide = Joint::new(JointSpec { cap: Some(mm(200.0)), haz: None, ..single_v() }).unwrap();
    let told = plan(&wide, Some(mm(60.0)), Side::A, 45.0).to_string();
    assert!(told.starts_with("the cap is wider than any reachable stand-off: 160 mm clears it"), "{told}");
}

#[test]
fn a_face_that_the_beam_only_grazes_is_crossed_down_to_the_turn_of_the_beam() {
    // A beam at 70 degrees in a bar of 50 mm radius turns at 50 (1 - sin 70) = 3.0154 mm, in a wall of 30 mm.
    let spec = JointSpec {
        gap: Some(mm(0.0)),
        curvature: Some(Curvature::AroundPipe { od: mm(100.0), from: ScannedFrom::Outside }),
        ..JointSpec::new(mm(30.0), Preparation::Square)
    };
    let joint = Joint::new(spec).unwrap();
    for side in [Side::A, Side::B] {
        let scan = Scan::new(&joint, &axis(70.0), None, NONE, side, Limits::default()).unwrap();
        for target in all_targets(&joint.section()) {
            if !matches!(target.kind, TargetKind::Face(_)) {
                continue;
            }
            let reach = scan.reach(1, &target).unwrap();
            assert!((reach.share - 3.0154 / 30.0).abs() < 1e-3, "{side:?}: {reach:?}");
            assert!(
                matches!(reach.barrier, Some(Barrier::BoreMissed { deepest }) if (deepest - 3.0154).abs() < 1e-3)
            );
        }
    }
}
