//! Coverage on the raster against exact areas by polygons.

mod exact;

use exact::{Strip, exact};
use halfskip::part::joint::{Curvature, Joint, JointSpec, Preparation, ScannedFrom};
use halfskip::part::locate::Side;
use halfskip::part::path::Axis;
use halfskip::planning::coverage::{Coverage, Grid, Holes, survey};
use halfskip::planning::plan::{Limits, Scan};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::drawn::Drawn;

const NONE: Millimetres = Millimetres::constant(0.0);

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

fn surveyed(joint: &Joint, scans: &[Scan]) -> (Coverage, Holes) {
    let mut holes = Holes::new(&Grid::new(joint).unwrap());
    let coverage =
        survey::<8>(joint, scans, |scan, aim| scans[scan].bar(aim), |cell| holes.take(cell)).unwrap();
    (coverage, holes)
}

fn drawn_joint(from: &mut Drawn, around: bool) -> Joint {
    let thickness = from.between(8.0, 40.0);
    let preparation = from.one_of(&Preparation::ALL);
    let prepared = preparation != Preparation::Square;
    let scanned = from.one_of(&[ScannedFrom::Outside, ScannedFrom::Inside]);
    let od = mm(thickness * from.between(5.0, 40.0));
    let spec = JointSpec {
        bevel: Degrees::new(from.between(5.0, 35.0)).ok().filter(|_| prepared),
        gap: Some(mm(from.between(1.0, 5.0))),
        land: Some(mm(from.between(0.5, 3.0))).filter(|_| prepared),
        radius: Some(mm(from.between(0.5, 2.0))).filter(|_| preparation.has_radius()),
        cap: Some(mm(from.between(10.0, 50.0))),
        crown: Some(mm(2.0)),
        haz: from.one_of(&[None, Some(mm(8.0))]),
        curvature: around.then_some(Curvature::AroundPipe { od, from: scanned }),
        ..JointSpec::new(mm(thickness), preparation)
    };
    Joint::new(spec).unwrap()
}

fn drawn_scans(from: &mut Drawn, joint: &Joint) -> (Vec<Scan>, Vec<Strip>) {
    let (mut scans, mut strips) = (Vec::new(), Vec::new());
    for _ in 0..from.one_of(&[1, 2, 4]) {
        let (angle, side) = (from.between(35.0, 72.0), from.one_of(&[Side::A, Side::B]));
        let (front, index) = (from.between(3.0, 15.0), from.between(-2.0, 2.0));
        let legs = from.one_of(&[1, 2, 3]);
        let range = from.one_of(&[None, Some(mm(from.clone().between(30.0, 120.0)))]);
        let axis = Axis::new(Degrees::new(angle).unwrap()).unwrap();
        let limits = Limits { legs, range, ..Limits::default() };
        let Ok(scan) = Scan::new(joint, &axis, Some(mm(front)), mm(index), side, limits) else { continue };
        scans.push(scan);
        strips.push(Strip {
            angle: angle.into(),
            sign: side.sign().into(),
            least: scan.least().into(),
            index: index.into(),
            range: range.map_or(f64::INFINITY, |range| range.get().into()),
            legs,
            cap: [-joint.section().edge(Side::A), joint.section().edge(Side::B)].map(f64::from),
        });
    }
    (scans, strips)
}

/// What a cell's middle stands for may be off by half a cell along every edge of what is compared.
const RASTER: f64 = 0.015;

#[test]
fn areas_on_a_plate_are_those_of_exact_polygons() {
    let (mut from, mut partial) = (Drawn::seeded(60), 0);
    for _ in 0..40 {
        let joint = drawn_joint(&mut from, false);
        let (scans, strips) = drawn_scans(&mut from, &joint);
        let (coverage, holes) = surveyed(&joint, &scans);
        let (exact, whole) = (exact(&joint, &strips), coverage.whole());
        let near = |name: &str, got: f32, expected: f64| {
            let off = (f64::from(got) - expected).abs() / exact.whole;
            assert!(off < RASTER, "{name} {got} {expected} of {} {joint:?} {strips:?}", exact.whole);
        };
        near("body", coverage.body.area, exact.body);
        near("whole", whole.area, exact.whole);
        near("crossed", whole.crossed, exact.crossed);
        near("twice", whole.twice, exact.twice);
        for (got, expected) in whole.legs.into_iter().zip(exact.legs) {
            near("leg", got, expected);
        }
        let open: f32 = holes.iter().map(|hole| hole.area).sum::<f32>() + holes.unlisted();
        near("holes", open, exact.whole - exact.crossed);
        partial += usize::from((0.1..0.95).contains(&(exact.crossed / exact.whole)));
    }
    assert!(partial > 10, "{partial}");
}

#[test]
fn areas_around_a_pipe_are_those_of_exact_polygons() {
    let (mut from, mut partial) = (Drawn::seeded(61), 0);
    for _ in 0..40 {
        let joint = drawn_joint(&mut from, true);
        let (scans, strips) = drawn_scans(&mut from, &joint);
        let (coverage, _) = surveyed(&joint, &scans);
        let (exact, whole) = (exact(&joint, &strips), coverage.whole());
        for (got, expected) in [
            (whole.area, exact.whole),
            (whole.crossed, exact.crossed),
            (whole.legs[0], exact.legs[0]),
            (whole.legs[1], exact.legs[1]),
        ] {
            let off = (f64::from(got) - expected).abs() / exact.whole;
            assert!(off < RASTER, "{got} {expected} of {} {joint:?} {strips:?}", exact.whole);
        }
        partial += usize::from((0.1..0.95).contains(&(exact.crossed / exact.whole)));
    }
    assert!(partial > 10, "{partial}");
}

fn single_v() -> Joint {
    let spec = JointSpec {
        bevel: Some(Degrees::constant(30.0)),
        gap: Some(mm(3.0)),
        land: Some(mm(2.0)),
        cap: Some(mm(26.0)),
        crown: Some(mm(2.0)),
        haz: Some(mm(8.0)),
        ..JointSpec::new(mm(20.0), Preparation::SingleV)
    };
    Joint::new(spec).unwrap()
}

fn scans(joint: &Joint, angle: f32, sides: &[Side], legs: u32, range: Option<Millimetres>) -> Vec<Scan> {
    let axis = Axis::new(Degrees::new(angle).unwrap()).unwrap();
    let limits = Limits { legs, range, ..Limits::default() };
    let scan = |side: &Side| Scan::new(joint, &axis, Some(mm(11.0)), NONE, *side, limits).unwrap();
    sides.iter().map(scan).collect()
}

/// 60 degrees, 20 mm, cap 26 mm, nose 11 mm: leg 1 meets what lies beyond the line y = z tan 60 - 24, leg 2 all of it.
#[test]
fn holes_lie_where_the_cap_keeps_leg_1_away_and_leg_2_closes_them() {
    let joint = single_v();
    let (one_leg, holes) = surveyed(&joint, &scans(&joint, 60.0, &[Side::A], 1, None));
    let found: Vec<_> = holes.iter().collect();
    assert_eq!(found.len(), 1);
    let hole = found[0];
    assert_eq!(hole.reasons.to_string(), "cap in the way");
    // The zone's edge on side B, and down to the far face on the far side of the root.
    assert!(hole.from.z == 0.0 && (hole.to.y - 19.9).abs() < 0.3, "{hole:?}");
    assert!((hole.area - (one_leg.whole().area - one_leg.whole().crossed)).abs() < 0.01);
    let (both, holes) = surveyed(&joint, &scans(&joint, 60.0, &[Side::A], 2, None));
    assert!(both.fraction().unwrap() > 0.999_9 && holes.iter().next().is_none());
}

#[test]
fn beams_that_meet_head_on_are_one_direction_and_crossing_ones_two() {
    let joint = single_v();
    // Leg 2 from side A and leg 1 from side B run along one line, in opposite senses.
    let axis = Axis::new(Degrees::constant(60.0)).unwrap();
    let anywhere = |side| Scan::anywhere(&joint, &axis, NONE, side, Limits::default()).unwrap();
    let only = |side: Side, leg: u32| (side, leg);
    let twice = |chosen: [(Side, u32); 2]| {
        let scans = [anywhere(Side::A), anywhere(Side::B)];
        let kept = |scan: usize, aim: &halfskip::planning::plan::Aim| {
            let side = [Side::A, Side::B][scan];
            (!chosen.contains(&(side, aim.leg))).then_some(halfskip::planning::plan::Barrier::NotScanned)
        };
        let whole = survey::<8>(&joint, &scans, kept, |_| {}).unwrap().whole();
        assert!(whole.of(whole.crossed).unwrap() > 0.999);
        whole.of(whole.twice).unwrap()
    };
    assert_eq!(twice([only(Side::A, 2), only(Side::B, 1)]), 0.0);
    assert!(twice([only(Side::A, 1), only(Side::B, 1)]) > 0.999);
}

#[test]
fn a_short_range_and_a_missed_bore_are_named() {
    let joint = single_v();
    let (_, holes) = surveyed(&joint, &scans(&joint, 60.0, &[Side::A, Side::B], 2, Some(mm(45.0))));
    let reasons: Vec<String> = holes.iter().map(|hole| hole.reasons.to_string()).collect();
    assert!(reasons.iter().any(|reason| reason.contains("beyond range")), "{reasons:?}");
    let spec = JointSpec {
        curvature: Some(Curvature::AroundPipe { od: mm(120.0), from: ScannedFrom::Outside }),
        ..*joint.spec()
    };
    let pipe = Joint::new(spec).unwrap();
    let (coverage, holes) = surveyed(&pipe, &scans(&pipe, 60.0, &[Side::A, Side::B], 2, None));
    let deep = holes.iter().find(|hole| hole.reasons.to_string().contains("bore missed")).unwrap();
    // R (1 - sin 60) = 8.04 mm
    assert!((deep.from.z - 8.04).abs() < 0.5 && (deep.to.z - 20.0).abs() < 0.01, "{deep:?}");
    assert!(coverage.fraction().unwrap() < 0.7);
}
