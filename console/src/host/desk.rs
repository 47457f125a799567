//! The shell on a desk: room for a long day's readings, sheets read from files beside the job.

use std::boxed::Box;
use std::format;
use std::fs;
use std::path::{Path, PathBuf};
use std::string::String;

use core::fmt::Write;

use halfskip::criteria::Sheet;
use halfskip::findings::LengthRule;

use super::exit::reason;
use super::sheet::{self, HOST_ROWS};
use super::{Lines, Outcome};
use crate::sheets::Sheets;
use crate::shell::{self, Shell};

/// Samples of one sweep along the weld.
pub const SERIES: usize = 65_536;
/// A shell of the host program's capacities: 16 probes, 256 indications, 65 536 readings, 1 MiB for all other entries.
pub type HostShell = Shell<SheetFiles, 16, 256, 65_536, 1_048_576, SERIES, HOST_ROWS>;

/// Sheets as TOML files; a relative name is looked for in one folder.
#[derive(Clone, Debug)]
pub struct SheetFiles {
    folder: PathBuf,
}

impl SheetFiles {
    /// Names count from the folder of `job`, or from the current one without a job file.
    #[must_use]
    pub fn beside(job: Option<&Path>) -> Self {
        let folder = job.and_then(Path::parent).unwrap_or(Path::new(""));
        Self { folder: folder.to_path_buf() }
    }
}

impl Sheets<HOST_ROWS> for SheetFiles {
    type Error = String;

    fn sheet(&mut self, name: &str) -> Result<Sheet<HOST_ROWS>, String> {
        let path = self.folder.join(name);
        let name = path.display();
        let text = fs::read_to_string(&path)
            .map_err(|error| format!("{name}: cannot be read: {}", reason(&error)))?;
        sheet::read(&text).map_err(|error| format!("{name}:{error}"))
    }
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
        let sheets = SheetFiles::beside(job);
        Self { shell: Box::new(HostShell::new(sheets.clone())), sheets }
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
    }
}

/// The column of a line's first word, counted from 1.
pub(super) fn first_word(line: &[u8]) -> Option<usize> {
    line.iter().position(|byte| !byte.is_ascii_whitespace()).map(|at| at.saturating_add(1))
}

/// The length rule of the sheet in force; the 6 dB drop without one.
#[must_use]
pub fn length_rule<const ROWS: usize>(sheet: Option<&Sheet<ROWS>>) -> LengthRule {
    use halfskip::criteria::LengthBy;
    match sheet.map(|sheet| sheet.head().length_by) {
        Some(LengthBy::Drop(drop)) => LengthRule::Drop(drop),
        Some(LengthBy::Level(level)) => LengthRule::Level(level),
        None => LengthRule::DROP_6,
    }
}
