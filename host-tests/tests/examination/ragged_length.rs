//! An echo that rises again beyond the ends of its drop length is not accepted on that length.

use halfskip::findings::Blocked;
use halfskip_console::sheets::criteria as sheet;
use halfskip_host_tests::job::{calibrated, findings, job};

const SETTINGS: &str = "\
material steel
joint butt thickness=20 prep=square gap=0 cap=10
probe p60 angle=60 frequency=4 element=9x9
dac p60 path=40 height=80 gain=40
";

const SHEET: &str = r#"
title = "Length form (invented limits)"
source = "invented"
checked-by = ""
measure = "level"
length-by = "drop-6"
[[row]]
length-over = "10mm"
class = "R"
verdict = "reject"
[[row]]
length-up-to = "10mm"
class = ""
verdict = "accept"
"#;

fn judged(heights: [u32; 5]) -> halfskip::findings::VerdictFinding {
    let mut lines = SETTINGS.to_string();
    for (place, height) in heights.iter().enumerate() {
        let x = 5 * place;
        lines += &format!(
            "reading 1 probe=p60 side=a x={x} standoff=34 path=38 height={height} gain=40 sweep=along\n"
        );
    }
    let shell = job(&calibrated(&lines));
    let facts = shell.examination().facts();
    let sheet = sheet::read::<24>(SHEET).expect("a sheet");
    let indication = findings(&facts, Some(&sheet)).indication(0);
    indication.verdict(indication.place().as_ref()).unwrap()
}

#[test]
fn two_humps_are_not_accepted_on_the_length_of_one() {
    let found = judged([10, 76, 20, 70, 8]);
    assert_eq!((found.verdict, found.blocked), (None, Some(Blocked::RisesAgain)));
}

#[test]
fn one_hump_of_the_same_length_is_accepted() {
    let found = judged([10, 76, 20, 12, 8]);
    assert_eq!((found.verdict.map(|verdict| verdict.word()), found.blocked), (Some("accept"), None));
}
