//! Which readings stand for the views of an indication, and what makes a reading suspect. The readings are invented.

use halfskip::findings::{Suspicion, suspicion};
use halfskip_host_tests::job::{indication, job};

/// 20 mm seen at 60 degrees: leg 1 ends at a path of 40 mm. The next entry is the fifth.
const BEFORE: &str = "material m shear=3.24 long=5.92\njoint butt thickness=20 prep=square gap=2\n\
                      probe p angle=60 frequency=4 element=8x9\ndac p path=50 height=80 gain=40\n";

fn reading(x: f32, path: f32, height: u8, more: &str) -> String {
    format!("reading 1 probe=p side=a x={x} standoff=17.32 path={path} height={height} gain=40 {more}")
}

/// The numbers of the readings that stand for the views.
fn views(readings: &[String]) -> Vec<u32> {
    let job = job(&format!("{BEFORE}{}", readings.join("\n")));
    indication(&job.examination().facts(), 0).views().iter().map(|reading| reading.number()).collect()
}

#[test]
fn a_corner_stands_before_a_stronger_echo_of_its_view() {
    let (echo, corner) = (reading(100.0, 39.0, 80, ""), reading(100.0, 40.0, 40, "point=corner"));
    assert_eq!(views(&[echo.clone(), corner.clone()]), [6]);
    assert_eq!(views(&[corner, echo]), [5]);
}

#[test]
fn of_readings_that_differ_in_the_path_alone_the_shorter_one_stands() {
    let (short, long) = (reading(100.0, 20.0, 80, ""), reading(100.0, 20.2, 80, ""));
    assert_eq!(views(&[short.clone(), long.clone()]), [5]);
    assert_eq!(views(&[long, short]), [6]);
}

#[test]
fn along_the_weld_a_flank_in_one_leg_of_an_echo_in_the_next_is_no_view() {
    let along = |x, path, height| reading(x, path, height, "sweep=along");
    assert_eq!(views(&[along(100.0, 39.0, 40), along(104.0, 41.0, 80)]), [6]);
    // Further from the face these are two sweeps, each with a peak of its own.
    assert_eq!(views(&[along(100.0, 30.0, 40), along(104.0, 55.0, 80)]), [5, 6]);
}

#[test]
fn a_peak_is_held_against_the_nearest_of_its_own_sweep() {
    let along = |x, path, height, more: &str| reading(x, path, height, &format!("sweep=along {more}"));
    // Peaked by itself it stands before what was seen together with others; of these the nearer one is weaker.
    let own = along(100.0, 20.0, 40, "");
    let (near, far) = (along(110.0, 20.0, 20, "together=1"), along(120.0, 20.0, 80, "together=2"));
    // A sweep in leg 2 lies between.
    let other = along(105.0, 60.0, 10, "");
    assert_eq!(views(&[own.clone(), other.clone(), far.clone(), near.clone()]), [5, 6]);
    assert_eq!(views(&[own.clone(), other.clone(), near, far.clone()]), [5, 6]);
    assert_eq!(views(&[own, other, far]), [7, 6]);
}

#[test]
fn a_check_of_the_path_alone_does_not_stand_between_a_reading_and_a_level_that_failed() {
    let suspect = |checks: &str| {
        let job = job(&format!("{BEFORE}{}\n{checks}", reading(100.0, 20.0, 80, "")));
        let facts = job.examination().facts();
        suspicion(&facts, facts.readings().next().unwrap())
    };
    let (path, good, failed) = (
        "check p path=50 shown=50\n",
        "check p path=50 shown=50 height=80 gain=40\n",
        "check p path=50 shown=50 height=40 gain=40\n",
    );
    assert_eq!(suspect(&[path, good, failed].concat()), None);
    assert_eq!(suspect(&[path, failed].concat()), Some(Suspicion::Check { number: 7 }));
    assert_eq!(suspect(failed), Some(Suspicion::Check { number: 6 }));
}
