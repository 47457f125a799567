//! A job seen in a mirror, side A for side B, has its findings in the mirror.

use halfskip_host_tests::job::indication;
use std::fs;

use halfskip::findings::{LengthRule, Point, evaluate};
use halfskip::record::entry::{Entry, Side};
use halfskip::record::examination::Facts;
use halfskip_host_tests::told::{Roomy, examined, facts_of};

use super::day;

fn mirror(entries: &[Entry]) -> Vec<Entry> {
    let turned = |side| if side == Side::A { Side::B } else { Side::A };
    let mut entries = entries.to_vec();
    for entry in &mut entries {
        if let Entry::Reading(reading) = entry {
            reading.side = turned(reading.side);
        }
    }
    entries
}

fn near(one: f32, other: f32) -> bool {
    (one - other).abs() <= 2e-5 * (1.0 + one.abs())
}

fn readings_mirror(job: &Facts<'_>, mirrored: &Facts<'_>) -> usize {
    let mut placed = 0;
    for (one, other) in job.readings().zip(mirrored.readings()) {
        let (one, other) = (evaluate(job, one), evaluate(mirrored, other));
        assert_eq!(one.level, other.level);
        assert_eq!(one.uncertainty(), other.uncertainty());
        match (one.place, other.place) {
            (Ok(one), Ok(other)) => {
                placed += 1;
                let seen = (one.leg, one.x, one.z, one.distance, one.z_partials);
                assert_eq!(seen, (other.leg, other.x, other.z, other.distance, other.z_partials));
                assert_eq!(one.y.get() + other.y.get(), 0.0);
                assert_eq!(one.y_partials, other.y_partials.negated());
            }
            (one, other) => assert_eq!(one, other),
        }
    }
    placed
}

fn points_mirror(one: &Point, other: &Point) {
    let exact =
        |point: &Point| (point.basis, point.x, point.views, point.degrees_of_freedom, point.corner_at);
    assert_eq!(exact(one), exact(other));
    assert_eq!(one.consistent, other.consistent);
    let near = |of: fn(&Point) -> f32| assert!(near(of(one), of(other)), "{one:?} {other:?}");
    near(|point| point.z);
    near(|point| point.u_y);
    near(|point| point.u_z);
    near(|point| point.chi_squared);
    assert!((one.y + other.y).abs() <= 2e-5 * (1.0 + one.y.abs()), "{one:?} {other:?}");
}

fn held_to_its_mirror(entries: &[Entry]) -> usize {
    let (job, mirrored): (Box<Roomy>, Box<Roomy>) = (examined(entries), examined(&mirror(entries)));
    let (job, mirrored) = (job.facts(), mirrored.facts());
    let placed = readings_mirror(&job, &mirrored);
    for place in job.seen() {
        let [one, other] = [&job, &mirrored].map(|facts| indication(facts, place));
        let points = [one.place(), other.place()];
        assert_eq!(points[0].is_some(), points[1].is_some());
        if let [Some(one), Some(other)] = &points {
            points_mirror(one, other);
        }
        assert_eq!(one.length(LengthRule::DROP_6), other.length(LengthRule::DROP_6));
        assert_eq!(one.level().is_ok(), other.level().is_ok());
        if let (Ok(one), Ok(other)) = (&one.level(), &other.level()) {
            assert_eq!(one.level, other.level);
        }
        match (one.height(points[0].as_ref()), other.height(points[1].as_ref())) {
            (Some(one), Some(other)) => {
                assert!(
                    near(one.height, other.height) && near(one.uncertainty, other.uncertainty),
                    "{one:?} {other:?}"
                );
                assert_eq!((one.observations, one.consistent), (other.observations, other.consistent));
            }
            (one, other) => assert_eq!(one, other),
        }
    }
    placed
}

#[test]
fn a_full_day_mirrors() {
    assert!(held_to_its_mirror(&day()) > 30);
}

#[test]
fn every_shipped_job_mirrors() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/jobs");
    let mut jobs = 0;
    for job in fs::read_dir(folder).unwrap() {
        let text = fs::read_to_string(job.unwrap().path()).unwrap();
        assert!(text.contains("nvented"), "a job that is shipped says that it is invented");
        jobs += usize::from(held_to_its_mirror(&facts_of(&text)) > 3);
    }
    assert!(jobs >= 2);
}
