//! Truths drawn by a model of its own lie within the uncertainty that the program tells: a few draws of each set-up;
//! `places` makes them all.

use halfskip_host_tests::job::{indication, job};
use halfskip_host_tests::placed::{LEGS, Read, Reflector, SetUp, Share, set_ups, share, share_of_heights};

/// All set-ups of at least so many views and fewer than so many.
fn of_views(from: usize, below: usize, reflector: Reflector, tolerance: &str, draws: u32) -> Share {
    let mut all = Share::default();
    let chosen = |set_up: &SetUp| (from..below).contains(&set_up.views());
    for set_up in set_ups(LEGS).into_iter().filter(chosen) {
        all.join(&share(&set_up, reflector, tolerance, 0.0, draws));
    }
    all
}

#[test]
fn points_lie_within_the_uncertainty_of_points() {
    for (from, below) in [(1, 2), (2, 4), (4, 99)] {
        let told = of_views(from, below, Reflector::Void { across: 0.0 }, "reflector=0", 12);
        assert!(told.least() >= 90.0, "{from} views: {told:?}");
    }
}

#[test]
fn voids_of_2_mm_lie_within_it_from_any_set_up_and_those_of_5_mm_from_four_views_on() {
    for (from, below, across) in [(1, 2, 2.0), (2, 4, 2.0), (4, 99, 2.0), (4, 99, 5.0)] {
        let told = of_views(from, below, Reflector::Void { across }, "", 12);
        assert!(told.least() >= 90.0, "{from} views of {across} mm: {told:?}");
    }
    // Taken as points, the views of 5 mm disagree as a rule: the draws see the difference.
    let taken = of_views(4, 99, Reflector::Void { across: 5.0 }, "reflector=0", 12);
    assert!(2 * taken.disagree > taken.draws, "{taken:?}");
}

#[test]
fn a_leaning_crack_is_as_high_as_told_by_its_tip_as_a_point() {
    for (read, least) in [(Read::TogetherOneSide, 88.0), (Read::TogetherBothSides, 85.0), (Read::Apart, 90.0)]
    {
        let told = share_of_heights(&[45.0, 60.0, 70.0], read, 150, 5);
        assert!(told.least() >= least, "{read:?}: {told:?}");
    }
}

#[test]
fn a_pore_seen_from_its_two_flanks_is_not_told_to_lie_where_neither_view_has_it() {
    // 3 mm across at z 4.8: each flank lies at z 5.5, and as a point the two meet at 7.3 +/- 1.3, off its centre.
    let told = |across: f32| {
        let shell = job(&format!(
            "material MODEL shear=3.24 long=5.92\njoint butt thickness=20 prep=square gap=0 cap=8\n\
             tolerance path=0.3 index=0.5 standoff=0.5 thickness=0.2 reflector={across}\n\
             probe p60 angle=60 frequency=4 element=9x9\n\
             reading 1 probe=p60 side=a x=0 standoff=60.97 path=68.9 height=50 gain=40\n\
             reading 1 probe=p60 side=b x=0 standoff=60.97 path=68.9 height=50 gain=40\n"
        ));
        let facts = shell.examination().facts();
        let found = indication(&facts, 0).place().unwrap();
        (found.z, found.u_z)
    };
    let (z, u_z) = told(0.0);
    assert!((z - 7.3).abs() < 0.1 && z - u_z > 5.0, "{z} {u_z}");
    // A quarter of the thickness is 5 mm: the depth may be on either side of it.
    let (z, u_z) = told(1.0);
    assert!((z - 6.0).abs() < 0.15 && (u_z - 1.9).abs() < 0.1 && z - u_z < 4.8, "{z} {u_z}");
}

#[test]
fn a_point_that_two_views_would_put_outside_the_plate_lies_at_its_face() {
    let shell = job("material MODEL shear=3.24 long=5.92\njoint butt thickness=20 prep=square gap=0 cap=8\n\
         probe p60 angle=60 frequency=4 element=9x9\n\
         reading 1 probe=p60 side=a x=0 standoff=67.37 path=78.74 height=50 gain=40\n\
         reading 1 probe=p60 side=b x=0 standoff=65.02 path=78.94 height=50 gain=40\n");
    let found = indication(&shell.examination().facts(), 0).place().unwrap();
    assert!(found.z == 0.0 && found.u_z > 2.0, "{found:?}");
}
