//! Expected echoes: where they are told, and which readings of known truth they explain.

use std::fs;
use std::path::Path;

use halfskip::findings::{Caution, Match, cautions, evaluate, geometry_of_reading};
use halfskip::part::joint::{Curvature, Joint, JointSpec, Preparation, ScannedFrom};
use halfskip::part::side::Side;
use halfskip::planning::geometry_echoes::{Echo, Feature, ReflectorKind, expect};
use halfskip::planning::plan::{Barrier, Limits, Scan};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::job::{Job, answers, findings, indication, job};

/// A simulated job with more said of its joint.
fn simulated(name: &str, more: &str) -> Job {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("simulated").join(name).with_extension("job");
    let text = fs::read_to_string(path).unwrap();
    assert!(text.contains("haz=10\n"));
    job(&text.replace("haz=10\n", &format!("haz=10 {more}\n")))
}

fn explained(job: &Job) -> Option<Match> {
    indication(&job.examination().facts(), 0).geometry()
}

const BEAD: &str = "bead=4 excess=1.5";

#[test]
fn a_declared_bead_explains_the_echo_of_a_bead() {
    for name in ["root-bead", "root-bead-sweep"] {
        let found = explained(&simulated(name, BEAD)).unwrap();
        assert_eq!((found.feature, found.views), (Feature::Bead, 6), "{name}");
        assert!(found.distance < 0.7, "{name} {found:?}");
    }
    let job = simulated("root-bead", BEAD);
    let facts = job.examination().facts();
    for reading in facts.readings() {
        let found = geometry_of_reading(&facts, &evaluate(&facts, reading)).unwrap();
        assert!(found.distance < 0.5, "{found:?}");
    }
}

#[test]
fn a_flat_root_explains_nothing() {
    for name in ["root-bead", "root-bead-sweep", "root-notch", "root-notch-sweep"] {
        assert_eq!(explained(&simulated(name, "")), None, "{name}");
    }
}

/// A notch at the centreline plots to the same place from both sides; a bead beyond it from each.
#[test]
fn a_declared_bead_does_not_explain_a_notch() {
    for name in ["root-notch", "root-notch-sweep"] {
        assert_eq!(explained(&simulated(name, BEAD)), None, "{name}");
    }
}

/// Invented: 45 degrees, 16 mm, peaked at the bead's near edge from each side, as incomplete penetration is.
#[test]
fn what_plots_short_of_the_centreline_is_not_explained_by_the_bead() {
    let reading = |side: &str| {
        format!("reading 1 probe=p45 side={side} x=0 standoff=18 path=22.63 height=50 gain=40 point=corner\n")
    };
    let lines = format!(
        "material steel\nprobe p45 angle=45 frequency=4 element=9x9\ntolerance standoff=0.5 index=0.3\n\
         joint butt thickness=16 prep=square gap=4 {BEAD}\n{}{}",
        reading("a"),
        reading("b")
    );
    assert_eq!(explained(&job(&lines)), None);
    // The same path 4 mm nearer lies beyond the centreline, on the flank.
    let beyond = job(&lines.replace("standoff=18", "standoff=14"));
    assert_eq!(explained(&beyond).unwrap().reflector.kind, ReflectorKind::BeadFlank);
}

#[test]
fn cap_and_backing_explain_what_lies_on_them() {
    let lines = |joint: &str, standoff: f32, path: f32| {
        format!(
            "material steel\nprobe p45 angle=45 frequency=4 element=9x9 front=5\n\
             joint butt thickness=20 prep=single-v bevel=30 gap=4 land=1 {joint}\n\
             reading 1 probe=p45 side=a x=0 standoff={standoff} path={path} height=50 gain=40\n"
        )
    };
    // Leg 2 to the far edge of the cap: 40 = 28 + 12; path 2 t / cos 45.
    let cap = explained(&job(&lines("cap=24 crown=2", 28.0, 56.569))).unwrap();
    assert_eq!((cap.feature, cap.reflector.side), (Feature::Cap, Some(Side::B)));
    assert!(cap.distance < 0.01, "{cap:?}");
    assert_eq!(explained(&job(&lines("cap=24", 28.0, 56.569))), None);
    // Through the root to the lower corner of a bar 6 mm high and 10 wide: 26 = 21 + 5.
    let bar = explained(&job(&lines("backing=10x6", 21.0, 36.770))).unwrap();
    assert_eq!(bar.reflector.kind, ReflectorKind::BackingCorner);
    assert!(bar.distance < 0.01, "{bar:?}");
}

fn echoes(spec: JointSpec, angle: f32, side: Side) -> Vec<Echo> {
    let joint = Joint::new(spec).unwrap();
    let axis = halfskip::part::path::Axis::new(Degrees::new(angle).unwrap()).unwrap();
    let (front, none) = (Some(Millimetres::constant(8.0)), Millimetres::constant(0.0));
    let limits = Limits { legs: 3, ..Limits::default() };
    let scan = Scan::new(&joint, &axis, front, none, side, limits).unwrap();
    let mut told = Vec::new();
    expect(&joint, &scan, |echo| told.push(echo));
    told
}

fn mm(value: f32) -> Option<Millimetres> {
    Millimetres::new(value).ok()
}

fn single_v() -> JointSpec {
    JointSpec {
        bevel: Degrees::new(30.0).ok(),
        gap: mm(3.0),
        land: mm(2.0),
        cap: mm(26.0),
        crown: mm(2.0),
        bead: mm(5.0),
        excess: mm(1.0),
        ..JointSpec::new(Millimetres::constant(20.0), Preparation::SingleV)
    }
}

fn one(echoes: &[Echo], kind: ReflectorKind, side: Option<Side>, leg: u32) -> Echo {
    let fits = |echo: &&Echo| (echo.reflector.kind, echo.reflector.side, echo.aim.leg) == (kind, side, leg);
    *echoes.iter().find(fits).unwrap_or_else(|| panic!("{kind} {side:?} {leg} in {echoes:?}"))
}

#[test]
fn echoes_of_a_single_v_are_where_the_triangle_puts_them() {
    let told = echoes(single_v(), 60.0, Side::A);
    let tan = 60f64.to_radians().tan() as f32;
    // Crown: 21 mm deep on the centreline; it shows as 19 mm in leg 2.
    let crown = one(&told, ReflectorKind::BeadCrown, None, 1);
    assert!((crown.aim.standoff - 21.0 * tan).abs() < 1e-3 && (crown.aim.path - 42.0).abs() < 1e-3);
    assert!(crown.leg_shown == 2 && (crown.depth_shown - 19.0).abs() < 1e-3);
    // Far toe, legs 1 and 3: the half skip and three of them, less its own 2.5 mm.
    let toe = one(&told, ReflectorKind::BeadToe, Some(Side::B), 1);
    assert!((toe.aim.standoff - (20.0 * tan - 2.5)).abs() < 1e-3 && toe.barrier.is_none());
    let third = one(&told, ReflectorKind::BeadToe, Some(Side::B), 3);
    assert!((third.aim.standoff - (60.0 * tan - 2.5)).abs() < 1e-3);
    // Cap edges in leg 2.
    let edge = one(&told, ReflectorKind::CapEdge, Some(Side::A), 2);
    assert!((edge.aim.standoff - (40.0 * tan + 13.0)).abs() < 1e-3 && edge.depth_shown < 1e-3);
    assert!(told.iter().all(|echo| echo.reflector.kind != ReflectorKind::CapEdge || echo.aim.leg == 2));
    // The root's own corners are listed; they are no part of a sound weld.
    let root = one(&told, ReflectorKind::RootCorner, Some(Side::A), 1);
    assert!(!root.reflector.kind.feature().is_sound());
    // 45 degrees, 20 mm: the far toe would take 17.5 mm, the cap leaves 21.
    let steep = one(&echoes(single_v(), 45.0, Side::A), ReflectorKind::BeadToe, Some(Side::B), 1);
    assert_eq!(steep.barrier, Some(Barrier::Cap { standoff: 17.5, least: 21.0 }));
}

#[test]
fn the_sides_mirror_each_other() {
    // The root's corners keep their order, A before B, seen from either side.
    let shapes = |side| {
        let told = echoes(single_v(), 60.0, side);
        told.into_iter().filter(|echo| echo.reflector.kind.feature().is_sound()).collect::<Vec<_>>()
    };
    let (from_a, from_b) = (shapes(Side::A), shapes(Side::B));
    assert_eq!(from_a.len(), from_b.len());
    for (a, b) in from_a.iter().zip(&from_b) {
        assert_eq!((a.aim, a.leg_shown, a.barrier), (b.aim, b.leg_shown, b.barrier));
        assert_eq!(a.reflector.at.y, 0.0 - b.reflector.at.y);
    }
}

#[test]
fn upright_edges_backing_and_counterbore_are_told() {
    let square = JointSpec {
        gap: mm(4.0),
        backing: Some(halfskip::part::joint::Backing {
            width: Millimetres::constant(20.0),
            height: Millimetres::constant(6.0),
        }),
        counterbore: Some(halfskip::part::joint::Counterbore {
            distance: Millimetres::constant(25.0),
            height: Millimetres::constant(2.0),
        }),
        ..JointSpec::new(Millimetres::constant(12.0), Preparation::Square)
    };
    let told = echoes(square, 45.0, Side::A);
    let edge = one(&told, ReflectorKind::EdgeCorner, Some(Side::A), 2);
    assert!((edge.aim.standoff - 26.0).abs() < 1e-4, "{edge:?}");
    let corner = one(&told, ReflectorKind::BackingCorner, Some(Side::B), 1);
    assert!((corner.aim.standoff - 8.0).abs() < 1e-4 && corner.leg_shown == 2, "{corner:?}");
    assert!(corner.depth_shown.abs() - 6.0 < 1e-4);
    // The step that ends the thicker wall on the probe's own side: 25 + 14 tan 45, where the screen shows 14 mm.
    let step = one(&told, ReflectorKind::CounterboreStep, Some(Side::A), 1);
    assert!((step.aim.standoff - 39.0).abs() < 1e-4, "{step:?}");
}

/// Around a pipe the crown stands in the bore: R − r + h deep, the ray straight on.
#[test]
fn a_bead_in_a_pipe_is_met_straight_through_the_bore_face() {
    let spec = JointSpec {
        curvature: Some(Curvature::AroundPipe {
            od: Millimetres::constant(200.0),
            from: ScannedFrom::Outside,
        }),
        ..single_v()
    };
    let crown = one(&echoes(spec, 45.0, Side::A), ReflectorKind::BeadCrown, None, 1);
    // s = R cos a − √(ρ² − R² sin² a), arc = R (asin(R sin a / ρ) − a), ρ = 79
    let (sin, rho) = (0.5f64.sqrt(), 79.0f64);
    let path = 100.0 * sin - (rho * rho - 5_000.0).sqrt();
    let arc = 100.0 * ((100.0 * sin / rho).asin() - 45f64.to_radians());
    assert!((f64::from(crown.aim.path) - path).abs() < 1e-3, "{crown:?} {path}");
    assert!((f64::from(crown.aim.standoff) - arc).abs() < 1e-3, "{crown:?} {arc}");
}

/// Where a ray ends that starts at a probe's index point and is turned back at the faces: by `turns` of them, then straight
/// on; of a bounce in a bar once more at its lower face.
fn traced(standoff: f64, look: f64, angle: f64, path: f64, faces: &[f64]) -> (f64, f64) {
    let (sin, cos) = angle.to_radians().sin_cos();
    let (mut y, mut z, mut down, mut left) = (-look * standoff, 0.0, 1.0, path);
    for face in faces {
        let length = (face - z) * down / cos;
        assert!(length > 0.0 && length < left + 1e-9, "{faces:?} {path}");
        (y, z, down, left) = (y + look * length * sin, *face, -down, left - length);
    }
    (y + look * left * sin, z + down * left * cos)
}

/// Every preparation with a cap, a bead, a bar and a counterbore, from both sides: each echo told is where a ray comes to.
#[test]
fn every_echo_of_every_preparation_lies_at_the_end_of_its_ray() {
    let (t, height) = (20.0, 5.0);
    let mut kinds = std::collections::BTreeSet::new();
    for preparation in Preparation::ALL {
        let prepared = preparation != Preparation::Square;
        let spec = JointSpec {
            bevel: Degrees::new(20.0).ok().filter(|_| prepared),
            gap: mm(6.0),
            land: mm(2.0).filter(|_| prepared),
            radius: mm(3.0).filter(|_| preparation.has_radius()),
            cap: mm(30.0),
            crown: mm(2.0),
            bead: mm(8.0),
            excess: mm(2.0),
            backing: Some(halfskip::part::joint::Backing {
                width: Millimetres::constant(16.0),
                height: Millimetres::constant(height as f32),
            }),
            counterbore: Some(halfskip::part::joint::Counterbore {
                distance: Millimetres::constant(30.0),
                height: Millimetres::constant(2.0),
            }),
            ..JointSpec::new(Millimetres::constant(t as f32), preparation)
        };
        for (angle, side) in
            [38.0, 45.0, 60.0, 70.0].into_iter().flat_map(|angle| [(angle, Side::A), (angle, Side::B)])
        {
            for echo in echoes(spec, angle, side) {
                let by_bar = echo.reflector.kind == ReflectorKind::BackingTop;
                let turns = (1..echo.aim.leg).map(|leg| if leg % 2 == 1 { t } else { 0.0 });
                let mut faces: Vec<f64> = turns.collect();
                faces.extend(by_bar.then_some(t + height));
                let (standoff, path) = (f64::from(echo.aim.standoff), f64::from(echo.aim.path));
                let (y, z) = traced(standoff, f64::from(side.sign()), f64::from(angle), path, &faces);
                let (at, deep) = (echo.reflector.at, if by_bar { t } else { f64::from(echo.reflector.at.z) });
                assert!(
                    (y - f64::from(at.y)).abs() < 2e-3 && (z - deep).abs() < 2e-3,
                    "{preparation} {echo:?}"
                );
                if by_bar {
                    // It came into the bar through the root.
                    let into = path - 2.0 * height / f64::from(angle).to_radians().cos();
                    let (y, z) = traced(
                        standoff,
                        f64::from(side.sign()),
                        f64::from(angle),
                        into,
                        &faces[..faces.len() - 1],
                    );
                    let section = Joint::new(spec).unwrap().section();
                    let open =
                        |side| f64::from(section.opening(side, halfskip::part::side::Face::Far)) + 1e-3;
                    assert!(
                        (z - t).abs() < 2e-3 && y >= -open(Side::A) && y <= open(Side::B),
                        "{preparation} {echo:?}"
                    );
                }
                kinds.insert(echo.reflector.kind.to_string());
            }
        }
    }
    assert_eq!(kinds.len(), 10, "{kinds:?}");
}

#[test]
fn the_upper_edge_of_a_bar_answers_by_way_of_its_lower_face() {
    let spec = JointSpec {
        backing: Some(halfskip::part::joint::Backing {
            width: Millimetres::constant(16.0),
            height: Millimetres::constant(5.0),
        }),
        ..JointSpec { gap: mm(6.0), ..JointSpec::new(Millimetres::constant(20.0), Preparation::Square) }
    };
    // 20 + 2 · 5 = 30 mm unfolded, at 8 mm beyond the centreline: 30 − 8 = 22 mm at 45 degrees, path 30 √2.
    let top = one(&echoes(spec, 45.0, Side::A), ReflectorKind::BackingTop, Some(Side::B), 1);
    assert!((top.aim.standoff - 22.0).abs() < 1e-3 && (top.aim.path - 42.4264).abs() < 1e-3, "{top:?}");
    assert_eq!((top.leg_shown, top.reflector.kind.to_string().as_str()), (2, "backing top"));
    // At 60 degrees it would have to enter 8 − 10 tan 60° = −9.3, where plate and bar are not fused.
    assert!(echoes(spec, 60.0, Side::A).iter().all(|echo| echo.reflector.kind != ReflectorKind::BackingTop));
}

#[test]
fn a_corner_behind_the_step_of_a_counterbore_lies_at_its_own_wall() {
    let lines = |more: &str, path: f64, standoff: f64| {
        format!(
            "joint butt thickness=16 prep=single-v bevel=30 gap=3 land=2 counterbore=25x2\n\
             probe p45 angle=45 frequency=4 element=8x9\n\
             reading 1 probe=p45 side=a x=0 standoff={standoff} path={path:.4} height=50 gain=40 point=corner {more}\n"
        )
    };
    let place = |text: &str| {
        let job = job(text);
        let facts = job.examination().facts();
        let reading = facts.readings().next().unwrap();
        evaluate(&facts, reading).place.unwrap()
    };
    // 18 mm deep and 20 mm on from 52 mm: 32 mm from the centreline.
    let path = 18f64.hypot(20.0);
    let found = place(&lines("", path, 52.0));
    assert!((found.y.get() + 32.0).abs() < 1e-3 && found.z.get() == 18.0, "{found:?}");
    // At the weld, and by a thickness of its own, nothing changes.
    let at_weld = place(&lines("", 16f64.hypot(20.0), 22.0));
    assert!((at_weld.y.get() + 2.0).abs() < 1e-3 && at_weld.z.get() == 16.0, "{at_weld:?}");
    let own = place(&lines("thickness=18", path, 52.0));
    assert!((own.y.get() - found.y.get()).abs() < 1e-4 && own.z.get() == 18.0);
    let plain = "title = 'invented'\nsource = 'invented'\nmeasure = 'level'\nlength-by = 'drop-6'\n[[row]]\nverdict = 'accept'\n";
    let [why] = answers(plain, lines("", path, 52.0).lines(), ["why 1"]);
    assert!(why.contains("t behind the counterbore's step, 16.00 + 2.00 = 18.00"), "{why}");
    assert!(why.contains("sqrt(s^2 - (n t)^2) = sqrt(26.91^2 - 18.00^2) = 20.00"), "{why}");
}

#[test]
fn a_bead_or_a_bar_narrower_than_the_gap_is_told() {
    let told = |more: &str| {
        let job = job(&format!("joint butt thickness=20 prep=single-v bevel=30 gap=4 land=1 {more}"));
        let (facts, mut told) = (job.examination().facts(), Vec::new());
        cautions(findings(&facts, None), |caution| {
            if matches!(caution, Caution::RootTooNarrow { .. }) {
                told.push(caution.told(&facts).to_string());
            }
        });
        told
    };
    let bead = "the bead of 3.5 mm is narrower than the weld at the far face, 4.0 mm open: coverage and expected echoes \
                count on one of them";
    assert_eq!(told("bead=3.5 excess=1"), [bead]);
    assert_eq!(told("backing=3x5"), [bead.replace("bead of 3.5", "backing bar of 3.0")]);
    assert_eq!(told("bead=4 excess=1 backing=20x5"), Vec::<String>::new());
}
