//! Acceptance sheets in flash memory, as the build script found them.

use halfskip::criteria::Sheet;
use halfskip_console::sheets::Sheets;

/// Names and bytes.
const SHEETS: &[(&str, &[u8])] = &include!(concat!(env!("OUT_DIR"), "/sheets.rs"));

/// The sheets of this image; they take no RAM until one is in force.
#[derive(Clone, Copy, Debug)]
pub struct InFlash;

impl<const ROWS: usize> Sheets<ROWS> for InFlash {
    type Error = &'static str;

    fn sheet(&mut self, name: &str) -> Result<Sheet<ROWS>, &'static str> {
        // A device has no folders: where a desk keeps the sheet does not matter.
        let start =
            name.bytes().enumerate().filter(|(_, byte)| *byte == b'/').last().map_or(0, |(at, _)| at + 1);
        let name = name.get(start..).unwrap_or(name);
        let (_, bytes) = SHEETS.iter().find(|(known, _)| *known == name).ok_or("no such sheet")?;
        postcard::from_bytes(bytes).map_err(|_| "the sheet cannot be read")
    }
}
