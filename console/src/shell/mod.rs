//! The shell: one line in, one answer out; facts are recorded, questions are answered from what is recorded.

pub(crate) mod framed;
pub mod keep;
mod outcome;
pub mod recorder;

use core::cell::RefCell;
use core::fmt::Write;

use halfskip::acceptance::criteria::{Criteria, Sheet};
use halfskip::findings::{Findings, Scratch};
use halfskip::record::entry::{Entry, Text};
use halfskip::record::examination::Examination;

#[cfg(not(feature = "terse"))]
use crate::answers::page::Page;
use crate::answers::{self, Record, Said};
use crate::commands::parse::{self, Line, Question};
use crate::sheets::{NoneHere, Sheets};
use crate::shell::keep::{InMemory, Keep};
pub use outcome::Outcome;
use outcome::{acknowledged, misread, put, refused};

/// What is said when no technique sheet is left.
const MINIMUM: &str = "no technique sheet is in force, only the built-in minimum";

/// An examination, the sheet in force, and the answers to lines.
///
/// The capacities are those of a device by default: 4 probes, 16 indications, 512 readings, 3 KiB for all other
/// entries, 128 samples of one sweep along the weld, 24 rows of a sheet, no [links](Examination) between readings.
///
/// ```
/// use halfskip_console::sheets::NoSheets;
/// use halfskip_console::shell::{Outcome, Shell};
/// let mut shell: Shell<NoSheets> = Shell::new(NoSheets);
/// let mut answer = String::new();
/// assert_eq!(shell.line(b"probe p60 angle=60 frequency=4 element=8x9", &mut answer), Outcome::Recorded(1));
/// assert_eq!(answer, "1: probe recorded\n");
/// answer.clear();
/// let refused = shell.line(b"dac p60 path=30 height=80", &mut answer);
/// assert_eq!(refused, Outcome::Refused { column: Some(26) });
/// assert!(answer.starts_with("column 26: "));
/// ```
pub struct Shell<
    S,
    const PROBES: usize = 4,
    const INDICATIONS: usize = 16,
    const READINGS: usize = 512,
    const LOG: usize = 3072,
    const SERIES: usize = 128,
    const ROWS: usize = 24,
    const LINKS: usize = 0,
    const KEPT: usize = 64,
> {
    examination: Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>,
    scratch: RefCell<Scratch<KEPT, SERIES, INDICATIONS>>,
    sheet: Option<Sheet<ROWS>>,
    sheets: S,
    utf8: bool,
}

impl<
    S: Sheets<ROWS>,
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const SERIES: usize,
    const ROWS: usize,
    const LINKS: usize,
    const KEPT: usize,
> Shell<S, PROBES, INDICATIONS, READINGS, LOG, SERIES, ROWS, LINKS, KEPT>
{
    /// An examination without entries, and where its sheets will come from. In a `static` it is made by the compiler and
    /// takes no stack; some bytes of it are not zero, so that the image grows by its size.
    pub const fn new(sheets: S) -> Self {
        let scratch = RefCell::new(Scratch::new());
        Self { examination: Examination::new(), scratch, sheet: None, sheets, utf8: false }
    }

    /// Lets drawings use characters beyond ASCII, for a terminal that shows UTF-8.
    pub const fn set_utf8(&mut self, utf8: bool) {
        self.utf8 = utf8;
    }

    /// Takes one line, with or without its end, and writes the answer; a refusal says `column N: ` first.
    ///
    /// When `out` fails the rest of the answer is lost, never a fact.
    pub fn line(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome {
        self.take(line, true, &mut InMemory, out)
    }

    /// Takes one line as [`line`](Self::line) does; a fact is kept before it is acknowledged.
    pub fn line_kept(&mut self, line: &[u8], keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
        self.take(line, true, keep, out)
    }

    /// Takes one line as [`line`](Self::line) does, and leaves the column of a refusal to the caller.
    pub fn unplaced(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome {
        self.take(line, false, &mut InMemory, out)
    }

    /// Answers a question; whether the line was one. Anything else changes nothing and is not answered.
    ///
    /// ```
    /// use halfskip_console::sheets::NoSheets;
    /// use halfskip_console::shell::Shell;
    /// let shell: Shell<NoSheets> = Shell::new(NoSheets);
    /// let mut answer = String::new();
    /// assert!(shell.ask(b"list", &mut answer) && answer.contains("nothing is recorded"));
    /// assert!(!shell.ask(b"units mm", &mut answer));
    /// ```
    pub fn ask(&self, line: &[u8], out: &mut dyn Write) -> bool {
        let unit = self.examination.settings().common().units;
        let Ok(Some(Line::Question(question))) = parse::line(line, unit) else { return false };
        self.answer(&question, out);
        true
    }

    #[inline(never)]
    fn take(&mut self, line: &[u8], placed: bool, keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
        let unit = self.examination.settings().common().units;
        match parse::line(line, unit) {
            Ok(None) => Outcome::Nothing,
            Ok(Some(Line::Fact(entry))) => self.record_kept(entry, keep, out),
            Ok(Some(Line::Question(question))) => {
                self.answer(&question, out);
                Outcome::Answered
            }
            Err(refusal) => misread(&refusal, placed, out),
        }
    }

    /// Records a fact, as from a line or a frame, and acknowledges it.
    ///
    /// A `criteria` or `technique` fact whose sheet cannot be had is refused; when one is voided, the sheet before it holds
    /// again. Without a technique sheet the built-in minimum holds.
    pub fn record(&mut self, entry: Entry, out: &mut dyn Write) -> Outcome {
        self.record_kept(entry, &mut InMemory, out)
    }

    /// Records a fact as [`record`](Self::record) does; it is kept before it is acknowledged.
    #[inline(never)]
    pub fn record_kept(&mut self, entry: Entry, keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
        match entry {
            Entry::Criteria(_) => return self.put_in_force(entry, keep, out),
            Entry::Technique(_) => return self.adopt(entry, keep, out),
            _ => {}
        }
        let (said, number) = match put(&mut self.examination, entry, keep, out) {
            Ok(kept) => kept,
            Err(outcome) => return outcome,
        };
        let outcome = acknowledged(&self.examination, &said, number, out);
        if let Said::Void(taken_out) = said {
            match self.examination.entry(taken_out) {
                Some((Entry::Criteria(_), _)) => self.fall_back(out),
                Some((Entry::Technique(_), _)) => self.fall_back_technique(out),
                _ => {}
            }
        }
        outcome
    }

    #[inline(never)]
    fn put_in_force(&mut self, entry: Entry, keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
        let mut sheet = None;
        if let Entry::Criteria(name) = &entry
            && let Err(why) = self.sheets.load(name, &mut sheet)
        {
            return refused(out, format_args!("sheet {name}: {why}"));
        }
        match put(&mut self.examination, entry, keep, out) {
            Ok((said, number)) => {
                self.sheet = sheet;
                let outcome = acknowledged(&self.examination, &said, number, out);
                #[cfg(not(feature = "terse"))]
                if let Some(sheet) = &self.sheet {
                    let facts = self.examination.facts();
                    let _ = answers::of_sheet(&facts, sheet, &mut Page::new(out, facts.common().units));
                }
                outcome
            }
            Err(outcome) => outcome,
        }
    }

    #[inline(never)]
    fn adopt(&mut self, entry: Entry, keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
        let mut technique = None;
        if let Entry::Technique(name) = &entry {
            technique = match self.sheets.technique(name) {
                Ok(Some(technique)) => Some(technique),
                Ok(None) => return refused(out, format_args!("technique {name}: {NoneHere}")),
                Err(why) => return refused(out, format_args!("technique {name}: {why}")),
            };
        }
        match put(&mut self.examination, entry, keep, out) {
            Ok((said, number)) => {
                self.examination.adopt(technique);
                acknowledged(&self.examination, &said, number, out)
            }
            Err(outcome) => outcome,
        }
    }

    /// Loads the sheet of the last `criteria` fact in force.
    #[inline(never)]
    fn fall_back(&mut self, out: &mut dyn Write) {
        self.sheet = None;
        let named = self.last_named(|entry| match entry {
            Entry::Criteria(name) => Some(name),
            _ => None,
        });
        let _ = match named {
            None => writeln!(out, "no sheet is in force"),
            Some(name) => match self.sheets.load(&name, &mut self.sheet) {
                Ok(()) => writeln!(out, "sheet {name} is in force again"),
                Err(why) => writeln!(out, "no sheet is in force: {name}: {why}"),
            },
        };
    }

    /// Adopts the sheet of the last `technique` fact in force.
    #[inline(never)]
    fn fall_back_technique(&mut self, out: &mut dyn Write) {
        let named = self.last_named(|entry| match entry {
            Entry::Technique(name) => Some(name),
            _ => None,
        });
        let found = named.as_ref().map(|name| self.sheets.technique(name));
        let _ = match (&named, &found) {
            (Some(name), Some(Ok(Some(_)))) => writeln!(out, "technique {name} is in force again"),
            (Some(name), Some(Ok(None))) => writeln!(out, "{MINIMUM}: {name}: {NoneHere}"),
            (Some(name), Some(Err(why))) => writeln!(out, "{MINIMUM}: {name}: {why}"),
            _ => writeln!(out, "{MINIMUM}"),
        };
        self.examination.adopt(found.and_then(Result::ok).flatten());
    }

    /// The file that the last entry in force of a kind names.
    fn last_named(&self, name: impl Fn(Entry) -> Option<Text>) -> Option<Text> {
        let mut named = None;
        for (_, voided, entry) in self.examination.facts().entries_but_readings() {
            if let (false, Some(name)) = (voided, name(entry)) {
                named = Some(name);
            }
        }
        named
    }

    /// Forgets every entry and the sheets, in place.
    pub fn clear(&mut self) {
        self.examination.clear();
        self.sheet = None;
    }

    /// The examination so far.
    pub const fn examination(&self) -> &Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS> {
        &self.examination
    }

    /// Where its sheets come from.
    pub const fn sheets(&self) -> &S {
        &self.sheets
    }

    /// The sheet in force.
    pub const fn sheet(&self) -> Option<&Sheet<ROWS>> {
        self.sheet.as_ref()
    }

    /// Evaluates the examination by the sheet in force; nothing while it is being evaluated already.
    pub fn evaluated<T>(&self, ask: impl FnOnce(&Findings<'_>) -> T) -> Option<T> {
        let mut scratch = self.scratch.try_borrow_mut().ok()?;
        let sheet = self.sheet.as_ref().map(|sheet| sheet as &Criteria);
        Some(ask(&self.examination.evaluate(sheet, &mut scratch)))
    }

    /// Answers a question; when `out` fails the rest of the answer is lost.
    pub fn answer(&self, question: &Question, out: &mut dyn Write) {
        let _ = self.evaluated(|findings| answers::answer(&Record::new(findings, self.utf8), question, out));
    }
}
