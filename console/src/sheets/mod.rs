//! Where acceptance and technique sheets come from: files on a desk, flash on a device.

#[cfg(feature = "sheet")]
pub mod criteria;
#[cfg(feature = "sheet")]
mod file;
#[cfg(feature = "sheet")]
pub mod technique;

use core::fmt;

use halfskip::acceptance::criteria::Sheet;
use halfskip::acceptance::technique::Technique;

/// A source of sheets, those of acceptance of at most `ROWS` rows.
pub trait Sheets<const ROWS: usize> {
    /// Why a sheet cannot be had, in one line.
    type Error: fmt::Display;

    /// The sheet of a name, as a `criteria` line gives it.
    ///
    /// # Errors
    /// Why it cannot be had.
    fn sheet(&mut self, name: &str) -> Result<Sheet<ROWS>, Self::Error>;

    /// Puts the sheet of a name into an empty place. A device reads it there, since its stack has no room to hand a
    /// sheet over.
    ///
    /// # Errors
    /// Why it cannot be had; the place stays empty.
    fn load(&mut self, name: &str, place: &mut Option<Sheet<ROWS>>) -> Result<(), Self::Error> {
        *place = Some(self.sheet(name)?);
        Ok(())
    }

    /// The technique sheet of a name, as a `technique` line gives it; none where no technique sheets are kept at all.
    ///
    /// # Errors
    /// Why it cannot be had.
    fn technique(&mut self, name: &str) -> Result<Option<Technique>, Self::Error> {
        let _ = name;
        Ok(None)
    }
}

/// No sheets at all: every `criteria` and every `technique` line is refused.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct NoSheets;

/// The reason that [`NoSheets`] gives.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct NoneHere;

impl fmt::Display for NoneHere {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("no sheets are kept here")
    }
}

impl core::error::Error for NoneHere {}

impl<const ROWS: usize> Sheets<ROWS> for NoSheets {
    type Error = NoneHere;

    fn sheet(&mut self, _: &str) -> Result<Sheet<ROWS>, NoneHere> {
        Err(NoneHere)
    }
}

/// One sheet under one name, for devices that carry a single one and for tests.
#[derive(Clone, PartialEq, Debug)]
pub struct OneSheet<const ROWS: usize> {
    /// Its name.
    pub name: &'static str,
    /// The sheet.
    pub sheet: Sheet<ROWS>,
}

impl<const ROWS: usize> Sheets<ROWS> for OneSheet<ROWS> {
    type Error = &'static str;

    fn sheet(&mut self, name: &str) -> Result<Sheet<ROWS>, &'static str> {
        if name == self.name { Ok(self.sheet.clone()) } else { Err("no sheet of that name is kept here") }
    }
}
