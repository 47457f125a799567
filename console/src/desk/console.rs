//! The shell on a desk: room for a long day's readings, sheets read from files beside the job.

use std::boxed::Box;
use std::collections::{BTreeMap, HashMap};
use std::format;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::string::{String, ToString};

use core::fmt::Write;

use halfskip::acceptance::criteria::Sheet;
use halfskip::acceptance::technique::Technique;
use sha2::{Digest, Sha256};

use super::exit::reason;
use super::names::shown;
use super::terminal::shows_utf8;
use super::{Lines, Outcome};
use crate::commands;
use crate::commands::Group;
use crate::commands::parse::{self, Line};
use crate::sheets::Sheets;
use crate::sheets::criteria::{self as sheet, HOST_ROWS, SheetFileError};
use crate::sheets::technique;
use crate::shell::{self, Shell};

/// Samples of one sweep along the weld.
pub const SERIES: usize = 65_536;
/// Readings as an instrument shows them; half as many of numbers of any length.
const READINGS: usize = 131_072;
/// A shell of the host program's capacities: 16 probes, 256 indications, 65 536 readings of numbers of any length (twice
/// as many as an instrument shows them), 1 MiB for all other entries, each reading linked to the next of its indication.
pub type HostShell = Shell<SheetFiles, 16, 256, READINGS, 1_048_576, SERIES, HOST_ROWS, READINGS, 65_536>;

/// Files taken apart before, with their texts: a file is read again by every line that names it, and taken apart when it changed.
#[derive(Clone, Debug)]
struct Known<T>(HashMap<PathBuf, (String, Box<T>)>);

/// How many of them are kept: a number of ours, more than the sheets of any job.
const KEPT: usize = 8;

impl<T: Clone> Known<T> {
    fn taken_apart(
        &mut self,
        path: PathBuf,
        text: String,
        read: impl Fn(&str) -> Result<T, SheetFileError>,
    ) -> Result<T, SheetFileError> {
        if let Some((_, known)) = self.0.get(&path).filter(|(before, _)| *before == text) {
            return Ok((**known).clone());
        }
        let found = read(&text)?;
        if self.0.len() == KEPT {
            self.0.clear();
        }
        self.0.insert(path, (text, Box::new(found.clone())));
        Ok(found)
    }
}

/// Sheets as TOML files; a relative name is looked for in one folder.
#[derive(Clone, Debug)]
pub struct SheetFiles {
    folder: PathBuf,
    /// One that is no file: its name and its text.
    held: Option<(&'static str, &'static str)>,
    sheets: Known<Sheet<HOST_ROWS>>,
    techniques: Known<Technique>,
    /// SHA-256 (FIPS 180-4) of each that was read, by its name.
    digests: BTreeMap<String, String>,
}

impl SheetFiles {
    /// Names count from the folder of `job`, or from the current one without a job file.
    #[must_use]
    pub fn beside(job: Option<&Path>) -> Self {
        let folder = job.and_then(Path::parent).unwrap_or(Path::new("")).to_path_buf();
        let (sheets, techniques) = (Known(HashMap::new()), Known(HashMap::new()));
        Self { folder, held: None, sheets, techniques, digests: BTreeMap::new() }
    }

    /// SHA-256 of the bytes last read as the sheet of a name, in hexadecimal digits.
    #[must_use]
    pub fn sha256(&self, name: &str) -> Option<&str> {
        self.digests.get(name).map(String::as_str)
    }

    /// Keeps the digest of the text of a sheet.
    fn note(&mut self, name: &str, text: &str) {
        let digest: [u8; 32] = Sha256::digest(text).into();
        let digits = digest.iter().map(|byte| format!("{byte:02x}")).collect();
        self.digests.insert(name.to_string(), digits);
    }

    /// Where a sheet is, how messages call it, and its text.
    fn found(&self, name: &str) -> Result<(PathBuf, String, String), String> {
        if let Some((_, text)) = self.held.filter(|(held, _)| *held == name) {
            return Ok((PathBuf::from(name), name.to_string(), text.to_string()));
        }
        let (path, asked) = (self.folder.join(name), Path::new(name));
        let name = shown(&path);
        // Whoever asked says which name was asked for.
        let text = text(&path).map_err(|why| if path == asked { why } else { format!("{name}: {why}") })?;
        Ok((path, name, text))
    }
}

impl Sheets<HOST_ROWS> for SheetFiles {
    type Error = String;

    fn sheet(&mut self, asked: &str) -> Result<Sheet<HOST_ROWS>, String> {
        let (path, name, text) = self.found(asked)?;
        self.note(asked, &text);
        self.sheets.taken_apart(path, text, sheet::read).map_err(|error| format!("{name}:{error}"))
    }

    fn technique(&mut self, asked: &str) -> Result<Option<Technique>, String> {
        let (path, name, text) = self.found(asked)?;
        self.note(asked, &text);
        let found = self.techniques.taken_apart(path, text, technique::read);
        found.map(Some).map_err(|error| format!("{name}:{error}"))
    }
}

/// A sheet is far shorter; what is longer was named by mistake and need not be held.
const SHEET: u64 = 1 << 20;

/// The text of a sheet.
fn text(path: &Path) -> Result<String, String> {
    let unread = |error| format!("cannot be read: {}", reason(&error));
    // A device or a pipe might never end, and a pipe without a writer never begin.
    let found = fs::metadata(path).map_err(unread)?;
    if !found.is_file() && !found.is_dir() {
        return Err("is a device or a pipe, not a sheet".to_string());
    }
    let mut text = String::new();
    let length = File::open(path).and_then(|file| file.take(SHEET + 1).read_to_string(&mut text));
    if length.map_err(unread)? as u64 > SHEET {
        return Err(format!("is longer than {SHEET} bytes, and no sheet"));
    }
    Ok(text)
}

/// The shell as the host program feeds it.
pub struct Desk {
    shell: Box<HostShell>,
    sheets: SheetFiles,
}

impl Desk {
    /// An examination without entries whose sheets lie beside `job`.
    #[must_use]
    pub fn new(job: Option<&Path>) -> Self {
        Self::made(SheetFiles::beside(job))
    }

    /// An examination without entries and with one sheet that is no file: its name and its text.
    #[must_use]
    pub fn with_sheet(held: (&'static str, &'static str)) -> Self {
        Self::made(SheetFiles { held: Some(held), ..SheetFiles::beside(None) })
    }

    fn made(sheets: SheetFiles) -> Self {
        let mut desk = Self { shell: Box::new(HostShell::new(sheets.clone())), sheets };
        desk.shell.set_utf8(shows_utf8());
        desk
    }

    /// The shell.
    #[must_use]
    pub const fn shell(&self) -> &HostShell {
        &self.shell
    }
}

impl Lines for Desk {
    fn line(&mut self, line: &[u8], answer: &mut dyn Write) -> Outcome {
        match self.shell.unplaced(line, answer) {
            shell::Outcome::Nothing => Outcome::Quiet,
            shell::Outcome::Recorded(_) => Outcome::Recorded,
            shell::Outcome::Answered => Outcome::Answered,
            // What is wrong with a fact as a whole is told at its first word.
            shell::Outcome::Refused { column } => {
                Outcome::Refused { column: column.map(usize::from).or_else(|| first_word(line)) }
            }
        }
    }

    fn fact(&mut self, line: &[u8], answer: &mut dyn Write) -> Outcome {
        let unit = self.shell.examination().settings().common().units;
        if str::from_utf8(line).is_ok_and(is_question)
            && matches!(parse::line(line, unit), Ok(Some(Line::Question(_))))
        {
            return Outcome::Answered;
        }
        self.line(line, answer)
    }

    fn clear(&mut self) {
        *self.shell = HostShell::new(self.sheets.clone());
        self.shell.set_utf8(shows_utf8());
    }
}

/// Whether a line begins as a question does.
fn is_question(line: &str) -> bool {
    let verb = line.split_ascii_whitespace().next().and_then(commands::find);
    verb.is_some_and(|verb| verb.group == Group::Question)
}

/// The column of a line's first word, counted from 1.
pub(super) fn first_word(line: &[u8]) -> Option<usize> {
    line.iter().position(|byte| !byte.is_ascii_whitespace()).map(|at| at.saturating_add(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_file_of_a_sheets_size_is_read() {
        let folder = std::env::temp_dir().join(format!("halfskip-sheet-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        let file = folder.join("sheet.toml");
        fs::write(&file, "title = 1").unwrap();
        assert_eq!(text(&file), Ok("title = 1".to_string()));
        fs::write(&file, "#".repeat(SHEET as usize + 1)).unwrap();
        assert_eq!(text(&file), Err("is longer than 1048576 bytes, and no sheet".to_string()));
        assert_eq!(text(&folder), Err("cannot be read: Is a directory".to_string()));
        assert_eq!(text(Path::new("/dev/zero")), Err("is a device or a pipe, not a sheet".to_string()));
        fs::remove_dir_all(&folder).unwrap();
    }
}
