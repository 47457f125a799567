//! What is not known stands nowhere as a figure: a height whose observations disagree, the place of an echo not seen.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

const SET_UP: &str = "\
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2
probe p60 angle=60 frequency=4 element=8x9
dac p60 path=30 height=80 gain=38
dac p60 path=60 height=80 gain=44
";

/// A crack of the far face: its tip plots 6.0 mm high from side A and 2.0 mm high from side B.
const CRACK: &str = "\
reading 1 probe=p60 side=a x=0 standoff=34.64 path=40 height=50 gain=40 point=corner
reading 1 probe=p60 side=a x=0 standoff=39.8 path=44 height=50 gain=40 point=upper-tip
reading 1 probe=p60 side=b x=0 standoff=42 path=52 height=50 gain=40 point=upper-tip
";

fn halfskip(arguments: &[&str], job: &str) -> String {
    let mut program = Command::new(env!("CARGO_BIN_EXE_halfskip"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    program.stdin.take().unwrap().write_all(format!("{SET_UP}{job}").as_bytes()).unwrap();
    let done = program.wait_with_output().unwrap();
    assert_eq!(done.status.code(), Some(0), "{arguments:?}");
    String::from_utf8(done.stdout).unwrap()
}

#[test]
fn no_height_is_told_anywhere_where_its_observations_disagree() {
    let json: Value = serde_json::from_str(&halfskip(&["run", "--format", "json", "-"], CRACK)).unwrap();
    let found = &json["indications"][0];
    assert_eq!((&found["height_mm"], &found["u_height_mm"]), (&Value::Null, &Value::Null));
    let named = |caution: &Value| caution.as_str().unwrap().contains("the height of indication 1 disagree");
    assert!(json["cautions"].as_array().unwrap().iter().any(named), "{}", json["cautions"]);

    let csv = halfskip(&["run", "--format", "csv", "-"], CRACK);
    let mut rows = csv.lines().map(|row| row.split(',').collect::<Vec<_>>());
    let header = rows.next().unwrap();
    for key in ["indication_height_mm", "indication_u_height_mm"] {
        let column = header.iter().position(|name| *name == key).unwrap();
        assert!(rows.clone().all(|row| row[column].is_empty()), "{key}");
    }

    let text = halfskip(&["run", "-"], CRACK).split_whitespace().collect::<Vec<_>>().join(" ");
    let told = "height not known: its 2 observations DISAGREE by more than their uncertainty, 2.0 mm to 6.0 mm, from the far face";
    assert!(text.contains(told), "{text}");

    let page = Path::new(env!("CARGO_TARGET_TMPDIR")).join("heights-disagree.html");
    // One that an earlier version left has no mark, and is not written over.
    let _ = fs::remove_file(&page);
    halfskip(&["report", "-", "--html", page.to_str().unwrap()], CRACK);
    let page = fs::read_to_string(page).unwrap();
    assert!(page.contains("not known: its observations DISAGREE"), "not in the page");
}

#[test]
fn an_echo_that_was_not_seen_lies_nowhere() {
    let reading = |height: &str| {
        format!("reading 1 probe=p60 side=b x=5 standoff=30 path=36 height={height} gain=50 skew=5\n")
    };
    // Looked for, shown below the noise, and seen.
    let job = format!("screen noise=10\n{}{}{}", reading("under"), reading("8"), reading("20"));
    let json: Value = serde_json::from_str(&halfskip(&["run", "--format", "json", "-"], &job)).unwrap();
    for (reading, seen) in json["readings"].as_array().unwrap().iter().zip([false, false, true]) {
        for key in ["x_mm", "y_mm", "z_mm", "u_y_mm", "u_z_mm"] {
            assert_eq!(reading[key].is_number(), seen, "{key} of {reading}");
        }
        for key in ["leg", "path_mm", "unfolded_mm", "level_db"] {
            assert!(reading[key].is_number(), "{key} of {reading}");
        }
    }
    let csv = halfskip(&["run", "--format", "csv", "-"], &job);
    let places: Vec<Vec<&str>> =
        csv.lines().skip(1).map(|row| row.split(',').skip(5).take(5).collect()).collect();
    assert_eq!(places[0], [""; 5]);
    assert_eq!(places[1], [""; 5]);
    assert!(places[2].iter().all(|field| !field.is_empty()), "{csv}");
}
