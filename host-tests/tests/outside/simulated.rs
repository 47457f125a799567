//! Simulated readings of known truth, through the line language and the findings.
//!
//! The readings under `simulated/` come from a two-dimensional elastic wave simulation; each file says what was in the
//! plate. The bounds are what a good evaluation of such readings can keep, not what was measured here.

use halfskip_host_tests::job::{height, indication};
use std::fs;
use std::path::Path;

use halfskip::findings::{evaluate, height_of};
use halfskip::part::side::{Face, Side};
use halfskip::record::entry::PointPeaked;
use halfskip::record::examination::{Examination, Facts};
use halfskip_console::commands::parse::{Line, line};

const THICKNESS: f32 = 16.0;

fn examined(name: &str) -> Box<Examination> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("simulated").join(name);
    let mut examination: Box<Examination> = Box::new(Examination::new());
    for (text, number) in fs::read_to_string(path).unwrap().lines().zip(1..) {
        let unit = examination.settings().common().units;
        match line(text.as_bytes(), unit).unwrap_or_else(|refusal| panic!("{name}:{number}: {refusal}")) {
            Some(Line::Fact(entry)) => drop(examination.record(entry).unwrap()),
            Some(Line::Question(_)) | None => {}
        }
    }
    examination
}

/// Corners of the notch: (together, probe, y, z).
fn corners(facts: &Facts<'_>) -> Vec<(bool, u8, f32, f32)> {
    facts
        .readings()
        .filter(|reading| reading.point() == PointPeaked::Corner)
        .map(|reading| {
            let place = evaluate(facts, reading).place.unwrap();
            (reading.together() > 0, reading.probe(), place.y.get(), place.z.get())
        })
        .collect()
}

#[test]
fn peaked_corners_of_a_root_notch_lie_at_the_root_within_0_3_mm_and_tied_ones_within_0_5_mm() {
    let examination = examined("root-notch.job");
    let corners = corners(&examination.facts());
    assert_eq!(corners.len(), 12);
    for (together, probe, y, z) in corners {
        let bound = if together { 0.5 } else { 0.3 };
        assert!(y.abs() <= bound && z == THICKNESS, "probe {probe}: y {y}, z {z}, together {together}");
    }
}

#[test]
fn the_views_of_a_root_notch_agree_on_the_centreline_at_the_far_face() {
    let examination = examined("root-notch.job");
    let found = indication(&examination.facts(), 0).place().unwrap();
    assert!(found.y.abs() <= 0.2, "y {}", found.y);
    assert_eq!((found.z, found.corner_at), (THICKNESS, Some(Face::Far)));
    assert_eq!((found.views, found.consistent), (6, Some(true)));
}

#[test]
fn a_notch_3_mm_high_is_3_mm_high_within_half_a_millimetre_by_every_probe() {
    let examination = examined("root-notch.job");
    let facts = examination.facts();
    let point = indication(&facts, 0).place();
    let observations = indication(&facts, 0).heights(point.as_ref());
    assert_eq!(height_of(&facts, &observations), height(&facts, 0));
    assert_eq!(observations.len(), 6);
    for observation in &observations {
        let (probe, found) = (observation.tip.probe(), observation.height.height);
        assert!((found - 3.0).abs() <= 0.5, "probe {probe}: {found}");
        assert!((found - 3.0).abs() <= observation.uncertainty(), "probe {probe}: beyond its uncertainty");
    }
    let fused = height(&facts, 0).unwrap();
    assert!((fused.height - 3.0).abs() <= 0.5, "{}", fused.height);
    assert_eq!(fused.consistent, Some(true));
}

#[test]
fn the_views_of_a_void_meet_in_its_centre_within_half_a_millimetre() {
    let examination = examined("void.job");
    let found = indication(&examination.facts(), 0).place().unwrap();
    assert!((found.y - 1.5).abs() <= 0.5 && (found.z - 8.0).abs() <= 0.5, "y {}, z {}", found.y, found.z);
    assert!((found.y - 1.5).abs() <= found.u_y && (found.z - 8.0).abs() <= found.u_z);
    assert_eq!((found.views, found.consistent), (6, Some(true)));
}

#[test]
fn a_buried_slot_5_mm_high_is_that_high_within_1_2_mm_by_every_probe() {
    let examination = examined("slot.job");
    let facts = examination.facts();
    let middle = indication(&facts, 0).place().unwrap();
    let observations = indication(&facts, 0).heights(Some(&middle));
    assert_eq!(observations.len(), 6);
    for observation in &observations {
        let (probe, found) = (observation.tip.probe(), observation.height.height);
        assert!((found - 5.0).abs() <= 1.2, "probe {probe}: {found}");
    }
    assert!((height(&facts, 0).unwrap().height - 5.0).abs() <= 1.2);
    assert!(middle.y.abs() <= 0.5 && (middle.z - 8.0).abs() <= 1.0, "y {}, z {}", middle.y, middle.z);
}

/// A bead plots beyond the centreline from each side, the further the flatter the beam. Some of the probes alone show
/// it beyond their uncertainty.
#[test]
fn a_root_bead_plots_beyond_the_centreline_from_each_side() {
    let examination = examined("root-bead.job");
    let facts = examination.facts();
    let views = indication(&facts, 0).views();
    assert_eq!(views.len(), 6);
    for view in views {
        let (side, y) = (view.side(), evaluate(&facts, view).place.unwrap().y.get());
        let beyond = if side == Side::A { y } else { -y };
        assert!(beyond > 0.5, "probe {} from side {side:?}: {beyond}", view.probe());
    }
}
