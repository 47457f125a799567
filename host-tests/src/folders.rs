//! Sheets of a test: TOML files in folders.

use std::fs;
use std::path::PathBuf;

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Sheet};
use halfskip::acceptance::technique::Technique;
use halfskip_console::sheets::Sheets;
use halfskip_console::sheets::{criteria as sheet, technique};

/// The folders, the first one first.
pub struct Folders(pub Vec<PathBuf>);

impl Sheets<DEFAULT_ROWS> for Folders {
    type Error = String;

    fn sheet(&mut self, name: &str) -> Result<Sheet<DEFAULT_ROWS>, String> {
        sheet::read(&self.text(name)?).map_err(|error| error.to_string())
    }

    fn technique(&mut self, name: &str) -> Result<Option<Technique>, String> {
        technique::read(&self.text(name)?).map(Some).map_err(|error| error.to_string())
    }
}

impl Folders {
    fn text(&self, name: &str) -> Result<String, String> {
        let text = self.0.iter().find_map(|folder| fs::read_to_string(folder.join(name)).ok());
        text.ok_or_else(|| "no such sheet".to_string())
    }
}
