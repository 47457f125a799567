//! The nature of simulated reflectors of known truth.
//!
//! The readings under `simulated/` come from a two-dimensional elastic wave simulation that nobody tuned to any
//! evaluation; each file says what was in the plate. The sweeps hold the strongest echo at every probe position and
//! nothing of what the examiner would name.

use halfskip::character::{Breaks, Class, Fact, From, Nature, Outcome, Root, Shape, Threshold, Thresholds};
use halfskip::units::Decibels;
use halfskip_host_tests::job::{indication, job};

fn natured(name: &str) -> Nature {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("simulated").join(name);
    let job = job(&std::fs::read_to_string(path).unwrap());
    indication(&job.examination().facts(), 0).character()
}

fn holds(nature: &Nature, wanted: impl Fn(&Fact) -> bool) -> bool {
    nature.evidence().any(|evidence| wanted(&evidence.fact))
}

#[test]
fn a_notch_at_the_root_is_a_flaw_that_breaks_the_far_face_swept_or_peaked() {
    for name in ["root-notch-sweep.job", "root-notch.job"] {
        let found = natured(name);
        assert_eq!(found.root, Some(Root::Flaw), "{name}");
        assert_eq!((found.shape, found.breaks), (Some(Shape::Planar), Some(Breaks::FarFace)), "{name}");
        assert_eq!((found.planar(), found.staged), (Some(true), false), "{name}");
    }
}

#[test]
fn a_root_bead_is_the_shape_of_the_weld_and_no_flaw_swept_or_peaked() {
    for name in ["root-bead-sweep.job", "root-bead.job"] {
        let found = natured(name);
        assert_eq!(found.root, Some(Root::Geometry), "{name}");
        assert_eq!((found.shape, found.breaks, found.planar()), (None, None, None), "{name}");
        assert!(holds(&found, |fact| matches!(fact, Fact::Crossed { by, .. } if *by > 2.0)), "{name}");
    }
}

#[test]
fn the_walk_places_the_bead_past_the_face_and_the_notch_at_it() {
    // By hand, 45 degrees, leg 1 at 23.86 mm: D = 23.86 cos 45 = 16.87 mm, 0.87 past the face, and U = 0.90 mm with a
    // quarter of the 3 dB width: at the face as well as past it. The walks of 59 and 68 degrees say 1.6 and 1.9 mm.
    let past = |fact: &Fact| matches!(fact, Fact::PastFace { views, .. } if *views >= 4);
    assert!(holds(&natured("root-bead-sweep.job"), past));
    assert!(holds(&natured("root-notch-sweep.job"), |fact| matches!(fact, Fact::AtFace { views: 6, .. })));
}

#[test]
fn a_round_void_is_buried_and_not_planar() {
    let swept = natured("void-sweep.job");
    assert_eq!((swept.shape, swept.breaks), (Some(Shape::Volumetric), Some(Breaks::Neither)));
    // Peaked readings alone lie before the first reference point: without levels the shape stays open.
    let peaked = natured("void.job");
    assert_eq!((peaked.shape, peaked.breaks), (None, Some(Breaks::Neither)));
    assert!(matches!(peaked.stages[0].outcome, Outcome::NotAnswerable(_)));
}

#[test]
fn a_slot_is_planar_and_buried_and_stands_upright() {
    for name in ["slot-sweep.job", "slot.job"] {
        let found = natured(name);
        assert_eq!((found.shape, found.breaks), (Some(Shape::Planar), Some(Breaks::Neither)), "{name}");
        assert_eq!(found.root, None, "{name}");
        let orientation = found.orientation.unwrap();
        assert_eq!(orientation.from, From::Ends);
        assert!(orientation.lean.abs() < 5.0, "{name}: {}", orientation.lean);
    }
}

#[test]
fn an_echo_by_way_of_the_face_is_not_taken_for_a_corner() {
    let found = natured("slot-sweep.job");
    assert!(holds(&found, |fact| matches!(fact, Fact::ByWayOf { .. })));
    assert!(!holds(&found, |fact| matches!(fact, Fact::OverInside { .. })));
}

#[test]
fn the_advice_is_one_line_with_its_counts() {
    let found = natured("root-notch-sweep.job");
    assert_eq!(
        found.to_string(),
        "planar, breaking the far face, near the centreline: supported by 5, against 0"
    );
    assert_eq!(found.counts(), (5, 0));
    let bead = natured("root-bead-sweep.job");
    assert_eq!(bead.to_string(), "the shape of the weld, near the centreline: supported by 3, against 0");
}

#[test]
fn a_threshold_given_is_held_to_and_says_so() {
    let text =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/simulated/root-notch-sweep.job"));
    let job = job(&text.unwrap());
    // The corner stands 12.4 dB over the reference.
    let planar = Threshold::given(Decibels::new(15.0).unwrap());
    let found = indication(&job.examination().facts(), 0)
        .character_by::<128>(&Thresholds { planar, ..Thresholds::DEFAULT });
    assert_eq!(found.stages[1].outcome, Outcome::Passed);
    assert!(found.stages[1].to_string().contains("threshold 15.0 dB as given"), "{}", found.stages[1]);
}

#[test]
fn a_series_tells_its_rates_its_walk_and_its_raggedness() {
    let found = natured("root-notch-sweep.job");
    let seen = found.evidence().find_map(|evidence| match evidence.fact {
        Fact::Series(seen) if seen.angle < 46.0 => Some(seen),
        _ => None,
    });
    let seen = seen.unwrap();
    // From 16 to 19 mm the level falls by 72.1 % at 27 dB less 78.2 % at 35 dB: 7.3 dB.
    let fall = seen.fall.unwrap();
    assert!(fall > 2.0 && fall < 5.0, "{fall}");
    // The path grows by 0.72 mm per mm about the peak, as a corner's does: its sine is that of the axis.
    let (slope, point) = seen.walk.unwrap();
    assert!((slope - 0.72).abs() < 0.02 && (point - 0.707).abs() < 0.002, "{slope} {point}");
    assert!(
        found.evidence().any(|evidence| evidence.to_string().contains("1 peak of 6 dB in 0.8 beam widths"))
    );
}

#[test]
fn a_stage_stops_the_ones_behind_it() {
    let found = natured("root-notch-sweep.job");
    let outcomes: Vec<Outcome> = found.stages.iter().map(|stage| stage.outcome).collect();
    assert_eq!(outcomes[..2], [Outcome::Passed, Outcome::Stopped(Class::Planar)]);
    assert!(outcomes[2..].iter().all(|outcome| *outcome == Outcome::NotReached));
}
