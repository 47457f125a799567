//! Findings as JSON, layout 2: which job they are of, by which sheets, and what the accepts rest on. All of it is invented.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use halfskip::acceptance::technique::Ground;
use halfskip_host_tests::sound::{SHEET, SOUND};
use serde_json::{Value, json};

/// Of the sheet of the sound job, as sha256sum of the GNU coreutils tells it.
const SHEET_SHA256: &str = "d44c41cbb08c4835e24c6fe4398eff4b58c2c2723d78a4022219ab785e580932";
const TECHNIQUE: &str = "title = 'Short (INVENTED)'\nsource = 'invented for this test, no document'\nasks = ['angle', 'coverage']\ncoverage = 90\n";
/// The same of the technique sheet.
const TECHNIQUE_SHA256: &str = "8c1d0a890e5514ed08d22838c340b3304e400dd055d5b743cd1c2e13d8d982b8";

/// A folder with both sheets.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join("it"), SHEET).unwrap();
    fs::write(folder.join("short"), TECHNIQUE).unwrap();
    folder
}

/// The findings of a job in that folder.
fn told(name: &str, job: &str) -> Value {
    let folder = folder(name);
    fs::write(folder.join("a.job"), job).unwrap();
    let arguments = ["run", "--format", "json", "a.job"];
    let done = Command::new(env!("CARGO_BIN_EXE_desk")).current_dir(folder).args(arguments).output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    serde_json::from_slice(&done.stdout).unwrap()
}

/// The states of the grounds of the first indication, by their names.
fn states<'a>(findings: &'a Value) -> Vec<(&'a str, &'a str)> {
    let grounds = findings["indications"][0]["grounds"].as_array().unwrap();
    let word = |ground: &'a Value, key| ground[key].as_str().unwrap();
    assert!(grounds.iter().all(|ground| !word(ground, "says").is_empty()));
    grounds.iter().map(|ground| (word(ground, "name"), word(ground, "state"))).collect()
}

#[test]
fn a_sound_job_is_accepted_on_fourteen_grounds_by_a_sheet_of_that_digest() {
    let found = told("sound", SOUND);
    assert_eq!((&found["schema"], &found["indications"][0]["verdict"]), (&json!(2), &json!("accept")));
    let states = states(&found);
    assert!(states.iter().map(|(name, _)| *name).eq(Ground::ALL.iter().map(|ground| ground.name())));
    assert!(states.iter().take(11).all(|(_, state)| *state == "met"), "{states:?}");
    assert!(states.iter().skip(11).all(|(_, state)| *state == "not-asked"), "{states:?}");
    let checks = &found["indications"][0]["grounds"][0];
    assert_eq!(checks["entries"], json!([20, 32]), "the checks before and after the readings");
    let job = &found["job"];
    assert_eq!(
        (&job["name"], &job["date"], &job["sheet_checked"]),
        (&json!("a.job"), &json!("2026-03-14"), &json!(true))
    );
    assert_eq!(job["sheet_sha256"], json!(SHEET_SHA256));
    assert_eq!((&job["technique"], &job["technique_sha256"]), (&Value::Null, &Value::Null));
    assert_eq!((&job["technique_checked"], &job["technique_leaves_out"]), (&Value::Null, &json!([])));
}

#[test]
fn a_technique_is_told_with_its_digest_and_with_what_it_leaves_out() {
    let found = told("short", &SOUND.replace("criteria it\n", "criteria it\ntechnique short\n"));
    let job = &found["job"];
    assert_eq!((&job["technique"], &job["technique_checked"]), (&json!("Short (INVENTED)"), &json!(false)));
    assert_eq!(job["technique_sha256"], json!(TECHNIQUE_SHA256));
    let left_out = job["technique_leaves_out"].as_array().unwrap();
    assert!(left_out.len() == 10 && left_out[0] == "range-check" && left_out[9] == "place", "{left_out:?}");
    let cautions = found["cautions"].to_string();
    assert!(
        cautions.contains("leaves out what the built-in minimum asks for before an accept: range-check, "),
        "{cautions}"
    );
    assert!(cautions.contains("technique sheet not checked against its source"), "{cautions}");
    assert_eq!(states(&found).iter().filter(|(_, state)| *state == "not-asked").count(), 12);
    assert_eq!(
        states(&found).last(),
        Some(&("coverage", "not-met")),
        "by calculation is not by recorded scans"
    );
    assert_eq!(found["indications"][0]["verdict"], json!("undetermined"));
}

#[test]
fn sheets_taken_out_leave_neither_title_nor_digest() {
    let job = format!(
        "{}void 21 reason=\"invented\"\nvoid 22 reason=\"invented\"\n",
        SOUND.replace("criteria it\n", "criteria it\ntechnique short\n")
    );
    let found = told("taken-out", &job);
    for key in
        ["sheet", "sheet_checked", "sheet_sha256", "technique", "technique_checked", "technique_sha256"]
    {
        assert_eq!(found["job"][key], Value::Null, "{key}");
    }
    assert_eq!(found["job"]["technique_leaves_out"], json!([]));
    assert_eq!(states(&found)[0], ("range-check", "met"), "grounds are known without a sheet");
}

#[test]
fn a_stated_and_a_missing_ground_are_told_apart() {
    let transfer = "transfer p60 block=40:41,80:47.5 part=40:42,80:48.9";
    let stated = told("stated", &SOUND.replace(transfer, "transfer p60 gain=2"));
    assert_eq!(states(&stated)[4], ("transfer", "stated"));
    assert_eq!(stated["indications"][0]["verdict"], json!("accept"));
    let missing = told("missing", &SOUND.replace(transfer, ""));
    assert_eq!(states(&missing)[4], ("transfer", "not-met"));
    let indication = &missing["indications"][0];
    assert_eq!(indication["verdict"], json!("undetermined"));
    assert_eq!(indication["because"], json!("would be accepted; no transfer correction of p60 is recorded"));
}
