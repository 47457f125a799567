//! What answers are made from.

use halfskip::acceptance::criteria::{Group, Measure, Sheet};
use halfskip::findings::{self, Extent, LengthRule, Point, VerdictFinding};
use halfskip::record::entry::{Entry, ObserveEntry, Text};
use halfskip::record::examination::{Examination, Facts, Room};
use heapless::Vec;

/// What answers are made from: the facts, the entries behind them, the sheet in force.
pub(crate) struct Known<'a, const INDICATIONS: usize, const SERIES: usize, const ROWS: usize> {
    pub facts: Facts<'a>,
    pub entries: &'a dyn Entries,
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
