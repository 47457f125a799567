//! What answers are made from.

use halfskip::acceptance::criteria::{Criteria, Row};
use halfskip::findings::{Findings, Indication, LengthRule, VerdictFinding};
use halfskip::record::examination::Facts;

/// What answers are made from: the findings, the facts with the entries behind them, the sheet in force.
pub(crate) struct Record<'a> {
    pub findings: &'a Findings<'a>,
    pub facts: Facts<'a>,
    pub sheet: Option<&'a Criteria>,
    /// Whether drawings may use characters beyond ASCII.
    pub utf8: bool,
}

impl<'a> Record<'a> {
    pub fn new(findings: &'a Findings<'a>, utf8: bool) -> Self {
        Self { findings, facts: *findings.facts(), sheet: findings.sheet(), utf8 }
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
