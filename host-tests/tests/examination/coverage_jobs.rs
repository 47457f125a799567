//! Coverage of whole jobs: what the entries allow, and what was scanned.

use halfskip::findings::{coverage, coverage_from, faces_in_use, nearest, range, scanned};
use halfskip::part::path::Axis;
use halfskip::part::side::{Face, Side};
use halfskip::planning::coverage::{Coverage, survey};
use halfskip::planning::plan::{Barrier, Limits, PlanError, Scan};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::job::{Job, job};

const JOINT: &str = "joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=26 crown=2 haz=8";
const PROBE: &str = "probe p60 angle=60 frequency=4 element=8x9 front=11";

fn planned(job: &Job, probe: Option<u8>) -> Coverage {
    coverage::<8>(&job.examination().facts(), probe, 2, |_| {}).unwrap().unwrap()
}

#[test]
fn both_legs_from_both_sides_cross_everything_and_one_side_alone_does_too() {
    let both = job(&format!("{PROBE}\n{JOINT}"));
    assert!(planned(&both, None).fraction().unwrap() > 0.999_9);
    let whole = planned(&both, None).whole();
    // Leg 1 and leg 2 of one probe cross at 120 degrees between them, 60 as lines.
    assert!(whole.of(whole.twice).unwrap() > 0.5);
    let one = job(&format!("{PROBE}\n{JOINT} reach=a"));
    assert!(planned(&one, Some(0)).fraction().unwrap() > 0.999_9);
}

#[test]
fn the_range_of_the_gain_line_limits_what_counts() {
    let lines = |last: u32| {
        format!("{PROBE}\n{JOINT}\ndac p60 path=20 height=80 gain=40\ndac p60 path={last} height=80 gain=46")
    };
    let (short, long) = (planned(&job(&lines(42)), None), planned(&job(&lines(90)), None));
    assert!(short.fraction().unwrap() < 0.9 && long.fraction().unwrap() > 0.999_9);
    // A policy beyond the points lifts the limit, as it does for levels: at both ends, so that leg 1 counts from its start.
    let held = planned(&job(&format!("{}\ndac p60 beyond=hold", lines(42))), None).whole();
    assert_eq!(held.crossed, long.whole().crossed);
    assert!(held.legs[0] > long.whole().legs[0] && held.legs[1] == long.whole().legs[1]);
}

#[test]
fn a_path_before_the_first_reference_counts_for_nothing() {
    let curve = "dac p60 path=70 height=80 gain=40\ndac p60 path=100 height=80 gain=46";
    let found = planned(&job(&format!("{PROBE}\n{JOINT}\n{curve}")), None);
    // Paths of 70 to 100 mm at 60 degrees unfold to 35 to 50 mm: in leg 2 that is the uppermost 5 mm, and no more of leg 1.
    // The section is 2 (1.5 + (18 − z) tan 30° + 8) wide down to 18 mm, then 19.
    let tan = 30f64.to_radians().tan();
    let down_to = |z: f64| 2.0 * (9.5 * z + tan * (18.0 * z - z * z / 2.0));
    let share = down_to(5.0) / (down_to(18.0) + 19.0 * 2.0);
    assert!((f64::from(found.fraction().unwrap()) - share).abs() < 0.005, "{share} {found:?}");
    let whole = found.whole();
    assert!(whole.legs[0] == 0.0 && whole.legs[1] == whole.crossed);
    let curved = job(&format!("{PROBE}\n{JOINT}\n{curve}"));
    let facts = curved.examination().facts();
    let ends = [nearest, range].map(|end| end(&facts.probes()[0]).map(Millimetres::get));
    assert_eq!(ends, [Some(70.0), Some(100.0)]);
    let one = planned(&job(&format!("{PROBE}\n{JOINT}\ndac p60 path=70 height=80 gain=40")), None);
    assert!(one.fraction().unwrap() > 0.999_9, "one point is the reference at every path");
}

/// Crossed in per cent, by a raster of its own: 45 and 60 degrees from both sides, leg 2 only where it turns at a plain face.
fn beside_a_bead(bead: f64) -> f64 {
    let (mut all, mut crossed) = (0u32, 0u32);
    for row in 0..200 {
        let z = (f64::from(row) + 0.5) * 12.0 / 200.0;
        let half = if z < 10.0 { 1.0 + (10.0 - z) * 30f64.to_radians().tan() } else { 1.0 };
        for column in 0..400 {
            let y = -8.0 + (f64::from(column) + 0.5) * 16.0 / 400.0;
            if y.abs() > half {
                continue;
            }
            all += 1;
            let sees = |angle: f64, sign: f64| {
                let tan = angle.to_radians().tan();
                let [down, up] = [z, 24.0 - z].map(|unfolded| unfolded * tan - sign * y);
                let turns = sign * (12.0 * tan - up);
                down >= 22.0 || up >= 22.0 && turns.abs() >= bead / 2.0
            };
            crossed += u32::from([45.0, 60.0].iter().any(|angle| sees(*angle, 1.0) || sees(*angle, -1.0)));
        }
    }
    100.0 * f64::from(crossed) / f64::from(all)
}

#[test]
fn a_leg_that_would_turn_under_a_bead_crosses_nothing() {
    let probes = format!("{PROBE}\n{}", PROBE.replace("p60", "p45").replace("angle=60", "angle=45"));
    let of = |bead: &str| {
        let joint =
            format!("joint butt thickness=12 prep=single-v bevel=30 gap=2 land=2 cap=22 crown=1.5 {bead}");
        100.0 * planned(&job(&format!("{probes}\n{joint}")), None).fraction().unwrap()
    };
    let (plain, standing) = (beside_a_bead(0.0), beside_a_bead(8.0));
    assert!(plain - standing > 3.0, "{plain} {standing}");
    assert!((f64::from(of("")) - plain).abs() < 0.4, "{} {plain}", of(""));
    assert!(
        (f64::from(of("bead=8 excess=1")) - standing).abs() < 0.4,
        "{} {standing}",
        of("bead=8 excess=1")
    );
    // Dressed flush the far face is plain, and so it is where a bar is not asked for.
    assert_eq!(of("bead=8 excess=0"), of(""));
    // On a bar the weld is fused to it, and a beam that comes there runs on: the gap of 3 mm keeps a part of leg 2 away.
    let leg_2 = |more: &str| {
        let whole = planned(&job(&format!("{PROBE}\n{JOINT} reach=a{more}")), None).whole();
        whole.of(whole.legs[1]).unwrap()
    };
    assert!(leg_2(" backing=25x5") < leg_2("") - 0.02);
}

#[test]
fn from_the_far_face_the_section_is_upside_down() {
    let share = |lines: &str, faces: &'static [Face]| {
        let job = job(lines);
        let found = coverage_from::<8>(&job.examination().facts(), faces, None, 2, |_| {}).unwrap().unwrap();
        let whole = found.whole();
        [whole.crossed, whole.legs[0], whole.legs[1]].map(|area| 100.0 * whole.of(area).unwrap())
    };
    // What is the same from both faces is covered alike from either: a bead as wide and as high as the cap.
    let same = format!(
        "{PROBE}\njoint butt thickness=20 prep=double-v bevel=30 gap=3 land=2 cap=26 crown=2 bead=26 excess=2 haz=8"
    );
    assert!(near(share(&same, &[Face::Near]), share(&same, &[Face::Far])));
    // A single V with its cap on the far face is a single V upside down: leg 1 from the far face meets what leg 1 of the
    // joint turned over would.
    let far = share(&format!("{PROBE}\n{JOINT} bead=8 excess=1"), &[Face::Far]);
    let near = share(&format!("{PROBE}\n{JOINT} bead=8 excess=1"), &[Face::Near]);
    assert!(
        far[1] > near[1] + 10.0,
        "the bead lets the probe come nearer than the cap does: {far:?} {near:?}"
    );
    let both = share(&format!("{PROBE}\n{JOINT} bead=8 excess=1"), &[Face::Near, Face::Far]);
    assert!(both[0] >= far[0] && both[0] >= near[0]);
    // A reading from the far face makes it a face in use.
    let read = format!("{PROBE}\n{JOINT} bead=8 excess=1\n{}", reading(100.0, 60.0, "face=far"));
    assert_eq!(planned(&job(&read), None).whole().crossed, {
        let job = job(&read);
        let found = coverage_from::<8>(&job.examination().facts(), &[Face::Near, Face::Far], None, 2, |_| {})
            .unwrap();
        found.unwrap().whole().crossed
    });
}

#[test]
fn movements_on_the_far_face_count_there() {
    let moved =
        reading(100.0, 20.0, "sweep=across face=far") + &reading(100.0, 40.0, "sweep=across face=far");
    let job = job(&format!("{PROBE}\n{JOINT}\n{moved}"));
    let found = scanned::<8>(&job.examination().facts(), 2).unwrap();
    assert_eq!((found.counted, found.left_out), (2, 0));
    let facts = job.examination().facts();
    let joint = facts.common().joint.as_ref().unwrap().1;
    let (axis, none) = (Axis::new(Degrees::constant(60.0)).unwrap(), Millimetres::constant(0.0));
    let scan = Scan::standing(&joint, &axis, none, (Side::A, Face::Far), Limits::default()).unwrap();
    assert_eq!(faces_in_use(&facts), [Face::Near, Face::Far]);
    // Its leg 1 runs toward the near face.
    assert!(!scan.runs_down(1) && scan.runs_down(2) && scan.scale() == 1.0);
    let kept = |_: usize, aim: &halfskip::planning::plan::Aim| {
        (!(20.0..=40.0).contains(&aim.standoff)).then_some(Barrier::NotScanned).or_else(|| scan.bar(aim))
    };
    assert_eq!(found.coverage, survey::<1>(&joint, &[scan], kept, |_| {}).unwrap());
}

#[test]
fn an_unknown_nose_leaves_the_coverage_unknown_unless_the_cap_is_flush() {
    let probe = PROBE.replace(" front=11", "");
    let unknown = job(&format!("{PROBE}\n{}\n{JOINT}", probe.replace("p60", "p60b")));
    let facts = unknown.examination().facts();
    let error = coverage::<8>(&facts, None, 2, |_| {}).unwrap().unwrap_err();
    assert_eq!((error.probe, error.error), (1, PlanError::NoFront));
    assert!(coverage::<8>(&facts, Some(0), 2, |_| {}).unwrap().is_ok());
    let flush = job(&format!("{probe}\n{}", JOINT.replace("crown=2", "crown=0")));
    assert!(planned(&flush, None).fraction().unwrap() > 0.999_9);
    assert!(coverage::<8>(&job(PROBE).examination().facts(), None, 2, |_| {}).is_none());
}

/// Bevelled on side B: the groove is open from -1.5 to 1.5 + 18 tan 45 = 19.5.
const ONE_SIDED: &str =
    "joint butt thickness=20 prep=single-bevel bevel=45 gap=3 land=2 cap=28 crown=2 haz=10";

/// Per cent of weld and heat-affected zone that one probe crosses by any leg, by leg 1 and by leg 2.
fn per_cent(joint: &str) -> [f32; 3] {
    let whole = planned(&job(&format!("{PROBE}\n{joint}")), None).whole();
    [whole.crossed, whole.legs[0], whole.legs[1]].map(|area| 100.0 * whole.of(area).unwrap())
}

fn near(found: [f32; 3], expected: [f32; 3]) -> bool {
    found.iter().zip(expected).all(|(found, expected)| (found - expected).abs() < 0.15)
}

/// Derived: 94.5, 11.6 and 94.5 are areas of exact polygons for a nose that stops at 23 + 11 = 34 mm.
#[test]
fn a_cap_over_a_groove_of_one_prepared_side_keeps_the_probe_farther_off_on_that_side() {
    let from_b = per_cent(&format!("{ONE_SIDED} reach=b"));
    assert!(near(from_b, [94.5, 11.6, 94.5]), "{from_b:?}");
    // The same with a cap of 46 mm about the centreline: half of it is 23.
    let as_wide = ONE_SIDED.replace("cap=28", "cap=46 centre=0");
    assert_eq!(per_cent(&format!("{as_wide} reach=b")), from_b);
    // About the gap it would let the probe stand 9 mm nearer.
    let about_the_gap = per_cent(&format!("{ONE_SIDED} centre=0 reach=b"));
    assert!(near(about_the_gap, [99.8, 38.3, 99.8]), "{about_the_gap:?}");
    // Bevelled on the other side, what was so from side B is so from side A.
    let mirrored = per_cent(&format!("{ONE_SIDED} bevelled=a reach=a"));
    assert!(near(mirrored, from_b), "{mirrored:?} {from_b:?}");
}

#[test]
fn a_cap_out_of_reach_on_every_side_is_named() {
    let probe = PROBE.replace("front=11", "front=100");
    let one = job(&format!("{probe}\n{JOINT}"));
    let error = coverage::<8>(&one.examination().facts(), None, 2, |_| {}).unwrap().unwrap_err();
    assert!(matches!(error.error, PlanError::CapTooWide { least, .. } if least == 113.0));
    // Of several probes the last.
    let two = job(&format!("{probe}\n{}\n{JOINT}", probe.replace("p60", "p60b").replace("100", "90")));
    let error = coverage::<8>(&two.examination().facts(), None, 2, |_| {}).unwrap().unwrap_err();
    assert!(matches!(error.error, PlanError::CapTooWide { least, .. } if least == 103.0 && error.probe == 1));
}

/// Stand-offs from 26 to 40 mm on side A, as a survey of its own counts them.
fn from_26_to_40(job: &Job) -> Coverage {
    let facts = job.examination().facts();
    let joint = facts.common().joint.as_ref().unwrap().1;
    let axis = Axis::new(Degrees::constant(60.0)).unwrap();
    let none = Millimetres::constant(0.0);
    let scan = Scan::anywhere(&joint, &axis, none, Side::A, Limits::default()).unwrap();
    let kept = |_: usize, aim: &halfskip::planning::plan::Aim| {
        (!(26.0..=40.0).contains(&aim.standoff)).then_some(Barrier::NotScanned)
    };
    survey::<1>(&joint, &[scan], kept, |_| {}).unwrap()
}

fn reading(x: f32, standoff: f32, more: &str) -> String {
    format!("reading 1 probe=p60 side=a x={x} standoff={standoff} path=38 height=50 gain=44 {more}\n")
}

#[test]
fn a_movement_across_covers_its_own_stretch_of_stand_offs_and_no_more() {
    let moved = reading(100.0, 26.0, "sweep=across") + &reading(100.0, 40.0, "sweep=across");
    let job = job(&format!("{PROBE}\n{JOINT}\n{moved}"));
    let found = scanned::<8>(&job.examination().facts(), 2).unwrap();
    assert_eq!(found.coverage, from_26_to_40(&job));
    assert_eq!((found.from, found.to, found.counted, found.left_out), (100.0, 100.0, 2, 0));
    let whole = found.coverage.fraction().unwrap();
    assert!(whole > 0.3 && whole < 0.9, "{whole}");
}

#[test]
fn single_readings_swivels_and_skewed_ones_are_left_out_and_counted() {
    let alone = job(&format!("{PROBE}\n{JOINT}\n{}", reading(100.0, 30.0, "")));
    assert!(scanned::<8>(&alone.examination().facts(), 2).is_none());
    let others = ["sweep=swivel", "sweep=across skew=5", "face=far", ""];
    let moved = reading(100.0, 26.0, "sweep=across") + &reading(100.0, 40.0, "sweep=across");
    let more: String = others.iter().map(|more| reading(100.0, 60.0, more)).collect();
    let job = job(&format!("{PROBE}\n{JOINT}\n{moved}{more}"));
    let found = scanned::<8>(&job.examination().facts(), 2).unwrap();
    assert_eq!((found.counted, found.left_out), (2, 4));
    assert_eq!(found.coverage, from_26_to_40(&job));
}

#[test]
fn suspect_readings_cover_nothing_and_are_counted() {
    let moved = |standoff: f32| reading(100.0, standoff, "sweep=across");
    let set_up =
        format!("{PROBE}\n{JOINT}\ndac p60 path=20 height=80 gain=40\ndac p60 path=60 height=80 gain=46\n");
    let check = |shown: u32| format!("check p60 path=50 shown={shown} height=80 gain=44.5\n");
    let (good, failed) = (check(50), check(60));
    // The movement from 26 to 40 mm lies between two good checks, the one beyond it before one that failed.
    let (sound, rest) = (moved(26.0) + &moved(40.0), moved(50.0) + &moved(60.0));
    let some = job(&format!("{set_up}{sound}{good}{rest}{failed}"));
    let found = scanned::<8>(&some.examination().facts(), 2).unwrap();
    assert_eq!((found.counted, found.left_out, found.suspect), (2, 2, 2));
    assert_eq!(found.coverage, only_from_26_to_40(&set_up));
    let all = job(&format!("{set_up}{sound}{failed}"));
    assert_eq!(scanned::<8>(&all.examination().facts(), 2), None);
}

/// The same movement by itself, with the probe's gain line in force.
fn only_from_26_to_40(set_up: &str) -> Coverage {
    let moved = reading(100.0, 26.0, "sweep=across") + &reading(100.0, 40.0, "sweep=across");
    scanned::<8>(&job(&format!("{set_up}{moved}")).examination().facts(), 2).unwrap().coverage
}

#[test]
fn lines_across_at_two_places_cover_nothing_between_them_and_a_movement_along_does() {
    let line = |x: f32| reading(x, 26.0, "sweep=across") + &reading(x, 40.0, "sweep=across");
    let two = job(&format!("{PROBE}\n{JOINT}\n{}{}", line(0.0), line(160.0)));
    let found = scanned::<8>(&two.examination().facts(), 2).unwrap();
    assert_eq!((found.from, found.to), (0.0, 160.0));
    assert_eq!(found.coverage.fraction(), Some(0.0));
    // With the wavelength known the beam has a width: 2 N tan g, about a quarter of the element.
    let lines: String = (0..=80).map(|step| line(step as f32 * 0.5)).collect();
    let many = job(&format!("material steel\n{PROBE}\n{JOINT}\n{lines}"));
    let found = scanned::<8>(&many.examination().facts(), 2).unwrap();
    assert!((found.coverage.fraction().unwrap() - from_26_to_40(&many).fraction().unwrap()).abs() < 1e-3);
    // Along the weld at one stand-off the axis crosses one line only, and a line has no area.
    let along = reading(0.0, 30.0, "sweep=along") + &reading(160.0, 30.0, "sweep=along");
    let along = job(&format!("{PROBE}\n{JOINT}\n{along}"));
    let found = scanned::<8>(&along.examination().facts(), 2).unwrap();
    assert!(found.coverage.fraction().unwrap() < 0.02);
}

#[test]
fn places_far_apart_are_not_joined_and_the_widest_step_that_was_is_told() {
    let line = |standoffs: &[f32]| -> String {
        standoffs.iter().map(|standoff| reading(100.0, *standoff, "sweep=across")).collect()
    };
    let found = |standoffs: &[f32]| {
        let job = job(&format!("{PROBE}\n{JOINT}\n{}", line(standoffs)));
        let found = scanned::<8>(&job.examination().facts(), 2).unwrap();
        (found.coverage.fraction().unwrap(), found.widest)
    };
    assert_eq!(found(&[20.0, 95.0]), (0.0, 0.0));
    let (stepped, widest) = found(&[20.0, 40.0, 60.0, 80.0, 95.0]);
    assert_eq!(widest, 20.0);
    assert!(stepped > 0.9, "{stepped}");
    // The way back to the start of the next line is no movement.
    let back =
        line(&[20.0, 40.0]) + &reading(105.0, 20.0, "sweep=across") + &reading(105.0, 40.0, "sweep=across");
    let two = job(&format!("{PROBE}\n{JOINT}\n{back}"));
    assert_eq!(scanned::<8>(&two.examination().facts(), 2).unwrap().widest, 20.0);
}
