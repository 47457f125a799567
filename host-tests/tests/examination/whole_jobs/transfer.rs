//! A transfer correction carried on beyond the shots that it was measured by.

use halfskip::findings::{Caution, cautions};
use halfskip_host_tests::job::findings;
use halfskip_host_tests::told::{examined, facts_of};

const SET_UP: &str = "\
joint butt thickness=150 prep=square gap=2
probe fixed angle=60 frequency=4 element=8x9
probe p60 angle=60 frequency=4 element=8x9
dac p60 path=10 height=80 gain=40
dac p60 path=400 height=80 gain=70
dac fixed path=10 height=80 gain=40
dac fixed path=400 height=80 gain=70
transfer fixed gain=2
transfer p60 block=40:41,80:47.5 part=1.5in:42,3in:46
";

fn told(probe: &str, paths: &[f32]) -> Vec<String> {
    let mut lines = SET_UP.to_owned();
    for path in paths {
        lines += &format!("reading 1 probe={probe} side=a x=0 standoff=150 path={path} height=50 gain=50\n");
    }
    let examination = examined(&facts_of(&lines));
    let facts = examination.facts();
    let mut told = Vec::new();
    cautions(findings(&facts, None), |caution| {
        if matches!(caution, Caution::TransferExtended { .. }) {
            told.push(caution.told(&facts).to_string());
        }
    });
    told
}

#[test]
fn levels_beyond_the_shots_of_block_or_part_are_told_once_a_probe() {
    // The part's longest shot is the shorter: 3 in. Toward the probe the line is what its surface and slope terms say.
    assert_eq!(told("p60", &[20.0, 76.2]), [""; 0]);
    let start = "probe p60: its transfer correction was measured up to a path of 76.2 mm and is carried on beyond it; ";
    assert_eq!(
        told("p60", &[76.0, 76.3]),
        [format!("{start}1 of its readings lies there, the first in entry 11")]
    );
    assert_eq!(
        told("p60", &[300.0, 20.0, 80.0]),
        [format!("{start}2 of its readings lie there, the first in entry 10")]
    );
    assert_eq!(told("fixed", &[300.0]), [""; 0]);
}

#[test]
fn shots_that_were_voided_count_no_longer() {
    let voided = "void 9 reason=\"wrong block\"\ntransfer p60 block=40:41,400:47.5 part=40:42,400:46\n";
    let lines = format!("{SET_UP}{voided}");
    let examination = examined(&facts_of(&lines));
    let facts = examination.facts();
    let up_to: Vec<_> = facts.probes().iter().map(|state| facts.transfer_up_to(state)).collect();
    assert_eq!(up_to, [None, Some(400.0)]);
}
