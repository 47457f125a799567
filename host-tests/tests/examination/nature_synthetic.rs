//! The nature of invented reflectors, made by a model that shares nothing with the evaluation.
//!
//! `cargo run --release -p halfskip-host-tests --bin confusion` prints how often it is told rightly, wrongly and not at
//! all over several hundred cases; here a few of each kind are held to what must never happen.

use halfskip::character::{Breaks, Nature, Root, Shape};
use halfskip_host_tests::job::indication;
use halfskip_host_tests::long::cases;
use halfskip_host_tests::synthetic::{Drawing, Kind, SetUp, draw, examined, job};

const SEEDS: std::ops::Range<u64> = 100..cases(101, 104);

fn lines(drawing: &Drawing, seed: u64) -> String {
    job(&drawing.sweeps, &drawing.reflectors, seed)
}

fn natured(lines: &str) -> Option<Nature> {
    let examination = examined(lines);
    let facts = examination.facts();
    (!facts.indications().is_empty()).then(|| indication(&facts, 0).character())
}

fn told(found: &Nature) -> (Option<Shape>, Option<Breaks>, Option<Root>) {
    (found.shape, found.breaks, found.root)
}

/// Every case of some kinds by some set-ups.
fn each(kinds: &[Kind], set_ups: &[SetUp], mut check: impl FnMut(&str, &Nature)) {
    let mut seen = 0;
    for kind in kinds {
        for set_up in set_ups {
            for seed in SEEDS {
                let drawing = draw(*kind, *set_up, seed);
                if let Some(found) = natured(&lines(&drawing, seed)) {
                    check(&format!("{kind:?} {set_up:?} {seed}: {found}"), &found);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 0);
}

#[test]
fn a_crack_is_never_called_the_shape_of_the_weld_nor_volumetric() {
    let cracks = [Kind::RootCrack, Kind::LeaningRootCrack, Kind::BeadWithCrack, Kind::NearCrack];
    each(&cracks, &SetUp::ALL, |case, found| {
        assert_ne!(found.root, Some(Root::Geometry), "{case}");
        assert_ne!(found.shape, Some(Shape::Volumetric), "{case}");
    });
}

#[test]
fn a_buried_plane_is_never_called_volumetric_nor_the_shape_of_the_weld() {
    let planes = [Kind::UprightPlane, Kind::LeaningPlane, Kind::RoughPlane];
    each(&planes, &SetUp::ALL, |case, found| {
        assert_ne!(found.shape, Some(Shape::Volumetric), "{case}");
        assert_ne!(found.root, Some(Root::Geometry), "{case}");
    });
}

#[test]
fn a_bead_is_never_called_a_flaw_that_breaks_the_face() {
    each(&[Kind::Bead], &[SetUp::Thorough, SetUp::Coarse], |case, found| {
        assert_ne!(found.root, Some(Root::Flaw), "{case}");
        assert_ne!(found.breaks, Some(Breaks::FarFace), "{case}");
    });
}

#[test]
fn a_body_is_never_planar_and_never_breaks_a_face() {
    each(&[Kind::Void, Kind::Cluster, Kind::Slag], &SetUp::ALL, |case, found| {
        assert_ne!(found.shape, Some(Shape::Planar), "{case}");
        assert!(matches!(found.breaks, None | Some(Breaks::Neither)), "{case}");
    });
}

#[test]
fn other_errors_of_the_same_readings_never_turn_an_answer_around() {
    for kind in Kind::ALL {
        let drawing = draw(kind, SetUp::Thorough, 100);
        let answers: Vec<_> =
            (0..3).filter_map(|errors| natured(&lines(&drawing, errors))).map(|found| told(&found)).collect();
        for (shape, breaks, root) in &answers {
            for (other_shape, other_breaks, other_root) in &answers {
                assert!(
                    shape.is_none() || other_shape.is_none() || shape == other_shape,
                    "{kind:?} {answers:?}"
                );
                assert!(
                    breaks.is_none() || other_breaks.is_none() || breaks == other_breaks,
                    "{kind:?} {answers:?}"
                );
                let both = [*root, *other_root].map(|root| root != Some(Root::Geometry));
                assert!(root.is_none() || other_root.is_none() || both[0] == both[1], "{kind:?} {answers:?}");
            }
        }
    }
}

#[test]
fn the_sides_and_the_order_of_readings_have_no_part_in_it() {
    for kind in Kind::ALL {
        let text = lines(&draw(kind, SetUp::Thorough, 101), 101);
        let Some(found) = natured(&text) else { continue };
        let swapped =
            text.replace("side=a", "side=x").replace("side=b", "side=a").replace("side=x", "side=b");
        assert_eq!(told(&natured(&swapped).unwrap()), told(&found), "{kind:?} swapped");
        let (readings, others): (Vec<&str>, Vec<&str>) =
            text.lines().partition(|line| line.starts_with("reading"));
        let turned: Vec<&str> = others.into_iter().chain(readings.into_iter().rev()).collect();
        assert_eq!(told(&natured(&turned.join("\n")).unwrap()), told(&found), "{kind:?} turned");
    }
}

#[test]
fn a_thorough_examination_tells_most_and_wrong_hardly_ever() {
    let (mut open, mut wrong, mut all) = (0u32, 0u32, 0u32);
    for kind in Kind::ALL {
        for seed in SEEDS {
            let drawing = draw(kind, SetUp::Thorough, seed);
            let Some(found) = natured(&lines(&drawing, seed)) else { continue };
            let truth = drawing.truth;
            all += 2;
            open += u32::from(found.shape.is_none() && truth.shape.is_some());
            open += u32::from(found.breaks.is_none() && truth.breaks.is_some());
            wrong += u32::from(found.shape.is_some() && found.shape != truth.shape);
            wrong += u32::from(found.breaks.is_some() && found.breaks != truth.breaks);
        }
    }
    assert!(wrong * 25 <= all, "{wrong} wrong of {all}");
    assert!(open * 2 <= all, "{open} open of {all}");
}
