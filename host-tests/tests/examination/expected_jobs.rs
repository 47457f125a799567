//! Expected echoes: where they are told, and which readings of known truth they explain.

use std::fs;
use std::path::Path;

use halfskip::findings::{Match, evaluate, geometry, geometry_of_reading};
use halfskip::part::joint::{Curvature, Joint, JointSpec, Preparation, ScannedFrom};
use halfskip::part::side::Side;
use halfskip::planning::geometry_echoes::{Echo, Feature, ReflectorKind, expect};
use halfskip::planning::plan::{Barrier, Limits, Scan};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::job::{Job, job};

/// A simulated job with more said of its joint.
fn simulated(name: &str, more: &str) -> Job {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("simulated").join(name).with_extension("job");
    let text = fs::read_to_string(path).unwrap();
    assert!(text.contains("haz=10\n"));
    job(&text.replace("haz=10\n", &format!("haz=10 {more}\n")))
}

fn explained(job: &Job) -> Option<Match> {
    geometry(&job.examination().facts(), 0)
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
    let limits = Limits { legs: 3, range: None };
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
        curvature: Curvature::AroundPipe { od: Millimetres::constant(200.0), from: ScannedFrom::Outside },
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
