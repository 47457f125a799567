//! What is typed later mends nothing that was read before, and what is wide or far excuses nothing. All of it is invented.

use halfskip::findings::made_anew;
use halfskip::record::examination::EventKind;
use halfskip_host_tests::job::{answers, job};
use halfskip_host_tests::sound::{SHEET, SOUND};

use super::grounds::{LAST_CHECK, accepted, ending, undetermined, with, without};

#[test]
fn the_history_names_the_line_that_was_made_anew() {
    let lines = without(&["criteria"]);
    let shell = job(&format!("{lines}void 18 reason=\"typo\"\ntransfer p60 gain=-6\n"));
    let facts = shell.examination().facts();
    assert_eq!(made_anew(&facts, 21, 0, EventKind::Transfer), Some(33));
    assert_eq!(made_anew(&facts, 34, 0, EventKind::Transfer), None);
    assert_eq!(made_anew(&facts, 21, 0, EventKind::Angle), None);
}

#[test]
fn limits_that_are_widened_later_clear_no_failure() {
    let failed = "check p60 path=100 shown=104 height=82 gain=48.9\n";
    undetermined(
        &ending(&format!("{failed}tolerance range=5\n")),
        "the check of entry 32 is not within its limits",
    );
    let weak = "check p60 path=100 shown=100 height=52 gain=48.9\n";
    let wide = ending(&format!("{weak}tolerance sensitivity=4\n"));
    undetermined(&wide, "the check of entry 32 is not within its limits");
    // Limits that were set before it are its own.
    accepted(&ending(&format!("tolerance range=5\n{failed}")));
    let narrow = "tolerance range=0.05\ncheck p60 path=100 shown=100.1\nvoid 32 reason=\"too narrow\"\n";
    undetermined(&ending(&format!("{narrow}{LAST_CHECK}")).replace(LAST_CHECK, ""), "entry 33");
}

#[test]
fn a_line_made_anew_after_the_last_check_speaks_for_nothing_read_before_it() {
    let transfer = "void 18 reason=\"typo\"\ntransfer p60 gain=-6\n";
    undetermined(
        &format!("{SOUND}{transfer}"),
        "the transfer correction of entry 34 was made anew after reading 22",
    );
    let dac = "void 15 reason=\"typo\"\ndac p60 path=60 height=80 gain=40 hole=3\n";
    undetermined(&format!("{SOUND}{dac}"), "the reference of entry 34 was made anew after reading 22");
    let angle = "void 12 reason=\"typo\"\nangle p60 depth=25 distance=43.4\n";
    undetermined(&format!("{SOUND}{angle}"), "the angle of entry 34 was made anew after reading 22");
}

#[test]
fn a_transfer_is_bounded_where_something_was_read() {
    let steep = with(
        "transfer p60 block=40:41,80:47.5 part=40:42,80:48.9",
        "transfer p60 block=40:41,80:47.5 part=40:41,80:36",
    );
    undetermined(&steep, "is beyond -6 dB");
}

#[test]
fn an_uncertainty_wider_than_the_weld_excuses_no_place_beside_it() {
    let wide = with("standoff=60.4", "standoff=160").replace("standoff=0.5", "standoff=100");
    undetermined(&wide, "not an indication of this weld by what was typed");
}

#[test]
fn a_time_base_of_another_wave_is_none() {
    let longitudinal = with("time=17.86,63.94", "time=10.95,36.29");
    undetermined(&longitudinal, "runs at another velocity than the material has");
}

#[test]
fn a_curve_is_carried_on_so_far_and_no_further() {
    let short =
        without(&["dac p60 path=40", "dac p60 path=60", "dac p60 path=80", "dac p60 path=100", "check"]);
    let short =
        short.replace("transfer", "dac p60 path=25 height=80 gain=35 hole=3\ndac p60 beyond=hold\ntransfer");
    let job = format!("{short}check p60 path=20 shown=20 height=80 gain=34\n");
    undetermined(&job, "is over twice the longest of the reference points");
}

#[test]
fn a_check_on_one_point_says_nothing_of_another_path() {
    let one =
        without(&["dac p60 path=20", "dac p60 path=40", "dac p60 path=60", "dac p60 path=100", "check"]);
    let elsewhere = format!("{one}check p60 path=40 shown=40 height=80 gain=45.5\n");
    undetermined(&elsewhere, "no check of the sensitivity of p60 after the last reading");
    accepted(&format!("{one}check p60 path=80 shown=80 height=80 gain=45.5\n"));
}

#[test]
fn a_joint_that_was_voided_after_readings_is_named() {
    let joint = "void 6 reason=\"measured again\"\njoint butt thickness=20.2 prep=single-v bevel=30 gap=3 land=2 cap=24 crown=1.5 haz=10\n";
    let [findings] = answers(SHEET, format!("{SOUND}{joint}").lines(), ["findings"]);
    assert!(
        findings.contains("the joint of entry 6 was voided after readings: \"measured again\""),
        "{findings}"
    );
}
