//! What answers are made from.

use halfskip::acceptance::criteria::{Criteria, Row};
use halfskip::findings::{Findings, Indication, LengthRule, VerdictFinding};
use halfskip::record::entry::{Entry, ObserveEntry, Text};
use halfskip::record::examination::{Examination, Facts, Room};

/// What answers are made from: the findings, the facts, the entries behind them, the sheet in force.
pub(crate) struct Record<'a> {
    pub findings: &'a Findings<'a>,
    pub facts: Facts<'a>,
    pub entries: &'a dyn Entries,
    pub sheet: Option<&'a Criteria>,
    /// Whether drawings may use characters beyond ASCII.
    pub utf8: bool,
}

impl<'a> Record<'a> {
    pub fn new(findings: &'a Findings<'a>, entries: &'a dyn Entries, utf8: bool) -> Self {
        Self { findings, facts: *findings.facts(), entries, sheet: findings.sheet(), utf8 }
    }

    /// The name of an indication.
    pub fn name(&self, indication: u8) -> &'a str {
        self.facts.name(indication)
    }

    /// The indications with a reading in force.
    pub fn indications(&self) -> impl Iterator<Item = Indication<'a>> + Clone + use<'a> {
        self.findings.indications()
    }

    /// What the sheet in force says of an indication.
    pub fn judged(&self, indication: Indication<'_>) -> Option<VerdictFinding> {
        indication.verdict(indication.place().as_ref())
    }

    /// A row of that sheet, counted from 1.
    pub fn row(&self, number: usize) -> Option<&'a Row> {
        self.sheet?.rows().get(number.checked_sub(1)?)
    }

    /// How lengths along the weld are found: as the sheet says, by half amplitude without one.
    pub fn length_rule(&self) -> LengthRule {
        self.findings.length_rule()
    }
}

/// The entries of an examination of any capacity.
pub(crate) trait Entries {
    /// Tells every entry in order: number, whether voided, entry.
    fn each(&self, tell: &mut dyn FnMut(u32, bool, &Entry));

    /// The same of every entry that is no reading: a full examination has thousands of those.
    fn each_but_readings(&self, tell: &mut dyn FnMut(u32, bool, &Entry));

    /// The next `observe` line of an indication: number, whether voided, line; `place` is left behind it.
    fn observation(&self, indication: &str, place: &mut usize) -> Option<(u32, bool, ObserveEntry)>;

    /// The entry that took out another, and its reason; `place` is left for the next search.
    fn voided_by(&self, number: u32, place: &mut usize) -> Option<(u32, Text)>;

    /// What is used of each capacity.
    fn room(&self) -> [Room; 4];
}

impl<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
> Entries for Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>
{
    fn each(&self, tell: &mut dyn FnMut(u32, bool, &Entry)) {
        for (number, voided, entry) in self.entries() {
            tell(number, voided, &entry);
        }
    }

    fn each_but_readings(&self, tell: &mut dyn FnMut(u32, bool, &Entry)) {
        for (number, voided, entry) in self.entries_but_readings() {
            tell(number, voided, &entry);
        }
    }

    fn observation(&self, indication: &str, place: &mut usize) -> Option<(u32, bool, ObserveEntry)> {
        Self::observation(self, indication, place)
    }

    fn voided_by(&self, number: u32, place: &mut usize) -> Option<(u32, Text)> {
        Self::voided_by(self, number, place)
    }

    fn room(&self) -> [Room; 4] {
        Self::room(self)
    }
}
