//! An archive of many jobs, straight from the exported lines: counted, and asked by a general data engine, SQLite and its JSON
//! functions, which takes the feature `long` to be built.
//!
//! The jobs are invented.

#[cfg(feature = "long")]
mod engine;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use halfskip_console::desk::exit::Exit;
use halfskip_console::desk::export;
use halfskip_host_tests::long::cases;
use serde_json::Value;

const JOBS: u32 = cases(40, 1000);

/// Before the first reading and after the last one.
const CHECK: &str = "check p60 path=40 shown=40 height=80 gain=38\n";

/// An invented job: thickness, place and strength of its indications vary with its number.
fn job(number: u32) -> String {
    let thickness = [15, 20, 25, 30][number as usize % 4];
    // Over the centreline at the far face: s = t / cos 60, standoff = t tan 60.
    let (path, standoff) = (2 * thickness, f64::from(thickness) * 3f64.sqrt());
    // Strong echoes and weak ones, so that the sheet rejects some and accepts others.
    let gain = [33, 39][number as usize / 4 % 2];
    let mut text = format!(
        "title \"Invented weld {number}\"\ndate 2026-0{}-{:02}\nmaterial steel\n\
         joint butt thickness={thickness} prep=single-v bevel=30 gap=3 land=2 cap=24\n\
         probe p60 angle=60 frequency=4 element=8x9\ndac p60 path=40 height=80 gain=38 hole=3\n\
         dac p60 path=100 height=80 gain=49 hole=3\nangle p60 stated=60\ntransfer p60 gain=0\n{CHECK}\
         criteria \"sheet.toml\"\n",
        1 + number / 28 % 9,
        1 + number % 28
    );
    for indication in 0..number % 4 {
        let (x, height) = (100 + 80 * indication, 8 + (number * 7 + indication * 31) % 90);
        for (sample, step) in [-6, -3, 0, 3, 6].into_iter().enumerate() {
            let height = f64::from(height) * [0.2, 0.7, 1.0, 0.6, 0.15][sample];
            text += &format!(
                "reading {} probe=p60 side=a x={} standoff={standoff:.1} path={path} height={height:.1} gain={gain} sweep=along\n",
                indication + 1,
                i64::from(x) + step,
            );
        }
    }
    text + CHECK
}

/// The jobs exported from a folder of their own.
fn exported() -> String {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("archive");
    fs::create_dir_all(&folder).unwrap();
    let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/criteria/demonstration.toml");
    fs::copy(sheet, folder.join("sheet.toml")).unwrap();
    let jobs: Vec<PathBuf> = (0..JOBS)
        .map(|number| {
            let path = folder.join(format!("{number:04}.job"));
            fs::write(&path, job(number)).unwrap();
            path
        })
        .collect();
    let export = move || {
        let (mut lines, mut said) = (Vec::new(), Vec::new());
        let exit = export::write(&jobs, &mut lines, &mut said);
        assert_eq!((exit, String::from_utf8(said).unwrap().as_str()), (Ok(Exit::Done), ""));
        String::from_utf8(lines).unwrap()
    };
    // The desk has room for far more than the stack of a test.
    let lines = std::thread::Builder::new().stack_size(64 << 20).spawn(export).unwrap().join().unwrap();
    fs::remove_dir_all(&folder).unwrap();
    lines
}

/// Of a thickness: welds, indications, those to be rejected, and the strongest level.
type Row = (i64, i64, i64, Option<f64>);

fn counted(lines: &str) -> BTreeMap<String, Row> {
    let mut counted: BTreeMap<String, Row> = BTreeMap::new();
    for line in lines.lines() {
        let findings: Value = serde_json::from_str(line).unwrap();
        let row = counted.entry(findings["job"]["thickness_mm"].as_f64().unwrap().to_string()).or_default();
        row.0 += 1;
        for indication in findings["indications"].as_array().unwrap() {
            row.1 += 1;
            row.2 += i64::from(indication["verdict"] == "reject");
            let level = indication["level_db"].as_f64().unwrap();
            row.3 = row.3.filter(|strongest| *strongest > level).or(Some(level));
        }
    }
    counted
}

#[test]
fn exported_jobs_are_counted_as_a_query_counts_them() {
    let lines = exported();
    assert_eq!(lines.lines().count(), JOBS as usize);
    let counted = counted(&lines);
    assert_eq!(counted.values().map(|row| row.0).sum::<i64>(), i64::from(JOBS));
    // Thicknesses go with number % 4 as the indications do: a plain weld is one that no indication is found in.
    let found: Vec<i64> = counted.values().map(|row| row.1).collect();
    assert_eq!(found, [0, 1, 2, 3].map(|indications| indications * i64::from(JOBS) / 4));
    let rejected: i64 = counted.values().map(|row| row.2).sum();
    assert!(rejected > 0 && rejected < found.iter().sum());
    #[cfg(feature = "long")]
    engine::answers(&lines, &counted);
}
