//! The hunt for a false accept: invented examinations that would be accepted, then spoiled in what the verdict rests on.
//!
//! A sound case ([`Case::sound`]) has everything its sheet asks for, and is accepted. Each [`Fault`] takes away or
//! contradicts something that is needed, so a spoiled case must never be accepted, nor be allowed as one to record.

mod case;
mod fault;

pub use case::{Case, SHEETS};
pub use fault::Fault;

use halfskip::criteria::{DEFAULT_ROWS, Sheet};
use halfskip_console::host::sheet;
use halfskip_console::sheets::Sheets;
use halfskip_console::shell::Shell;

/// The sheets of the hunt, by name.
pub struct Kept(Vec<(&'static str, Sheet<DEFAULT_ROWS>)>);

impl Kept {
    /// All of them, read.
    ///
    /// # Panics
    /// When one is no sheet.
    #[must_use]
    pub fn new() -> Self {
        Self(SHEETS.iter().map(|(name, text)| (*name, sheet::read(text).unwrap())).collect())
    }
}

impl Default for Kept {
    fn default() -> Self {
        Self::new()
    }
}

impl Sheets<DEFAULT_ROWS> for &Kept {
    type Error = &'static str;

    fn sheet(&mut self, name: &str) -> Result<Sheet<DEFAULT_ROWS>, Self::Error> {
        self.0.iter().find(|(known, _)| *known == name).map(|(_, sheet)| sheet.clone()).ok_or("no such sheet")
    }
}

/// What the console says of indication 1 after these lines; a line that is refused is as if it were not there.
///
/// The first line of `rate 1`, and that of the indication in `findings`, which must say the same.
///
/// # Panics
/// When `rate` and `findings` differ.
#[must_use]
pub fn told(kept: &Kept, lines: &[String]) -> String {
    let mut shell: Box<Shell<&Kept>> = Box::new(Shell::new(kept));
    let mut answer = String::new();
    for line in lines {
        shell.line(line.as_bytes(), &mut answer);
    }
    let first = |question: &str| {
        let mut answer = String::new();
        shell.ask(question.as_bytes(), &mut answer);
        answer.lines().find(|line| line.starts_with("Indication 1: ")).unwrap_or("").to_string()
    };
    let (rated, found) = (first("rate 1"), first("findings"));
    // Findings leave out an indication whose every reading is voided.
    let same = rated == found || found.is_empty() && !passes(&rated);
    assert!(same, "rate says {rated:?}, findings {found:?}:\n{}", lines.join("\n"));
    rated
}

/// Whether that is an accept.
#[must_use]
pub fn accepts(told: &str) -> bool {
    told.contains("accept")
}

/// Whether that lets the indication pass: an accept, or a record, which the sheet allows as well.
#[must_use]
pub fn passes(told: &str) -> bool {
    accepts(told) || told.contains(": record")
}

/// Whether that lets a case pass which these faults have spoiled, and nothing bears it.
#[must_use]
pub fn falsely_passes(told: &str, case: &Case, faults: &[Fault]) -> bool {
    if Fault::bear_a_record(faults, case) { accepts(told) } else { passes(told) }
}
