//! Cautions of one kind and reason are one line, and lines answer at once what will be in the way. The job is invented.

use halfskip_console::sheets::OneSheet;
use halfskip_console::sheets::criteria as sheet;
use halfskip_console::shell::Shell;
use halfskip_host_tests::job::answers;

const SHEET: &str = "title = 'Invented'\nsource = 'invented'\nchecked-by = 'somebody'\nmeasure = 'level'\n\
                     length-by = 'drop-6'\n[[row]]\nabove = 3\nverdict = 'reject'\n[[row]]\nabove = -7\n\
                     length-over = 35\nverdict = 'reject'\n[[row]]\nabove = -7\nverdict = 'record'\n[[row]]\n\
                     verdict = 'accept'\n";

const SET_UP: &str = "\
material steel
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24 crown=1.5 haz=10
probe p60 angle=60 frequency=4 element=8x9 front=11 wedge=2.73 wedge-path=8
timebase p60 path=25,100 time=17.86,63.94
angle p60 depth=15 distance=26.2
angle p60 depth=25 distance=43.5
dac p60 path=20 height=80 gain=34 hole=3
dac p60 path=40 height=80 gain=38 hole=3
dac p60 path=60 height=80 gain=42 hole=3
dac p60 path=80 height=80 gain=45.5 hole=3
transfer p60 block=40:41,80:47.5 part=40:42,80:48.9
tolerance angle=1 path=0.3 index=0.5 standoff=0.5 thickness=0.2 height=5
";
const CHECK: &str = "check p60 path=60 shown=60 height=79 gain=42";
const FAILED: &str = "check p60 path=60 shown=64 height=79 gain=42";
const CRITERIA: &str = "criteria it";

/// A reading of indication 1, level −11.6 dB, with these keys over its own.
fn reading(keys: &str) -> String {
    let own =
        [("side", "a"), ("x", "100"), ("standoff", "60.4"), ("path", "62"), ("height", "35"), ("gain", "50")];
    let kept =
        own.iter().filter(|(key, _)| !keys.split(' ').any(|given| given.starts_with(&format!("{key}="))));
    let kept: Vec<String> = kept.map(|(key, value)| format!("{key}={value}")).collect();
    format!("reading 1 probe=p60 {} {keys}", kept.join(" "))
}

/// The lines of the base job with others behind its set-up.
fn lines<'l>(others: &[&'l str]) -> Vec<&'l str> {
    SET_UP.lines().chain([CRITERIA]).chain(others.iter().copied()).collect()
}

fn findings_by(sheet: &str, others: &[&str]) -> String {
    let [told] = answers(sheet, lines(others), ["findings"]);
    told
}

fn findings(others: &[&str]) -> String {
    findings_by(SHEET, others)
}

/// What a line is answered behind others, without the number.
fn answered(sheet: &str, others: &[&str], last: &str) -> String {
    let sheet = sheet::read::<24>(sheet).unwrap();
    let mut shell: Box<Shell<OneSheet<24>>> = Box::new(Shell::new(OneSheet { name: "it", sheet }));
    let mut answer = String::new();
    for line in SET_UP.lines().chain(others.iter().copied()).chain([last]) {
        answer.clear();
        shell.line(line.as_bytes(), &mut answer);
    }
    answer.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_base_job_has_nothing_unusual() {
    let told = findings(&[CHECK, &reading(""), CHECK]);
    assert!(told.contains("Indication 1: accept"), "{told}");
    let cautions = told.split_once("Cautions").unwrap().1;
    assert!(cautions.trim_start().starts_with("- halfskip computes"), "{told}");
    assert!(!told.contains("would be"), "{told}");
}

#[test]
fn readings_of_one_reason_are_one_line_and_those_of_another_probe_stay_apart() {
    let on = reading("standoff=10");
    let other = on.replace("p60", "q60");
    let probe = "probe q60 angle=60 frequency=4 element=8x9 front=15";
    let told = findings(&[CHECK, &on, &reading(""), &on, "note \"dull\"", &on, &on, probe, &other, CHECK]);
    assert!(
        told.contains(
            "- readings 15, 17 to 20: at their stand-offs probe p60 would be on the cap; 23.0 mm clears it -"
        ),
        "{told}"
    );
    assert!(told.contains(
        "- reading 22: at its stand-off of 10 mm probe q60 would be on the cap; 27.0 mm clears it"
    ));
    assert_eq!(told.matches("would be on the cap").count(), 2);
}

#[test]
fn the_summary_names_the_indications_that_share_what_is_in_the_way() {
    let (first, last) = (reading(""), reading("x=300").replace("reading 1", "reading 3"));
    let told = findings(&[CHECK, &first, &last]);
    let summary = "Indications 1 and 3 would be accepted; no check of the range of p60 after the last reading (grounds 1)";
    assert!(told.contains(summary), "{told}");
    let told = answers(SHEET, SET_UP.lines().chain([first.as_str()]), ["findings"]).concat();
    assert!(told.contains("No verdict: no criteria sheet is in force"), "{told}");
}

#[test]
fn a_surface_term_and_a_slope_beyond_the_usual_are_told() {
    let told = |transfer: &str| {
        let (reading, lines) = (reading(""), lines(&[]));
        let lines = lines.iter().map(|line| if line.starts_with("transfer") { transfer } else { line });
        answers(SHEET, lines.chain([reading.as_str()]), ["findings"]).concat()
    };
    let (surface, slope) = ("at the surface is beyond the usual", "to the longest path read");
    for (gain, unusual) in [("-2", false), ("-2.5", true), ("6", false), ("6.5", true)] {
        assert_eq!(told(&format!("transfer p60 gain={gain}")).contains(surface), unusual, "{gain}");
    }
    // 1.2 and 1.4 dB in 40 mm: 1.9 and 2.2 dB over a path of 62 mm.
    for (part, much) in [("40:42,80:49.7", false), ("40:42,80:49.9", true)] {
        let told = told(&format!("transfer p60 block=40:41,80:47.5 part={part}"));
        assert_eq!(told.contains(slope), much, "{part}: {told}");
    }
    let shots = "transfer q block=40:42,80:48.9 part=40:52,80:58.9";
    let probe = "probe q angle=60 frequency=4 element=9";
    assert!(
        answered(SHEET, &[probe], shots).contains("10.0 dB at the surface is beyond the usual -2 to 6 dB")
    );
}

#[test]
fn reference_points_more_than_three_to_one_in_path_are_told_at_once_and_later() {
    let probe = "probe q angle=60 frequency=4 element=9";
    let dac = |path: f32, gain: f32| format!("dac q path={path} height=80 gain={gain} hole=3");
    let (first, near, far) = (dac(20.0, 30.0), dac(60.0, 42.0), dac(62.0, 42.0));
    assert!(!answered(SHEET, &[probe, &first], &near).contains("as 1 to"));
    let told = "the paths of the reference points of entries 14 and 15 are as 1 to 3.1: levels between them read low";
    assert!(answered(SHEET, &[probe, &first], &far).contains(told));
    assert!(findings(&[probe, &first, &far]).contains("entries 15 and 16 are as 1 to 3.1"));
    let dip = dac(80.0, 30.0);
    assert!(answered(SHEET, &[probe, &near], &dip).contains("the reference curve of q falls by 12.0 dB"));
    let unnamed = "dac q path=80 height=80 gain=45";
    assert!(answered(SHEET, &[probe, &near], unnamed).contains("others do not"));
}

#[test]
fn a_thickness_more_than_a_tenth_off_the_joints_is_told_once() {
    let told = |thickness: &str| findings(&[CHECK, &reading(&format!("thickness={thickness}")), CHECK]);
    assert!(!told("22").contains("has a thickness"));
    assert!(
        told("22.1").contains("- reading 15 has a thickness of 22.1 mm, the joint 20 mm"),
        "{}",
        told("22.1")
    );
    let both = findings(&[&reading("thickness=17"), &reading("thickness=17.5")]);
    assert!(
        both.contains("- readings 14, 15 have a thickness of 17.0 to 17.5 mm, the joint 20 mm"),
        "{both}"
    );
}

#[test]
fn tolerances_wider_than_usual_are_told_at_once_and_later() {
    let told = "tolerance wider than usual: angle 45 deg, path 100 mm";
    assert!(answered(SHEET, &[], "tolerance angle=45 path=100").contains(told));
    assert!(findings(&["tolerance angle=45 path=100"]).contains(told));
    for (line, wide) in [
        ("angle=5 path=5 index=5 standoff=5 thickness=5 height=20 range=5 sensitivity=4", ""),
        ("angle=5.1", "angle 5.1 deg"),
        ("index=5.1", "index 5.1 mm"),
        ("standoff=5.1", "standoff 5.1 mm"),
        ("thickness=5.1", "thickness 5.1 mm"),
        ("height=21", "height 21 %"),
        ("range=6", "range of checks 6 %"),
        ("sensitivity=5", "sensitivity of checks 5 dB"),
    ] {
        let answer = answered(SHEET, &[], &format!("tolerance {line}"));
        let found = answer.split_once("usual: ").map_or("", |(_, wide)| wide);
        assert_eq!(found, wide, "{answer}");
    }
    // A quarter of 12 mm.
    let thin = SET_UP.replace("thickness=20", "thickness=12");
    let line = |path: &str| format!("tolerance path={path}");
    let wide = |path: &str| {
        answers(SHEET, thin.lines().chain([line(path).as_str()]), ["findings"])
            .concat()
            .contains("wider than")
    };
    assert_eq!((wide("3"), wide("3.1")), (false, true));
}

#[test]
fn what_was_voided_is_named_with_its_reason_where_it_speaks_against_an_accept() {
    let (strong, weak) = (reading("gain=38"), reading(""));
    let told = findings(&[
        &strong,
        &strong,
        &weak,
        "void 14 reason=\"typo\"",
        "void 15 reason=\"typo\"",
        "void 16 reason=\"x\"",
    ]);
    let named =
        "readings 14, 15, which the sheet would not plainly accept by level alone, were voided: \"typo\"";
    assert!(told.contains(named) && told.matches("voided").count() == 1, "{told}");
    let told = findings(&[CHECK, FAILED, "void 14 reason=\"early\"", "void 15 reason=\"slipped\"", CHECK]);
    assert!(told.contains("- check 14 was voided: \"early\""), "{told}");
    assert!(told.contains("- check 15, not within the limits, was voided: \"slipped\""), "{told}");
    let told = findings(&["void 9 reason=\"misread\"", "dac p60 path=60 height=80 gain=42 hole=3"]);
    assert!(told.contains("- entry 9 of a calibration was voided: \"misread\""), "{told}");
}

#[test]
fn a_voided_reading_is_asked_about_by_a_weighted_sheet_too() {
    let sheet = format!(
        "title = 'Invented'\nsource = 'invented'\nchecked-by = 'somebody'\nlength-by = 'drop-6'\n{}\n[[row]]\n\
         at-most = 3\nclass = 'X'\nverdict = 'reject'\n[[row]]\nat-least = 4\nclass = 'Y'\nverdict = 'accept'\n",
        halfskip_host_tests::job::WEIGHTED
    );
    // d = a - b - c: the gain over that of the reference, less 0.08 dB for each mm of path beyond 25.
    let told =
        |gain: &str| findings_by(&sheet, &[&reading(&format!("gain={gain}")), "void 14 reason=\"typo\""]);
    assert!(told("30").contains("reading 14, which the sheet would not plainly accept"), "{}", told("30"));
    assert!(!told("70").contains("would not plainly accept"), "{}", told("70"));
}

#[test]
fn rows_that_never_hold_are_named_at_once_and_later() {
    let covered = SHEET.replace("[[row]]\nabove = 3", "[[row]]\nverdict = 'accept'\n[[row]]\nabove = 3");
    let told = "rows 2 to 5 of the sheet can never hold: what comes before covers them";
    assert!(answered(&covered, &[], CRITERIA).contains(told));
    assert!(findings_by(&covered, &[]).contains(told));
    let unchecked = covered.replace("somebody", "");
    assert!(answered(&unchecked, &[], CRITERIA).contains("sheet not checked against its source"));
    assert_eq!(answered(SHEET, &[], CRITERIA), "13: criteria recorded");
}

#[test]
fn lines_that_will_be_in_the_way_are_answered_so_and_recorded() {
    assert!(answered(SHEET, &[], &reading("standoff=10")).contains("23.0 mm clears it"));
    assert!(answered(SHEET, &[], &reading("standoff=160")).contains("not an indication of this weld"));
    assert!(
        answered(SHEET, &[], &reading("thickness=9")).contains("has a thickness of 9 mm, the joint 20 mm")
    );
    assert!(answered(SHEET, &[], &reading("height=5.1")).contains("was read at 5.1 % of the screen"));
    assert!(!answered(SHEET, &[], &reading("")).contains(';'));
    let still = "that check still counts as failed until a good check follows";
    assert!(answered(SHEET, &[FAILED], "void 13 reason=\"typo\"").contains(still));
    assert!(!answered(SHEET, &[CHECK], "void 13 reason=\"typo\"").contains(still));
    assert!(answered(SHEET, &[FAILED], CHECK).contains("the check of entry 13 had failed"));
    assert!(!answered(SHEET, &[FAILED, CHECK], CHECK).contains("had failed"));
}
