//! The mutants, as `cargo mutants --list --json` names them.

use std::error::Error;
use std::fs;
use std::path::Path;

use serde::Deserialize;

/// A place in a file; lines and columns count from 1.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Deserialize)]
pub struct Place {
    pub line: usize,
    pub column: usize,
}

#[derive(Deserialize)]
struct Span {
    start: Place,
    end: Place,
}

#[derive(Deserialize)]
struct Row {
    file: String,
    genre: String,
    name: String,
    replacement: String,
    span: Span,
}

/// One change of the code.
#[derive(Clone)]
pub struct Mutant {
    /// Its place in the list, from 1; 0 is the code as it is.
    pub id: u32,
    pub file: String,
    pub genre: String,
    pub name: String,
    pub replacement: String,
    pub start: Place,
    /// Just behind what it replaces.
    pub end: Place,
}

/// Reads the list.
pub fn read(path: &Path) -> Result<Vec<Mutant>, Box<dyn Error>> {
    let rows: Vec<Row> = serde_json::from_slice(&fs::read(path)?)?;
    let mutants = rows.into_iter().zip(1..);
    Ok(mutants
        .map(|(row, id)| Mutant {
            id,
            file: row.file,
            genre: row.genre,
            name: row.name,
            replacement: row.replacement,
            start: row.span.start,
            end: row.span.end,
        })
        .collect())
}
