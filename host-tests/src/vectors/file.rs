//! Reading the vector files, and turning a printed table into one case a cell.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::path::{Path, PathBuf};

use serde::Deserialize;

use super::{Case, Input, Provenance, Status};

/// One file of published values.
#[derive(Clone, Debug)]
pub struct Vectors {
    /// Where it was read.
    pub path: PathBuf,
    /// Where its values come from.
    pub provenance: Provenance,
    /// Its cases; a table counts one a cell.
    pub cases: Vec<Case>,
    /// How many of the cases are cells of tables.
    pub cells: usize,
}

/// A vector file that cannot be used.
#[derive(Clone, PartialEq, Debug)]
pub struct Unusable(String);

impl fmt::Display for Unusable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Unusable {}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Text {
    provenance: Provenance,
    #[serde(default)]
    case: Vec<Case>,
    #[serde(default)]
    grid: Vec<Grid>,
}

/// A printed table: the first entry of a row is an input, each further one the expected value of a column.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Grid {
    quantity: String,
    unit: String,
    row_input: String,
    source: String,
    grade: String,
    status: Status,
    why: String,
    rows: Vec<Vec<String>>,
    column: Vec<Column>,
    #[serde(default)]
    exception: Vec<Exception>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Column {
    id: String,
    inputs: BTreeMap<String, Input>,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Exception {
    id: String,
    last_digit_units: f64,
    because: String,
}

impl Grid {
    fn cells(&self) -> Result<Vec<Case>, String> {
        let mut cells = Vec::new();
        let mut excepted = 0;
        for row in &self.rows {
            let (head, body) = row.split_first().ok_or("an empty row")?;
            if body.len() != self.column.len() {
                return Err(format!("row {head} has {} cells for {} columns", body.len(), self.column.len()));
            }
            let input: f64 = head.parse().map_err(|_| format!("row {head} does not start with a number"))?;
            for (expected, column) in body.iter().zip(&self.column) {
                let id = format!("{}/{head}", column.id);
                let mut inputs = column.inputs.clone();
                inputs.insert(self.row_input.clone(), Input::Number(input));
                let exception = self.exception.iter().find(|exception| exception.id == id).cloned();
                excepted += usize::from(exception.is_some());
                cells.push(Case {
                    id,
                    quantity: self.quantity.clone(),
                    inputs,
                    expected: Some(expected.clone()),
                    error: None,
                    negative: false,
                    unit: self.unit.clone(),
                    source: self.source.clone(),
                    grade: self.grade.clone(),
                    status: self.status,
                    why: self.why.clone(),
                    last_digit_units: exception.as_ref().map(|exception| exception.last_digit_units),
                    because: exception.map(|exception| exception.because),
                    read: Default::default(),
                });
            }
        }
        if excepted != self.exception.len() {
            return Err("an exception names no cell".to_owned());
        }
        Ok(cells)
    }
}

/// Reads the text of one file and checks every case in it.
///
/// # Errors
/// [`Unusable`] names the file, the case and what is wrong.
pub fn read(path: &Path, text: &str) -> Result<Vectors, Unusable> {
    let unusable = |what: String| Unusable(format!("{}: {what}", path.display()));
    let Text { provenance, case, grid } =
        toml::from_str(text).map_err(|error| unusable(error.to_string()))?;
    let mut cases = case;
    let listed = cases.len();
    for grid in &grid {
        cases.extend(grid.cells().map_err(unusable)?);
    }
    if path.file_stem().is_none_or(|stem| stem != provenance.module.as_str()) {
        return Err(unusable(format!("is named for another module than '{}'", provenance.module)));
    }
    let mut ids = BTreeSet::new();
    for case in &cases {
        if let Some(fault) = case.fault() {
            return Err(unusable(format!("{}: {fault}", case.id)));
        }
        if !ids.insert(&case.id) {
            return Err(unusable(format!("{}: the id is taken", case.id)));
        }
    }
    let cells = cases.len() - listed;
    Ok(Vectors { path: path.to_owned(), provenance, cases, cells })
}

/// Reads every vector file, in the order of their names.
///
/// # Errors
/// [`Unusable`] for a file that cannot be read or is wrong.
pub fn read_all() -> Result<Vec<Vectors>, Unusable> {
    let directory = Path::new(env!("CARGO_MANIFEST_DIR")).join("vectors");
    let failed = |error: std::io::Error| Unusable(format!("{}: {error}", directory.display()));
    let mut paths = Vec::new();
    for entry in std::fs::read_dir(&directory).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        if path.extension().is_some_and(|extension| extension == "toml") {
            paths.push(path);
        }
    }
    paths.sort();
    paths.iter().map(|path| read(path, &std::fs::read_to_string(path).map_err(failed)?)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vectors::Answer;

    const HEAD: &str = "[provenance]\nmodule = \"path\"\ntranscribed = \"by hand\"\nnote = \"none\"\n";
    const CASE: &str = "[[case]]\nid = \"one\"\nquantity = \"depth_mm\"\ninputs = { path_mm = 70 }\nunit = \"mm\"\n\
                        source = \"a book\"\ngrade = \"A\"\nstatus = \"SEEN\"\nwhy = \"leg 2\"\n";

    fn one(rest: &str) -> Result<Case, Unusable> {
        read(Path::new("path.toml"), &format!("{HEAD}{CASE}{rest}")).map(|file| file.cases[0].clone())
    }

    #[test]
    fn the_print_sets_the_tolerance() {
        let case = one("expected = \"16.63\"").unwrap();
        assert!(case.judge(&Answer::Number(16.6335), 0.0).is_ok());
        assert!(case.judge(&Answer::Number(16.6245), 0.0).is_err());
        assert!(case.judge(&Answer::Number(f64::NAN), 0.0).is_err());
        assert!(case.judge(&Answer::Refused("out-of-range"), 0.0).is_err());
        let wider = one("expected = \"16.63\"\nlast-digit-units = 1.0\nbecause = \"truncated\"").unwrap();
        assert!(wider.judge(&Answer::Number(16.6399), 0.0).is_ok());
    }

    #[test]
    fn a_negative_case_fails_when_the_wrong_value_is_reproduced() {
        let case = one("expected = \"80\"\nnegative = true").unwrap();
        assert!(case.judge(&Answer::Number(78.6), 0.0).is_ok());
        assert!(case.judge(&Answer::Number(80.2), 0.0).is_err());
        assert!(case.judge(&Answer::Refused("out-of-range"), 0.0).is_err());
    }

    #[test]
    fn a_refusal_is_held_by_its_kind() {
        let case = one("error = \"past-first-critical\"").unwrap();
        assert!(case.judge(&Answer::Refused("past-first-critical"), 0.0).is_ok());
        assert!(case.judge(&Answer::Refused("past-second-critical"), 0.0).is_err());
        assert!(case.judge(&Answer::Number(90.0), 0.0).is_err());
    }

    #[test]
    fn what_is_not_asked_for_is_told() {
        let case = one("expected = \"1\"").unwrap();
        assert_eq!(case.unread(), ["path_mm"]);
        assert_eq!(case.number("path_mm"), 70.0);
        assert!(case.unread().is_empty());
    }

    #[test]
    fn a_case_that_cannot_be_judged_is_refused_when_read() {
        for rest in [
            "",
            "expected = \"1\"\nerror = \"none\"",
            "expected = \"about 1\"",
            "expected = \"1\"\nlast-digit-units = 1.0",
            "expected = \"1\"\nlast-digit-units = 40.0\nbecause = \"green\"",
            "error = \"none\"\nnegative = true",
            "expected = \"1\"\ntolerance = 5",
        ] {
            assert!(one(rest).is_err(), "{rest}");
        }
        assert!(read(Path::new("level.toml"), HEAD).is_err());
    }
}
