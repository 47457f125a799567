//! `halfskip compare`: two examinations of one weld, held against the figures that `run` gives of each.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};

use crate::tally::directory;

/// Exit status, standard output, standard error.
fn halfskip(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let done =
        Command::new(env!("CARGO_BIN_EXE_halfskip")).current_dir(folder).args(arguments).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (done.status.code().unwrap(), text(done.stdout), text(done.stderr))
}

fn json(folder: &Path, arguments: &[&str]) -> Value {
    let (status, text, said) = halfskip(folder, arguments);
    assert_eq!(status, 0, "{said}");
    serde_json::from_str(&text).unwrap()
}

/// The invented example as it is, and after an invented repair: the datum 3 mm further on, indication 2 gone, indication 1
/// 4 dB stronger, a new indication 9.
fn folder(name: &str) -> PathBuf {
    let folder = directory(&format!("compare-{name}"));
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples");
    let sheet = format!("{root}/criteria/demonstration.toml");
    let job = fs::read_to_string(format!("{root}/jobs/butt-weld-20mm.job")).unwrap();
    let job = job.replace("../criteria/demonstration.toml", &format!("\"{sheet}\""));
    let technique = format!("\"{root}/criteria/technique-demonstration.toml\"");
    let job = job.replace("../criteria/technique-demonstration.toml", &technique);
    fs::write(folder.join("before.job"), &job).unwrap();
    let mut after = String::new();
    for line in job.lines().filter(|line| !line.starts_with("reading 2 ") && !line.starts_with("observe 2 "))
    {
        let mut line = line.to_owned();
        if let Some(at) = line.find(" x=") {
            let x: f64 = line[at + 3..].split(' ').next().unwrap().parse().unwrap();
            line = line.replacen(&format!(" x={x}"), &format!(" x={}", x - 3.0), 1);
        }
        if line.starts_with("reading 1 ") {
            line = line.replace("gain=34", "gain=30").replace("gain=42", "gain=38");
        }
        after += &line;
        after.push('\n');
    }
    after += "reading 9 probe=p60 side=a x=700 standoff=60.4 path=62 height=50 gain=42\n";
    fs::write(folder.join("after.job"), after).unwrap();
    folder
}

#[test]
fn a_job_does_not_differ_from_itself() {
    let folder = folder("itself");
    let found = json(&folder, &["compare", "--format", "json", "before.job", "before.job"]);
    assert_eq!(found["only_first"], json!([]));
    assert_eq!(found["only_second"], json!([]));
    let matched = found["matched"].as_array().unwrap();
    assert_eq!(matched.len(), 4);
    for pair in matched {
        assert_eq!((&pair["ids"][0], &pair["differs"]), (&pair["ids"][1], &json!(false)));
        for quantity in pair["quantities"].as_array().unwrap() {
            assert!(quantity["difference"].is_null() || quantity["difference"] == 0.0, "{quantity}");
        }
    }
}

#[test]
fn differences_are_those_of_the_findings_in_units_of_their_uncertainty() {
    let folder = folder("repair");
    let of = |job: &str, id: &str| {
        let findings = json(&folder, &["run", "--format", "json", job]);
        findings["indications"].as_array().unwrap().iter().find(|found| found["id"] == id).unwrap().clone()
    };
    let found = json(&folder, &["compare", "--shift", "3", "--format", "json", "before.job", "after.job"]);
    assert_eq!((&found["only_first"], &found["only_second"]), (&json!(["2"]), &json!(["9"])));
    let matched = found["matched"].as_array().unwrap();
    assert_eq!(matched.iter().map(|pair| &pair["ids"][0]).collect::<Vec<_>>(), ["1", "3", "4"]);
    for pair in matched {
        let id = pair["ids"][0].as_str().unwrap();
        let (one, other) = (of("before.job", id), of("after.job", id));
        for quantity in pair["quantities"].as_array().unwrap() {
            let name = quantity["quantity"].as_str().unwrap();
            let number = |found: &Value, key: String| found[key].as_f64();
            let (key, shift) = (format!("{name}_{}", if name == "level" { "db" } else { "mm" }), 3.0);
            let (Some(first), Some(second)) = (number(&one, key.clone()), number(&other, key)) else {
                continue;
            };
            let told = quantity["difference"].as_f64();
            let expected = second - first + if name == "x" { shift } else { 0.0 };
            assert!(
                told.is_none_or(|told| (told - expected).abs() < 1e-4),
                "{id} {name}: {told:?} {expected}"
            );
            let (u, w) = (number(&one, format!("u_{name}_mm")), number(&other, format!("u_{name}_mm")));
            if let (Some(u), Some(w)) = (u, w) {
                let units = expected.abs() / u.hypot(w);
                let told = quantity["units"].as_f64().unwrap();
                assert!((told - units).abs() < 1e-3 * (units + 1.0), "{id} {name}: {told} {units}");
            }
        }
        let one = (&one["verdict"], &other["verdict"]);
        assert_eq!(one, (&pair["verdicts"][0], &pair["verdicts"][1]));
    }
}

#[test]
fn for_a_person_it_says_what_differs_and_what_is_no_proof() {
    let folder = folder("told");
    let (status, said, _) = halfskip(&folder, &["compare", "--shift", "3", "before.job", "after.job"]);
    assert_eq!(status, 0);
    for part in [
        "  first             before.job, Invented",
        "\nOnly in the first: 2\n",
        "\nOnly in the second: 9\n",
        "Indication 1 and 1: DIFFERS",
        "Indication 3 and 3: no difference exceeds its uncertainty, where it has one",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert!(said.lines().all(|line| line.len() <= 78), "{said}");
    // Unshifted, indication 1 is still within 5 mm; within 1 mm of it nothing lies that far along.
    let found = json(
        &folder,
        &["compare", "--shift", "2000", "--within", "1", "--format", "json", "before.job", "after.job"],
    );
    assert_eq!(found["matched"], json!([]));
}

#[test]
fn what_cannot_be_compared_is_told_in_one_line() {
    let folder = folder("refused");
    for (arguments, part) in [
        (&["compare", "before.job"][..], "missing: <OTHER>"),
        (&["compare", "-", "-"], "standard input can be one of the two jobs only"),
        (&["compare", "before.job", "after.job", "--shift", "far"], "--shift: 'far' is no length in mm"),
        (&["compare", "before.job", "after.job", "--within", "-1"], "--within: '-1' is no length in mm"),
        (
            &["compare", "before.job", "after.job", "--format", "csv"],
            "unknown format 'csv'; expected text or json",
        ),
        (&["compare", "before.job", "none.job"], "none.job: cannot be opened"),
    ] {
        let (status, shown, said) = halfskip(&folder, arguments);
        assert_eq!((status, shown.as_str(), said.lines().count()), (2, "", 1), "{said}");
        assert!(said.contains(part), "{said}");
    }
}
