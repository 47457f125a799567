//! The shell on a desk: room for a long day's readings, sheets read from files beside the job.

use std::boxed::Box;
use std::collections::BTreeMap;
use std::format;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::string::{String, ToString};

use core::fmt::Write;

use halfskip::criteria::Sheet;
use halfskip::technique::Technique;
use sha2::{Digest, Sha256};

use super::exit::reason;
use super::sheet::{self, HOST_ROWS, SheetFileError};
use super::technique;
use super::terminal::shows_utf8;
use super::{Lines, Outcome};
use crate::sheets::Sheets;
use crate::shell::{self, Shell};

/// Samples of one sweep along the weld.
pub const SERIES: usize = 65_536;
/// Readings as an instrument shows them; half as many of numbers of any length.
const READINGS: usize = 131_072;
/// A shell of the host program's capacities: 16 probes, 256 indications, 65 536 readings of numbers of any length (twice
/// as many as an instrument shows them), 1 MiB for all other entries, each reading linked to the next of its indication.
pub type HostShell = Shell<SheetFiles, 16, 256, READINGS, 1_048_576, SERIES, HOST_ROWS, READINGS>;

/// Sheets as TOML files; a relative name is looked for in one folder.
#[derive(Clone, Debug)]
pub struct SheetFiles {
    folder: PathBuf,
    /// One that is no file: its name and its text.
    held: Option<(&'static str, &'static str)>,
    /// SHA-256 (FIPS 180-4) of each that was read, by its name.
    digests: BTreeMap<String, String>,
}

impl SheetFiles {
    /// Names count from the folder of `job`, or from the current one without a job file.
    #[must_use]
    pub fn beside(job: Option<&Path>) -> Self {
        let folder = job.and_then(Path::parent).unwrap_or(Path::new(""));
        Self { folder: folder.to_path_buf(), held: None, digests: BTreeMap::new() }
    }

    /// SHA-256 of the bytes last read as the sheet of a name, in hexadecimal digits.
    #[must_use]
    pub fn sha256(&self, name: &str) -> Option<&str> {
        self.digests.get(name).map(String::as_str)
    }

    fn read<T>(&mut self, name: &str, read: impl Fn(&str) -> Result<T, SheetFileError>) -> Result<T, String> {
        if let Some((_, text)) = self.held.filter(|(held, _)| *held == name) {
            return self.noted(name, text, read(text)).map_err(|error| format!("{name}:{error}"));
        }
        let (path, asked) = (self.folder.join(name), Path::new(name));
        let shown = path.display();
        // The name that was asked for is told by whoever asked.
        let text = text(&path).map_err(|why| if path == asked { why } else { format!("{shown}: {why}") })?;
        self.noted(name, &text, read(&text)).map_err(|error| format!("{shown}:{error}"))
    }

    /// Keeps the digest of a text that is a sheet.
    fn noted<T, E>(&mut self, name: &str, text: &str, read: Result<T, E>) -> Result<T, E> {
        if read.is_ok() {
            let digest: [u8; 32] = Sha256::digest(text).into();
            let digits = digest.iter().map(|byte| format!("{byte:02x}")).collect();
            self.digests.insert(name.to_string(), digits);
        }
        read
    }
}

impl Sheets<HOST_ROWS> for SheetFiles {
    type Error = String;

    fn sheet(&mut self, name: &str) -> Result<Sheet<HOST_ROWS>, String> {
        self.read(name, sheet::read)
    }

    fn technique(&mut self, name: &str) -> Result<Option<Technique>, String> {
        self.read(name, technique::read).map(Some)
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

    fn clear(&mut self) {
        *self.shell = HostShell::new(self.sheets.clone());
        self.shell.set_utf8(shows_utf8());
    }
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
