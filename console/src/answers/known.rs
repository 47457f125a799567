//! What answers are made from.

use halfskip::acceptance::criteria::{Group, Measure, Sheet};
use halfskip::findings::{self, Extent, LengthRule, Point, VerdictFinding};
use halfskip::record::examination::Facts;
use heapless::Vec;

/// What answers are made from: the facts with the entries behind them, the sheet in force.
pub(crate) struct Known<'a, const INDICATIONS: usize, const SERIES: usize, const ROWS: usize> {
    pub facts: Facts<'a>,
    pub sheet: Option<&'a Sheet<ROWS>>,
    /// Whether drawings may use characters beyond ASCII.
    pub utf8: bool,
}

impl<'a, const INDICATIONS: usize, const SERIES: usize, const ROWS: usize>
    Known<'a, INDICATIONS, SERIES, ROWS>
{
    /// The name of an indication.
    pub fn name(&self, indication: u8) -> &'a str {
        self.facts.name(indication)
    }

    /// The places of the indications with a reading in force.
    pub fn indications(&self) -> impl Iterator<Item = u8> + use<'a, INDICATIONS, SERIES, ROWS> {
        self.facts.seen()
    }

    /// How lengths along the weld are found: as the sheet says, by half amplitude without one.
    pub fn length_rule(&self) -> LengthRule {
        LengthRule::of_sheet(self.sheet)
    }

    /// What the sheet in force measures; levels without one.
    pub fn measure(&self) -> Measure {
        self.sheet.map_or(Measure::Level, |sheet| sheet.head().measure)
    }

    /// The ends of every indication along the weld.
    pub fn extents(&self) -> Vec<Extent, INDICATIONS> {
        let rule = self.length_rule();
        let mut extents = Vec::new();
        for indication in self.indications() {
            // There is room for every indication.
            let _ = extents.push(Extent::measured::<SERIES>(&self.facts, indication, rule));
        }
        extents
    }

    /// What the sheet in force says of one indication. Its neighbours are measured only where the sheet groups them.
    pub fn judged(&self, indication: u8) -> Option<VerdictFinding> {
        let groups = self.sheet.is_some_and(|sheet| !matches!(sheet.head().group, Group::None));
        if groups {
            return self.verdict(indication, &self.extents());
        }
        let own = Extent::measured::<SERIES>(&self.facts, indication, self.length_rule());
        self.verdict(indication, &[own])
    }

    /// What the sheet in force says of an indication.
    pub fn verdict(&self, indication: u8, extents: &[Extent]) -> Option<VerdictFinding> {
        self.verdict_at(indication, extents, None)
    }

    /// The same by the point of the indication, where that is known.
    pub fn verdict_at(
        &self,
        indication: u8,
        extents: &[Extent],
        point: Option<&Point>,
    ) -> Option<VerdictFinding> {
        let sheet = self.sheet?;
        let planar = plane(&self.facts, indication);
        Some(findings::verdict_at(&self.facts, sheet, indication, extents, planar, point))
    }
}

/// The shape that a sheet is asked with: a plane by the evidence, or nothing.
#[cfg(feature = "character")]
fn plane(facts: &Facts<'_>, indication: u8) -> Option<bool> {
    halfskip::character::plane(facts, indication)
}

/// Without the evidence the shape is not settled, and what a sheet makes of that is never better than its word on a plane
/// or a body.
#[cfg(not(feature = "character"))]
const fn plane(_: &Facts<'_>, _: u8) -> Option<bool> {
    None
}
