//! What an accept needs: one sound examination, and what one change in it takes away. All of it is invented.
//!
//! Each test is one kind of fault that an examiner would not sign; the sound ones beside it stay accepted.

use halfskip::acceptance::technique::Ground;
use halfskip::findings::{Aspect, Checked, GroundState, checked};
use halfskip_host_tests::job::{WEIGHTED, answers, indication, job, refusal};
use halfskip_host_tests::sound::{SHEET, SOUND};

/// The check after the readings, which ends the job.
pub(super) const LAST_CHECK: &str = "check p60 path=100 shown=100.1 height=82 gain=48.9\n";

/// The same with some of its text replaced, wherever it is.
pub(super) fn with(old: &str, new: &str) -> String {
    assert!(SOUND.contains(old), "{old}");
    SOUND.replace(old, new)
}

/// The same without the lines of these beginnings.
pub(super) fn without(beginnings: &[&str]) -> String {
    let lines = SOUND.lines().filter(|line| !beginnings.iter().any(|beginning| line.starts_with(beginning)));
    lines.map(|line| format!("{line}\n")).collect()
}

/// The same with other lines in the place of the last check.
pub(super) fn ending(lines: &str) -> String {
    format!("{}{lines}", SOUND.strip_suffix(LAST_CHECK).unwrap())
}

/// The same with a line before the first of this beginning.
fn before(beginning: &str, line: &str) -> String {
    let at = SOUND.find(beginning).unwrap();
    let (head, tail) = SOUND.split_at(at);
    format!("{head}{line}\n{tail}")
}

fn rated(job: &str) -> String {
    let [rated] = answers(SHEET, job.lines(), ["rate 1"]);
    rated
}

#[track_caller]
pub(super) fn accepted(job: &str) {
    let rated = rated(job);
    assert!(rated.starts_with("Indication 1: accept "), "{rated}");
}

#[track_caller]
pub(super) fn undetermined(job: &str, because: &str) {
    let rated = rated(job);
    assert!(rated.starts_with("Indication 1: undetermined ") && rated.contains(because), "{rated}");
}

#[test]
fn a_sound_examination_is_accepted() {
    accepted(SOUND);
}

#[test]
fn the_history_says_what_speaks_for_each_reading() {
    let shell = job(&without(&["criteria"]));
    let facts = shell.examination().facts();
    assert!(shell.examination().settings().common().is_checked());
    assert_eq!(facts.common().history.iter().filter(|event| event.time.is_some()).count(), 0);
    for reading in 21..=30 {
        for aspect in [Aspect::Range, Aspect::Sensitivity] {
            assert_eq!(checked(&facts, reading, 0, aspect), Checked::Good { before: 20, after: 31 });
        }
    }
    assert_eq!(indication(&facts, 0).first_unmet(), None);
    let unmet = job(&without(&["criteria", "angle", "transfer"]));
    let facts = unmet.examination().facts();
    let found = indication(&facts, 0).grounds().filter(|found| found.state == GroundState::NotMet);
    assert!(found.map(|found| found.ground).eq([Ground::Angle, Ground::Transfer]));
    assert_eq!(indication(&facts, 0).first_unmet().map(|found| found.ground), Some(Ground::Angle));
}

#[test]
fn from_the_other_side_in_the_other_leg_or_with_a_check_between_it_is_accepted_too() {
    accepted(&with("side=a", "side=b"));
    accepted(&with("standoff=60.4 path=62", "standoff=27 path=32"));
    accepted(&before("reading 1 probe=p60 side=a x=97", "check p60 path=100 shown=99.9 height=80 gain=48.9"));
}

#[test]
fn what_the_minimum_does_not_ask_for_may_be_missing() {
    accepted(&without(&["linearity"]));
}

#[test]
fn a_calibration_of_the_same_day_is_its_first_check() {
    accepted(&with("check p60 path=100 shown=99.8 height=79 gain=48.9\n", ""));
    // On a day of its own it speaks for no other.
    let next_day = before("reading 1", "date 2026-03-15");
    undetermined(&next_day, "no good check or measurement of the range of p60 that day before reading 23");
    accepted(&before("reading 1", "date 2026-03-15\ncheck p60 path=100 shown=100 height=80 gain=49"));
}

#[test]
fn without_a_check_after_the_last_reading_nothing_is_accepted() {
    let after = "no check of the range of p60 after the last reading";
    undetermined(&without(&["check"]), after);
    undetermined(&ending(""), after);
    // The check of the path alone says nothing of the sensitivity.
    undetermined(&ending("check p60 path=100 shown=100.1\n"), "no check of the sensitivity of p60 after");
    // A check of another day.
    undetermined(&ending(&format!("date 2026-03-16\n{LAST_CHECK}")), "after");
}

#[test]
fn readings_between_good_checks_keep_their_accept_when_others_follow() {
    let more = "reading 2 probe=p60 side=a x=400 standoff=60.4 path=62 height=30 gain=50\n";
    let [one, other] = answers(SHEET, format!("{SOUND}{more}").lines(), ["rate 1", "rate 2"]);
    assert!(one.starts_with("Indication 1: accept "), "{one}");
    assert!(other.contains("no check of the range of p60 after the last reading"), "{other}");
}

#[test]
fn a_failed_check_that_was_voided_counts_until_a_good_one_follows() {
    let failed = "check p60 path=100 shown=104 height=82 gain=48.9\nvoid 32 reason=\"typo\"\n";
    undetermined(&ending(failed), "the check of entry 32 was not within its limits; it was voided");
    accepted(&ending(&format!("{failed}{LAST_CHECK}")));
}

#[test]
fn a_new_calibration_does_not_speak_for_what_was_read_before_it() {
    let failed = "check p60 path=100 shown=104 height=82 gain=48.9\n";
    let anew = "void 10 reason=\"made anew\"\ntimebase p60 path=25,100 time=17.86,63.9\n";
    undetermined(
        &ending(&format!("{failed}{anew}{LAST_CHECK}")),
        "the check of entry 32 is not within its limits",
    );
    let voided = "void 32 reason=\"typo\"\n";
    undetermined(&ending(&format!("{failed}{voided}{anew}{LAST_CHECK}")), "it was voided, and no good check");
    // Nothing failed, but nobody knows whether the old one still held.
    undetermined(
        &ending(&format!("{anew}{LAST_CHECK}")),
        "the time base of entry 33 was made anew after reading 22",
    );
}

#[test]
fn a_check_is_judged_on_the_gain_line_of_its_own_time_too() {
    let failed = "check p60 path=100 shown=100 height=40 gain=48.9\n";
    let anew = "void 17 reason=\"made anew\"\ndac p60 path=100 height=80 gain=55 hole=3\n";
    let good = "check p60 path=100 shown=100.1 height=80 gain=55\n";
    let job = ending(&format!("{failed}{anew}{good}"))
        .replace("check p60 path=100 shown=99.8 height=79 gain=48.9\n", "");
    undetermined(&job, "the check of entry 31 is not within its limits");
}

#[test]
fn angle_transfer_and_time_base_are_wanted() {
    undetermined(&without(&["angle"]), "the angle of p60 was neither measured nor stated");
    undetermined(&without(&["transfer"]), "no transfer correction of p60 is recorded");
    undetermined(&without(&["timebase", "check"]), "no good check or measurement of the range of p60");
    // A good check of the range says as much as a time base.
    accepted(&without(&["timebase"]));
}

#[test]
fn a_wedge_that_turns_the_beam_wants_its_angle_at_a_known_temperature() {
    let hot = with("wedge-path=8", "wedge-path=8 wedge-slope=-0.0009 marked-at=20 at=60");
    undetermined(&hot, "changes with the temperature of its wedge, and was measured at an unknown one");
    accepted(&with("wedge-path=8", "wedge-path=8 wedge-slope=-0.0009 marked-at=20 at=21"));
}

#[test]
fn what_is_stated_is_taken_and_said_to_be_stated() {
    let angle = without(&["angle"]);
    let angle = angle.replace("dac p60 path=20", "angle p60 stated=60.2 index=0.1\ndac p60 path=20");
    let transfer = with("transfer p60 block=40:41,80:47.5 part=40:42,80:48.9", "transfer p60 gain=0");
    for (job, ground) in [(angle, "angle"), (transfer, "transfer"), (with(" hole=3", ""), "reference")] {
        accepted(&job);
        let [grounds] = answers(SHEET, job.lines(), ["grounds 1"]);
        assert!(grounds.contains(&format!("{ground} stated")), "{grounds}");
    }
    let timebase = with("timebase p60 path=25,100 time=17.86,63.94", "timebase p60 velocity=3.255 delay=2.5");
    accepted(&timebase);
    let unchecked = timebase.lines().filter(|line| !line.starts_with("check"));
    let unchecked: String = unchecked.map(|line| format!("{line}\n")).collect();
    undetermined(&unchecked, "no good check or measurement of the range of p60");
}

#[test]
fn a_reference_curve_with_a_dip_is_no_reference() {
    let dip = with("dac p60 path=60 height=80 gain=42", "dac p60 path=60 height=80 gain=22");
    undetermined(&dip, "the reference curve of p60 falls by 16.0 dB from entry 14 to entry 15");
    let high = with("dac p60 path=60 height=80 gain=42", "dac p60 path=60 height=80 gain=49");
    undetermined(&high, "the reference curve of p60 falls by 3.5 dB");
}

#[test]
fn points_of_one_curve_are_of_one_hole() {
    let other = SOUND.lines().take(14).map(|line| format!("{line}\n")).collect::<String>();
    let refused = refusal(&format!("{other}dac p60 path=60 height=80 gain=42 hole=10"));
    assert!(refused.contains("holes of one size; entry 13 has a hole of 3 mm"), "{refused}");
    undetermined(
        &with("gain=42 hole=3", "gain=42"),
        "some reference points of p60 say which hole they are of",
    );
}

#[test]
fn one_point_serves_paths_up_to_its_own() {
    let point = |path: u8, gain: f32| {
        let lines = without(&["dac", "check"]);
        let dac = format!("dac p60 path={path} height=80 gain={gain} hole=3\n");
        let check = format!("check p60 path={path} shown={path} height=80 gain={gain}\n");
        format!("{}{check}", lines.replace("transfer", &format!("{dac}transfer")))
    };
    accepted(&point(80, 45.5));
    undetermined(&point(40, 38.0), "lies beyond the only reference point, at 40.0 mm: its level reads low");
}

#[test]
fn points_too_far_apart_give_no_level_between() {
    let far = without(&["dac p60 path=40", "dac p60 path=60", "dac p60 path=80"]);
    undetermined(&far, "whose paths are too far apart to read a level between");
    // 100 / 40 is not.
    accepted(&without(&["dac p60 path=60", "dac p60 path=80"]));
}

#[test]
fn a_procedure_may_carry_the_curve_on() {
    let short = without(&["dac p60 path=80", "dac p60 path=100", "check"]);
    let check = "check p60 path=60 shown=60.1 height=80 gain=42\n";
    let held = short.replace("transfer", "dac p60 beyond=slope\ntransfer");
    let held = format!("{held}{check}");
    let [rated, grounds] = answers(SHEET, held.lines(), ["rate 1", "grounds 1"]);
    assert!(rated.starts_with("Indication 1: accept "), "{rated}");
    assert!(grounds.contains("reference stated"), "{grounds}");
}

#[test]
fn a_transfer_beyond_what_can_be_is_none() {
    let transfer = |line: &str| with("transfer p60 block=40:41,80:47.5 part=40:42,80:48.9", line);
    undetermined(&transfer("transfer p60 gain=-20"), "is beyond -6 dB");
    undetermined(&transfer("transfer p60 gain=-6.1"), "is beyond -6 dB");
    accepted(&transfer("transfer p60 gain=-6"));
    let weak = transfer("transfer p60 gain=12.5").replace("height=35 gain=50", "height=35 gain=70");
    let weak = weak.replace(" gain=50 sweep", " gain=70 sweep");
    undetermined(&weak, "is beyond 12 dB");
    // Shots 7 mm apart give a transfer and no slope; one on each is enough.
    accepted(&transfer("transfer p60 block=40:41,47:42 part=40:42,47:46"));
    accepted(&transfer("transfer p60 block=40:41 part=40:42"));
}

#[test]
fn the_probe_could_be_where_the_reading_says() {
    undetermined(&with("haz=10", "haz=10 reach=b"), "from a side that the joint says cannot be reached");
    undetermined(&with("standoff=60.4", "standoff=10"), "the probe would be on the weld; 23.0 mm clears it");
    undetermined(&with("standoff=60.4", "standoff=0"), "the probe would be on the weld");
    // Without its front the index point alone is asked about: the cap ends at 12 mm.
    let bare = with(" front=11", "").replace("standoff=60.4 path=62", "standoff=13 path=16");
    let [rated, grounds] = answers(SHEET, bare.lines(), ["rate 1", "grounds 1"]);
    assert!(!rated.contains("clears it"), "{rated}");
    assert!(grounds.contains("the probe's front is not recorded"), "{grounds}");
}

#[test]
fn on_a_dressed_cap_the_probe_may_be_anywhere() {
    let dressed = with("crown=1.5", "crown=0").replace("path=20 height", "path=12 height");
    accepted(&dressed.replace("standoff=60.4 path=62", "standoff=10 path=20"));
    accepted(&dressed.replace("standoff=60.4 path=62", "standoff=-5 path=12"));
}

#[test]
fn an_echo_beside_the_weld_is_not_of_the_weld() {
    let not = "not an indication of this weld by what was typed";
    undetermined(&with("standoff=60.4", "standoff=160"), not);
    undetermined(&with("standoff=60.4", "standoff=90"), not);
    undetermined(&with("standoff=60.4", "standoff=60.4 skew=60"), not);
    // Without a heat-affected zone 10 mm are taken, and said.
    let [grounds] = answers(SHEET, with(" haz=10", "").lines(), ["grounds 1"]);
    assert!(grounds.contains("no heat-affected zone is recorded"), "{grounds}");
}

#[test]
fn the_thickness_of_a_reading_is_near_that_of_the_joint() {
    undetermined(
        &with("standoff=60.4", "standoff=60.4 thickness=9"),
        "has a thickness of 9 mm, the joint 20 mm",
    );
    undetermined(&with("standoff=60.4", "standoff=60.4 thickness=15.9"), "has a thickness of 15.9 mm");
    accepted(&with("standoff=60.4", "standoff=60.4 thickness=17.5"));
}

#[test]
fn readings_of_one_name_lie_together_along_the_weld() {
    let second = "reading 1 probe=p60 side=a x=1210 standoff=60.4 path=62 height=33 gain=50";
    undetermined(
        &before("reading 1 probe=p60 side=a x=88", second),
        "mm from the other readings of its name",
    );
    let elsewhere = SOUND.replace(
        "x=100 standoff=60.4 path=62 height=35 gain=50\n",
        "x=1200 standoff=60.4 path=62 height=35 gain=50\n",
    );
    undetermined(&elsewhere, "mm from the other readings of its name");
    // A second peak inside the swept length is one of the same.
    let inside = "reading 1 probe=p60 side=a x=106 standoff=60.4 path=62 height=33 gain=50";
    accepted(&before("reading 1 probe=p60 side=a x=88", inside));
}

#[test]
fn around_a_girth_weld_the_datum_parts_nothing() {
    // 273 mm outside: 857.7 mm around.
    let girth = with("haz=10", "haz=10 curvature=along od=273");
    let around = |x: i32| if x < 100 { 857.7 + f64::from(x) - 100.0 } else { f64::from(x - 100) };
    let lines = girth.lines().map(|line| match line.split_once(" x=") {
        Some((head, tail)) => {
            let (x, rest) = tail.split_once(' ').unwrap();
            format!("{head} x={:.1} {rest}\n", around(x.parse().unwrap()))
        }
        None => format!("{line}\n"),
    });
    let job: String = lines.collect();
    let [grounds] = answers(SHEET, job.lines(), ["grounds 1"]);
    assert!(grounds.contains("together met"), "{grounds}");
}

#[test]
fn the_deciding_echo_is_read_between_20_and_100_percent() {
    let low = with("height=35 gain=50", "height=6 gain=34.7");
    undetermined(&low, "was read at 6 % of the screen; levels are read between 20 and 100 %");
    let faint = SOUND.replace(" gain=50", " gain=110");
    undetermined(&faint, "lower than any echo that could be seen");
    // The flanks of a sweep are not asked.
    accepted(SOUND);
}

#[test]
fn one_hole_is_the_whole_reference_of_a_weighted_rating() {
    let sheet = format!(
        "title = 'Weighted (INVENTED)'\nsource = 'invented for this test, no document'\nchecked-by = 'nobody real'\n\
         length-by = 'drop-6'\n{WEIGHTED}\n[[row]]\nbelow = 5\nverdict = 'reject'\n[[row]]\nat-least = 5\nverdict = 'accept'\n"
    );
    let job = without(&[
        "dac p60 path=20",
        "dac p60 path=60",
        "dac p60 path=80",
        "dac p60 path=100",
        "check",
        "transfer",
    ]);
    let job = job.replace("tolerance", "transfer p60 gain=0\ntolerance");
    let job = format!("{job}check p60 path=40 shown=40 height=80 gain=38\n");
    let [rated] = answers(&sheet, job.lines(), ["rate 1"]);
    assert!(rated.starts_with("Indication 1: accept "), "{rated}");
}
