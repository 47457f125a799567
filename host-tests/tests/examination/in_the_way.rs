//! What stands in the way of a verdict is told as it is, and so is what takes it away. Sheets and readings are invented.

use halfskip_host_tests::job::{WEIGHTED, answers};

/// Answers to `questions` after `lines`, by a sheet of levels.
fn asked(rows: &str, lines: &[&str], questions: [&str; 2]) -> [String; 2] {
    asked_by("measure = 'level'", rows, lines, questions)
}

fn asked_by(measure: &str, rows: &str, lines: &[&str], questions: [&str; 2]) -> [String; 2] {
    let head = format!("title = 'invented'\nsource = 'none'\nlength-by = 'drop-6'\n{measure}\n");
    answers(&format!("{head}{rows}"), lines.iter().copied(), questions)
}

const SETTINGS: [&str; 5] = [
    "material m shear=3.24 long=5.92",
    "joint butt thickness=20 prep=square gap=2",
    "probe p angle=60 frequency=4 element=8x9",
    "dac p path=50 height=80 gain=40",
    "criteria it",
];

#[test]
fn a_voided_probe_is_told_as_such_and_not_as_a_reading_out_of_force() {
    let reading = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=60";
    let lines: Vec<&str> = SETTINGS.into_iter().chain([reading, "void 3 reason=\"another probe\""]).collect();
    let [rate, margin] = asked("[[row]]\nverdict = 'accept'\n", &lines, ["rate 1", "margin 1"]);
    let because = "because reading 6 has no place: the probe's entry was voided";
    assert!(rate.starts_with(&format!("Indication 1: undetermined {because}")), "{rate}");
    assert!(margin.contains(because) && margin.contains("to settle it probe p entered again"), "{margin}");
    let lines: Vec<&str> = SETTINGS.into_iter().chain([reading, "void 6 reason=\"not meant\""]).collect();
    let [rate, margin] = asked("[[row]]\nverdict = 'accept'\n", &lines, ["rate 1", "margin 1"]);
    assert!(rate.contains("because no reading of it is in force"), "{rate}");
    assert!(margin.contains("to settle it a reading of it"), "{margin}");
}

/// What `margin 1` says of a reading without a level.
fn without_level(rows: &str) -> String {
    let reading = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=60";
    let lines: Vec<&str> =
        SETTINGS.into_iter().filter(|line| !line.starts_with("dac")).chain([reading]).collect();
    let [margin, _] = asked(rows, &lines, ["margin 1", "rate 1"]);
    margin
}

#[test]
fn what_settles_a_verdict_is_tried_at_every_limit_of_the_sheet() {
    let narrow = "[[row]]\nat-least = 2.1\nbelow = 2.4\nlength-over = 300\nverdict = 'reject'\n\
                  [[row]]\nverdict = 'accept'\n";
    let margin = without_level(narrow);
    assert!(margin.contains("That may not be enough; then row 1 needs the length"), "{margin}");
    let alone = "[[row]]\nat-least = 2.1\nbelow = 2.4\nverdict = 'reject'\n[[row]]\nverdict = 'accept'\n";
    let margin = without_level(alone);
    assert!(margin.contains("Whatever it says, a row of the sheet then decides."), "{margin}");
}

#[test]
fn a_depth_is_said_to_decide_only_where_it_lies_in_one_zone() {
    let zone = "[[row]]\nzone = \"outer-quarters\"\nverdict = 'reject'\n[[row]]\nverdict = 'accept'\n";
    let reading = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=60";
    let near = reading.replace("path=20", "path=10.2").replace("17.32", "8.66");
    let lines: Vec<&str> = SETTINGS.into_iter().chain([near.as_str()]).collect();
    let [margin, _] = asked(zone, &lines, ["margin 1", "rate 1"]);
    assert!(margin.contains("row 1 needs the depth"), "{margin}");
    assert!(
        margin.contains("Where all of that depth lies in one zone, a row of the sheet decides."),
        "{margin}"
    );
}

#[test]
fn a_rating_that_is_only_bounded_asks_for_the_gain_that_would_tell_it() {
    let rows = "[[row]]\nat-most = 1\nverdict = 'reject'\n[[row]]\nat-least = 2\nverdict = 'accept'\n";
    let margin = |readings: &[&str]| {
        let lines: Vec<&str> = SETTINGS.into_iter().chain(readings.iter().copied()).collect();
        asked_by(WEIGHTED, rows, &lines, ["margin 1", "rate 1"])[0].clone()
    };
    // d = 3; and at most 20 log10(5 / 80) + 40 - 21.5 = -5.6 dB on a path for which c is 8: from -3 up.
    let seen = "reading 1 probe=p side=a x=100 standoff=20.78 path=24 height=80 gain=43";
    let unseen = "reading 1 probe=p side=b x=100 standoff=113.1 path=130.6 height=under gain=21.5";
    let told = margin(&[seen, unseen]);
    assert!(told.contains("to settle it what was not seen looked for again at more gain"), "{told}");
    let over = seen.replace("height=80 gain=43", "height=over gain=44");
    let told = margin(&[&over]);
    assert!(
        told.contains("to settle it the peak read at less gain, so that it stays on the screen"),
        "{told}"
    );
}
