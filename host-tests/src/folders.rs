//! Acceptance sheets of a test: TOML files in folders.

use std::fs;
use std::path::PathBuf;

use halfskip::criteria::{DEFAULT_ROWS, Sheet};
use halfskip_console::host::sheet;
use halfskip_console::sheets::Sheets;

/// The folders, the first one first.
pub struct Folders(pub Vec<PathBuf>);

impl Sheets<DEFAULT_ROWS> for Folders {
    type Error = String;

    fn sheet(&mut self, name: &str) -> Result<Sheet<DEFAULT_ROWS>, String> {
        let text = self.0.iter().find_map(|folder| fs::read_to_string(folder.join(name)).ok());
        sheet::read(&text.ok_or("no such sheet")?).map_err(|error| error.to_string())
    }
}
