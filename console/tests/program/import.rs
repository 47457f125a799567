//! `halfskip import` as a process: what it shows, what it keeps, what it refuses.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::tally::directory;

fn folder(name: &str) -> PathBuf {
    directory(&format!("import-{name}"))
}

fn halfskip(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let program = env!("CARGO_BIN_EXE_halfskip");
    let Output { status, stdout, stderr } =
        Command::new(program).args(arguments).current_dir(folder).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (status.code().unwrap(), text(stdout), text(stderr))
}

const JOB: &str = "\
joint butt thickness=20 prep=square gap=2
probe p60 angle=60 frequency=4 element=8x9
probe p70 angle=70 frequency=4 element=8x9
dac p60 path=20 height=80 gain=40
dac p60 path=60 height=80 gain=46
";

fn example() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/tables/readings.csv");
    fs::read_to_string(path).unwrap()
}

#[test]
fn a_table_becomes_lines_that_the_program_takes() {
    let folder = folder("lines");
    fs::write(folder.join("t.csv"), example()).unwrap();
    let (status, lines, said) = halfskip(&folder, &["import", "t.csv"]);
    assert_eq!((status, said.as_str()), (0, ""));
    assert_eq!(lines.lines().count(), 8);
    fs::write(folder.join("a.job"), format!("{JOB}{lines}")).unwrap();
    assert_eq!(halfskip(&folder, &["run", "a.job"]).0, 0);
}

#[test]
fn a_dry_run_shows_and_a_real_one_keeps() {
    let folder = folder("keeps");
    fs::write(folder.join("a.job"), JOB).unwrap();
    fs::write(folder.join("t.csv"), example()).unwrap();
    let (status, shown, said) = halfskip(&folder, &["import", "--dry-run", "--job", "a.job", "t.csv"]);
    assert_eq!((status, said.as_str()), (0, ""));
    assert!(shown.starts_with("reading 4 probe=p60 side=a x=410mm"), "{shown}");
    assert!(shown.contains("\n  6: leg 1, y 0.2 mm, z 20.0 mm"), "{shown}");
    assert!(shown.ends_with("8 readings would be recorded; nothing was kept\n"), "{shown}");
    assert_eq!(fs::read_to_string(folder.join("a.job")).unwrap(), JOB);
    let (status, shown, _) = halfskip(&folder, &["import", "t.csv", "--job", "a.job"]);
    assert_eq!(status, 0);
    assert!(shown.ends_with("8 readings recorded in a.job\n"), "{shown}");
    let kept = fs::read_to_string(folder.join("a.job")).unwrap();
    assert!(kept.starts_with(JOB) && kept.lines().count() == JOB.lines().count() + 8);
}

#[test]
fn one_bad_row_keeps_every_row_out() {
    let folder = folder("bad");
    fs::write(folder.join("a.job"), JOB).unwrap();
    let bad = example().replace("405,34.8", "4x5,34.8").replace("5,p70,b", "5,p99,b");
    fs::write(folder.join("t.csv"), &bad).unwrap();
    let (status, shown, said) = halfskip(&folder, &["import", "t.csv", "--job", "a.job"]);
    assert_eq!((status, shown.as_str()), (2, ""));
    assert!(said.contains("t.csv:6:9: x: '4x5'"), "{said}");
    // A row that is well written but does not fit the job is told too, once all are well written.
    fs::write(folder.join("t.csv"), bad.replace("4x5", "405")).unwrap();
    let (status, _, said) = halfskip(&folder, &["import", "t.csv", "--job", "a.job"]);
    assert_eq!(status, 2);
    assert!(said.contains("t.csv:10:1: not recorded: probe p99"), "{said}");
    assert_eq!(fs::read_to_string(folder.join("a.job")).unwrap(), JOB);
    // No probe is declared in a new job: the table is refused, and no empty job is left.
    let (status, _, said) = halfskip(&folder, &["import", "t.csv", "--job", "new.job"]);
    assert_eq!((status, folder.join("new.job").exists()), (2, false), "{said}");
}

#[test]
fn a_table_without_units_or_rows_says_so() {
    let folder = folder("header");
    fs::write(folder.join("t.csv"), example().replace("x [mm]", "x")).unwrap();
    let (status, _, said) = halfskip(&folder, &["import", "t.csv"]);
    assert_eq!(status, 2);
    assert_eq!(said, "t.csv:2:23: column x has no unit; expected x [mm] or x [in]\n");
    fs::write(folder.join("t.csv"), "\n# nothing\n").unwrap();
    let (status, _, said) = halfskip(&folder, &["import", "t.csv"]);
    assert_eq!(
        (status, said.as_str()),
        (2, "halfskip: t.csv: holds no table: its first line names the columns\n")
    );
    assert_eq!(halfskip(&folder, &["import", "t.csv", "--dry-run"]).0, 2);
    assert_eq!(halfskip(&folder, &["import"]).0, 2);
}

#[test]
fn on_a_full_disk_no_row_of_a_table_is_kept() {
    let folder = folder("full");
    fs::write(folder.join("a.job"), JOB).unwrap();
    let row = "4,p60,a,410,34.8,40.31,76,34,corner,\n";
    fs::write(folder.join("t.csv"), example() + &row.repeat(2000)).unwrap();
    // The file may grow to less than the table needs; sh counts in blocks of 512 bytes.
    let done = Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 64; exec \"$0\" import t.csv --job a.job"])
        .arg(env!("CARGO_BIN_EXE_halfskip"))
        .current_dir(&folder)
        .output()
        .unwrap();
    let said = String::from_utf8(done.stderr).unwrap();
    assert_eq!(done.status.code(), Some(2));
    assert!(said.contains("not recorded: a.job: cannot be written: File too large"), "{said}");
    assert_eq!(fs::read_to_string(folder.join("a.job")).unwrap(), JOB);
}

#[test]
fn a_row_whose_name_begins_like_a_remark_is_never_left_out_unseen() {
    let folder = folder("remark");
    fs::write(folder.join("a.job"), JOB).unwrap();
    let mut lines = example();
    lines.push_str("# a remark, with a comma; and more\n");
    fs::write(folder.join("t.csv"), &lines).unwrap();
    assert_eq!(halfskip(&folder, &["import", "t.csv"]).0, 0);
    let row = example().lines().filter(|line| !line.starts_with('#')).nth(1).unwrap().to_owned();
    fs::write(folder.join("t.csv"), format!("{lines}#{row}\n")).unwrap();
    let (status, _, said) = halfskip(&folder, &["import", "t.csv", "--job", "a.job"]);
    assert!(status == 2 && said.contains(":1: row or remark?"), "{status} {said}");
    assert_eq!(fs::read_to_string(folder.join("a.job")).unwrap(), JOB);
}

#[test]
fn a_comma_that_could_part_thousands_is_told_once_and_taken_as_the_decimal_mark() {
    let folder = folder("comma");
    fs::write(folder.join("a.job"), JOB).unwrap();
    let head = "indication;probe;side;x [mm];standoff [mm];path [mm];height [%];gain [dB]\n";
    let row = |x: &str| format!("1;p60;a;{x};34,8;40,31;76;34\n");
    let table = |rows: &[&str]| head.to_owned() + &rows.iter().map(|x| row(x)).collect::<String>();
    fs::write(folder.join("t.csv"), table(&["1,5", "1,200", "1,300"])).unwrap();
    let (status, lines, said) = halfskip(&folder, &["import", "t.csv"]);
    assert_eq!(status, 0);
    assert!(lines.contains(" x=1.200mm "), "{lines}");
    assert_eq!(said, "t.csv:3:9: caution: 1,200 is read as 1.200: a comma is the decimal mark here\n");
    fs::write(folder.join("t.csv"), table(&["1,5", "0,200"])).unwrap();
    assert_eq!(halfskip(&folder, &["import", "t.csv"]).2, "");
}
