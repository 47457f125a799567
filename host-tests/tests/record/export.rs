//! `halfskip export` and `halfskip schema`: findings for other programs, in the layout that the schema file promises. What
//! judges by a schema takes the feature `long` to be built.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

#[cfg(feature = "long")]
use boon::{Compiler, SchemaIndex, Schemas};
use serde_json::{Value, json};

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/..");

/// Exit status, standard output, standard error.
fn halfskip(arguments: &[&str]) -> (i32, String, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_desk")).current_dir(ROOT).args(arguments).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (done.status.code().unwrap(), text(done.stdout), text(done.stderr))
}

/// Every job that lies in the repository: the examples and those of known truth.
fn jobs() -> Vec<String> {
    let folders = ["examples/jobs", "host-tests/simulated"];
    let mut jobs: Vec<PathBuf> = Vec::new();
    for folder in folders {
        let found =
            fs::read_dir(Path::new(ROOT).join(folder)).unwrap().map(|entry| entry.unwrap().file_name());
        jobs.extend(
            found
                .filter(|name| name.to_string_lossy().ends_with(".job"))
                .map(|name| Path::new(folder).join(name)),
        );
    }
    jobs.sort();
    jobs.into_iter().map(|path| path.to_str().unwrap().to_owned()).collect()
}

/// The schema that the program prints, whole or a part of it.
#[cfg(feature = "long")]
struct Schema {
    schemas: Schemas,
    index: SchemaIndex,
}

#[cfg(feature = "long")]
impl Schema {
    fn part(part: &str) -> Self {
        let (status, text, _) = halfskip(&["schema"]);
        assert_eq!(status, 0);
        let (mut schemas, mut compiler) = (Schemas::new(), Compiler::new());
        compiler.enable_format_assertions();
        let place = "https://example.invalid/findings-2.json";
        compiler.add_resource(place, serde_json::from_str(&text).unwrap()).unwrap();
        let index = compiler.compile(&format!("{place}#{part}"), &mut schemas).unwrap();
        Self { schemas, index }
    }

    fn judge(&self, value: &Value) -> Result<(), String> {
        self.schemas.validate(value, self.index).map_err(|error| format!("{error:#}"))
    }
}

#[test]
fn every_job_is_exported_as_it_is_told_alone_and_in_the_layout_of_the_schema() {
    let jobs = jobs();
    #[cfg(feature = "long")]
    let schema = Schema::part("");
    assert!(jobs.len() >= 10, "{jobs:?}");
    let mut arguments = vec!["export"];
    arguments.extend(jobs.iter().map(String::as_str));
    let (status, lines, said) = halfskip(&arguments);
    assert_eq!((status, said.as_str()), (0, ""));
    assert_eq!(lines.lines().count(), jobs.len());
    for (job, line) in jobs.iter().zip(lines.lines()) {
        let exported: Value = serde_json::from_str(line).unwrap();
        #[cfg(feature = "long")]
        schema.judge(&exported).unwrap_or_else(|why| panic!("{job}: {why}"));
        assert_eq!(exported["job"]["name"], json!(job));
        let (_, alone, _) = halfskip(&["run", "--format", "json", job]);
        assert_eq!(&alone, &format!("{line}\n"), "{job}");
    }
}

#[cfg(feature = "long")]
#[test]
fn every_line_of_the_stream_is_a_reading_of_the_schema() {
    let schema = Schema::part("/$defs/reading");
    for job in jobs() {
        let (status, lines, _) = halfskip(&["run", "--stream", &job]);
        assert_eq!(status, 0, "{job}");
        assert!(lines.lines().count() > 0, "{job}");
        for line in lines.lines() {
            let reading = serde_json::from_str(line).unwrap();
            schema.judge(&reading).unwrap_or_else(|why| panic!("{job}: {line}: {why}"));
        }
    }
}

#[cfg(feature = "long")]
#[test]
fn the_schema_refuses_what_the_layout_does_not_have() {
    let schema = Schema::part("");
    let (_, line, _) = halfskip(&["export", "examples/jobs/butt-weld-20mm.job"]);
    let good: Value = serde_json::from_str(&line).unwrap();
    let changed = |place: &str, value: Value| {
        let mut changed = good.clone();
        *changed.pointer_mut(place).unwrap() = value;
        changed
    };
    let mut bad = vec![
        changed("/schema", json!(1)),
        changed("/readings/0/side", json!("left")),
        changed("/readings/0/n", Value::Null),
        changed("/readings/0/leg", json!(1.5)),
        changed("/indications/0/verdict", json!("not rejected")),
        changed("/indications/0/z_mm", json!("20")),
        changed("/indications/0/nature/shape", json!("crack")),
        changed("/coverage/fraction", json!(1.2)),
        changed("/cautions", Value::Null),
        changed("/job/date", json!("2026-13-14")),
        changed("/job/sheet_sha256", json!("d44c")),
        changed("/job/technique_leaves_out", Value::Null),
        changed("/indications/0/grounds/0/state", json!("not met")),
        changed("/indications/0/grounds/13/name", json!("cover")),
        changed("/indications/0/grounds/4/entries", json!([0])),
        changed("/indications/0/grounds", json!([])),
    ];
    for key in ["job", "indications"] {
        let mut without = good.clone();
        without.as_object_mut().unwrap().remove(key);
        bad.push(without);
    }
    let mut without = good.clone();
    without["indications"][0].as_object_mut().unwrap().remove("u_z_mm");
    bad.push(without);
    let mut with = good.clone();
    with["readings"][0]["probable"] = json!(true);
    bad.push(with);
    assert_eq!(schema.judge(&good), Ok(()));
    for bad in bad {
        assert!(schema.judge(&bad).is_err(), "{bad}");
    }
}

#[test]
fn a_job_that_is_bad_is_told_and_leaves_the_others_exported() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("export");
    fs::create_dir_all(&folder).unwrap();
    let bad = folder.join("bad.job");
    fs::write(&bad, "units mm\nreading 1 probe=p60\n").unwrap();
    let bad = bad.to_str().unwrap();
    let (status, lines, said) = halfskip(&["export", bad, "missing.job", "examples/jobs/butt-weld-20mm.job"]);
    assert_eq!((status, lines.lines().count()), (2, 1));
    let said: Vec<&str> = said.lines().collect();
    assert!(said[0].starts_with(&format!("{bad}:2:20: ")), "{said:?}");
    assert_eq!(said[1], "halfskip: missing.job: cannot be opened: No such file or directory");
    assert_eq!(said.len(), 2);
    for arguments in [&["export"][..], &["export", "--all", "a.job"], &["schema", "a.job"]] {
        let (status, lines, said) = halfskip(arguments);
        assert_eq!((status, lines.as_str(), said.lines().count()), (2, "", 1), "{said}");
    }
}
