//! Tables as spreadsheets leave them: what is read, what is cautioned of, and the same table taken twice.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::tally::directory;

const JOB: &str = "\
joint butt thickness=20 prep=square gap=2
probe p60 angle=60 frequency=4 element=8x9
dac p60 path=20 height=80 gain=40
dac p60 path=60 height=80 gain=46
";
/// Invented, with semicolons and decimal commas.
const TABLE: &str = "\
indication;probe;side;x [mm];standoff [mm];path [mm];height [%];gain [dB]
1;p60;a;128;34,8;40,31;76;34
2;p60;b;140;34,8;40,31;55;34
";

fn folder(name: &str) -> PathBuf {
    let folder = directory(&format!("tables-{name}"));
    fs::write(folder.join("a.job"), JOB).unwrap();
    folder
}

fn halfskip(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let program = env!("CARGO_BIN_EXE_halfskip");
    let done = Command::new(program).args(arguments).current_dir(folder).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (done.status.code().unwrap(), text(done.stdout), text(done.stderr))
}

/// The lines of a table, and what is said of it.
fn lines(folder: &Path, table: &str) -> (String, String) {
    fs::write(folder.join("t.csv"), table).unwrap();
    let (status, lines, said) = halfskip(folder, &["import", "t.csv"]);
    assert_eq!(status, 0, "{said}");
    (lines, said)
}

#[test]
fn rows_columns_and_units_that_a_spreadsheet_adds_change_no_reading() {
    let folder = folder("adds");
    let plain = lines(&folder, TABLE);
    assert_eq!(plain.1, "");
    for (what, table) in [
        ("empty rows at the end", format!("{TABLE};;;;;;;\n;;\n")),
        ("a line that names the separator", format!("sep=;\n{TABLE}")),
        ("empty cells at the end of the header", TABLE.replacen("[dB]", "[dB];;", 1)),
        ("empty cells at the end of every row", TABLE.replace('\n', ";;\n")),
        (
            "units behind numbers",
            TABLE.replace(";76;", ";76 %;").replace(";140;", ";140mm;").replace(";34\n", ";34 dB\n"),
        ),
        ("quotes around cells", TABLE.replace("128", "\"128\"").replace(";b;", "; \"b\" ;")),
    ] {
        assert_eq!(lines(&folder, &table), plain, "{what}");
    }
}

#[test]
fn a_unit_that_is_not_the_columns_is_refused() {
    let folder = folder("unit");
    fs::write(folder.join("t.csv"), TABLE.replace(";128;", ";128 in;")).unwrap();
    let (status, _, said) = halfskip(&folder, &["import", "t.csv"]);
    assert!(status == 2 && said.starts_with("t.csv:2:9: x: '128 in': "), "{said}");
}

#[test]
fn a_point_that_could_part_thousands_draws_a_caution_among_decimal_commas() {
    let folder = folder("point");
    let (read, said) = lines(&folder, &TABLE.replace(";140;", ";1.200;"));
    assert!(read.contains(" x=1.200mm "), "{read}");
    assert!(said.starts_with("t.csv:3:9: caution: 1.200 is read with a decimal point"), "{said}");
    let points = TABLE.replace(',', ".").replace(";140;", ";1.200;");
    assert_eq!(lines(&folder, &points).1, "");
}

#[test]
fn the_same_table_twice_is_refused_and_a_part_of_it_is_told() {
    let folder = folder("twice");
    fs::write(folder.join("t.csv"), TABLE).unwrap();
    assert_eq!(halfskip(&folder, &["import", "t.csv", "--job", "a.job"]).0, 0);
    let kept = fs::read_to_string(folder.join("a.job")).unwrap();
    for arguments in
        [&["import", "t.csv", "--job", "a.job"][..], &["import", "t.csv", "--job", "a.job", "--dry-run"]]
    {
        let (status, _, said) = halfskip(&folder, arguments);
        assert_eq!(status, 2);
        assert!(said.contains("a.job holds every reading of it already, the first as entry 5"), "{said}");
    }
    assert_eq!(fs::read_to_string(folder.join("a.job")).unwrap(), kept);
    fs::write(folder.join("t.csv"), TABLE.replace(";140;", ";141;")).unwrap();
    let (status, _, said) = halfskip(&folder, &["import", "t.csv", "--job", "a.job"]);
    assert_eq!(status, 0);
    assert!(
        said.contains("t.csv:2:1: caution: a.job holds 1 of 2 readings already, this one as entry 5"),
        "{said}"
    );
    // What was voided is not held any more.
    let voided = kept + "void 5 reason=\"wrong\"\nvoid 6 reason=\"wrong\"\n";
    fs::write(folder.join("a.job"), voided).unwrap();
    fs::write(folder.join("t.csv"), TABLE).unwrap();
    let (status, _, said) = halfskip(&folder, &["import", "t.csv", "--job", "a.job"]);
    assert!(status == 0 && !said.contains("already"), "{said}");
}

#[test]
fn a_name_that_hides_a_formula_is_guarded_in_the_table_and_read_back_without_the_guard() {
    let folder = folder("formula");
    let job = format!(
        "{JOB}reading \"\u{ff1d}1+1\" probe=p60 side=a x=128 standoff=34.8 path=40.31 height=76 gain=34\n"
    );
    fs::write(folder.join("a.job"), job).unwrap();
    let (status, table, said) = halfskip(&folder, &["run", "--format", "csv", "a.job"]);
    assert_eq!(status, 0, "{said}");
    assert!(table.contains("\n5,'\u{ff1d}1+1,p60,"), "{table}");
    let (read, _) = lines(&folder, &TABLE.replace("\n1;", "\n'\u{ff1d}1+1;"));
    assert!(
        read.starts_with("reading \u{ff1d}1+1 ") || read.starts_with("reading \"\u{ff1d}1+1\" "),
        "{read}"
    );
}
