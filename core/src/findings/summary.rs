//! What is between a record and a verdict, in a line: which indications have none, and why.

use core::fmt::{self, Write};

use heapless::Vec;

use super::marks::Marks;
use super::{Blocked, VerdictFinding};
use crate::record::examination::Facts;

/// Reasons that are kept; indications that have none for another reason are counted.
const REASONS: usize = 6;

/// What is between a record and a verdict on each indication.
#[derive(Clone, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Summary {
    without_sheet: bool,
    reasons: Vec<Reason, REASONS>,
    more: u32,
}

/// One reason, and the indications that have no verdict for it.
#[derive(Clone, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
struct Reason {
    /// What stands in the way; nothing where the sheet itself decides nothing.
    blocked: Option<Blocked>,
    /// Of the words: those that read alike are one reason.
    print: u64,
    indications: Marks,
}

/// A number made of a text (FNV-1a): equal texts have equal ones.
struct Print(u64);

impl Write for Print {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for byte in text.bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
        Ok(())
    }
}

impl Print {
    fn of(facts: &Facts<'_>, blocked: Option<&Blocked>) -> u64 {
        let mut print = Self(0xcbf2_9ce4_8422_2325);
        if let Some(blocked) = blocked {
            let _ = write!(print, "{}", blocked.told(facts));
        }
        print.0
    }
}

impl Summary {
    /// Nothing asked yet.
    #[must_use]
    pub const fn new() -> Self {
        Self { without_sheet: false, reasons: Vec::new(), more: 0 }
    }

    /// Adds what a sheet said of an indication; none without a sheet.
    pub fn add(&mut self, facts: &Facts<'_>, indication: u8, finding: Option<&VerdictFinding>) {
        let Some(finding) = finding else {
            self.without_sheet = true;
            return;
        };
        if finding.verdict.is_some() {
            return;
        }
        let print = Print::of(facts, finding.blocked.as_ref());
        if let Some(reason) = self.reasons.iter_mut().find(|reason| reason.print == print) {
            reason.indications.mark(indication);
            return;
        }
        let mut reason = Reason { blocked: finding.blocked, print, indications: Marks::default() };
        reason.indications.mark(indication);
        if self.reasons.push(reason).is_err() {
            self.more = self.more.saturating_add(1);
        }
    }

    /// Whether every indication has a verdict.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        !self.without_sheet && self.reasons.is_empty()
    }

    /// In words, with the names that the facts hold; nothing where every indication has a verdict.
    #[must_use]
    pub const fn told<'a>(&'a self, facts: &'a Facts<'a>) -> impl fmt::Display + 'a {
        Told { summary: self, facts }
    }
}

struct Told<'a> {
    summary: &'a Summary,
    facts: &'a Facts<'a>,
}

impl fmt::Display for Told<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut between = "";
        if self.summary.without_sheet {
            f.write_str("No verdict: no criteria sheet is in force")?;
            between = ". ";
        }
        for reason in &self.summary.reasons {
            f.write_str(between)?;
            self.reason(reason, f)?;
            between = ". ";
        }
        match self.summary.more {
            0 => Ok(()),
            1 => write!(f, "{between}1 more indication is undetermined"),
            more => write!(f, "{between}{more} more indications are undetermined"),
        }
    }
}

impl Told<'_> {
    /// "Indications 1 and 3 would be accepted; no check of the range of p60 after the last reading (grounds 1)"
    fn reason(&self, reason: &Reason, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut others = reason.indications.iter();
        let Some(first) = others.next() else { return Ok(()) };
        let (name, alone) = (self.facts.name(first), others.clone().next().is_none());
        write!(f, "Indication{} {name}", if alone { "" } else { "s" })?;
        while let Some(other) = others.next() {
            let between = if others.clone().next().is_none() { " and" } else { "," };
            write!(f, "{between} {}", self.facts.name(other))?;
        }
        let are = if alone { "is" } else { "are" };
        match &reason.blocked {
            Some(blocked @ Blocked::NotMet { .. }) => {
                write!(f, " {} (grounds {name})", blocked.told(self.facts))
            }
            Some(blocked) => write!(f, " {are} undetermined: {}", blocked.told(self.facts)),
            None => write!(f, " {are} undetermined by the sheet"),
        }
    }
}
