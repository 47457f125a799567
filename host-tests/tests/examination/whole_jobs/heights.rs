//! Heights that do not agree: none of them is the indication's.

use halfskip::findings::{Caution, cautions};
use halfskip_host_tests::job::{findings, height, indication};
use halfskip_host_tests::told::{examined, facts_of};

const SET_UP: &str = "\
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2
probe p60 angle=60 frequency=4 element=8x9
dac p60 path=30 height=80 gain=38
dac p60 path=60 height=80 gain=44
";

fn reading(point: &str, side: &str, standoff: f32, path: f32) -> String {
    format!(
        "reading 1 probe=p60 side={side} x=0 standoff={standoff} path={path} height=50 gain=40 point={point}\n"
    )
}

#[test]
fn a_height_outside_all_its_observations_is_told_as_a_disagreement() {
    // A crack of the far face whose tip plots 3.0 mm high from side A and 4.3 mm high from side B, and farther apart.
    let corner = reading("corner", "a", 34.64, 40.0);
    let cases = [[(39.8, 46.0), (42.0, 48.6)], [(39.8, 44.0), (42.0, 52.0)]];
    for [(near_a, a), (near_b, b)] in cases {
        let lines =
            corner.clone() + &reading("upper-tip", "a", near_a, a) + &reading("upper-tip", "b", near_b, b);
        let examination = examined(&facts_of(&(SET_UP.to_owned() + &lines)));
        let facts = examination.facts();
        let mut each: Vec<f32> = indication(&facts, 0)
            .heights(indication(&facts, 0).place().as_ref())
            .iter()
            .map(|observation| observation.height.height)
            .collect();
        let found = height(&facts, 0).unwrap();
        each.sort_by(f32::total_cmp);
        assert_eq!([found.lowest, found.highest], each[..]);
        assert!(found.disagrees() && found.height < found.lowest, "{found:?}");
        let mut told = Vec::new();
        cautions(findings(&facts, None), |caution| told.push(caution));
        assert!(told.contains(&Caution::HeightsDisagree { indication: 0 }), "{told:?}");
        assert!(!told.contains(&Caution::HeightBelowZero { indication: 0 }), "{told:?}");
    }
}

#[test]
fn one_height_and_two_that_agree_do_not_disagree() {
    let one = reading("corner", "a", 34.64, 40.0) + &reading("upper-tip", "a", 39.8, 46.0);
    for (lines, agree) in
        [(one.clone(), None), (one.clone() + &reading("upper-tip", "b", 40.0, 46.2), Some(true))]
    {
        let examination = examined(&facts_of(&(SET_UP.to_owned() + &lines)));
        let found = height(&examination.facts(), 0).unwrap();
        assert_eq!((found.consistent, found.disagrees()), (agree, false), "{found:?}");
        let mut told = Vec::new();
        cautions(findings(&examination.facts(), None), |caution| told.push(caution));
        assert!(!told.contains(&Caution::HeightsDisagree { indication: 0 }));
    }
}
