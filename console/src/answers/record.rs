//! What answers are made from.

use core::ops::Deref;

use halfskip::acceptance::criteria::{self, Because, Group, Head, Margin, Measure, Need, Row, Sheet};
use halfskip::acceptance::rating::Rating;
use halfskip::evaluate::sizing::length::Length;
use halfskip::evaluate::sizing::series::Sample;
use halfskip::findings::{self, Caution, Doubts, Extent, LengthRule, NoLength, Point, VerdictFinding};
use halfskip::record::entry::{Entry, ObserveEntry, Text};
use halfskip::record::examination::{Examination, Facts, Room};
use heapless::Vec;

/// The facts, and the entries behind them.
pub(crate) struct Record<'a> {
    pub facts: Facts<'a>,
    pub entries: &'a dyn Entries,
    /// Whether drawings may use characters beyond ASCII.
    pub utf8: bool,
}

impl<'a> Record<'a> {
    /// The name of an indication.
    pub fn name(&self, indication: u8) -> &'a str {
        self.facts.name(indication)
    }

    /// The places of the indications with a reading in force.
    pub fn indications(&self) -> impl Iterator<Item = u8> + use<'a> {
        self.facts.seen()
    }
}

/// What is computed of a record by the sheet in force, in a console of any capacity.
pub(crate) trait Examined<'a>: Deref<Target = Record<'a>> {
    /// The head of the sheet in force.
    fn head(&self) -> Option<&Head>;

    /// Whether anybody held that sheet against its source.
    fn is_checked(&self) -> bool;

    /// A row of it, counted from 1.
    fn row(&self, number: usize) -> Option<&Row>;

    /// How far what the sheet was asked with is from another verdict; by a rating where it was one.
    fn margin(&self, asked: &criteria::Facts, rating: Option<&Rating>) -> Option<Margin>;

    /// What the sheet asks next when it has been told what it needs.
    fn open_after(&self, asked: &criteria::Facts, need: &Need) -> Option<Because>;

    /// How lengths along the weld are found: as the sheet says, by half amplitude without one.
    fn length_rule(&self) -> LengthRule;

    /// Where an indication begins and ends along the weld.
    fn length(&self, indication: u8, rule: LengthRule) -> Result<Length, NoLength>;

    /// Shows the samples of the movement that the length rests on.
    fn samples<T>(&self, indication: u8, show: impl FnOnce(&[Sample]) -> T) -> Result<T, NoLength>;

    /// What the sheet in force says of one indication. Its neighbours are measured only where the sheet groups them.
    fn judged(&self, indication: u8) -> Option<VerdictFinding>;

    /// The character of an indication.
    #[cfg(feature = "character")]
    fn nature(
        &self,
        indication: u8,
        thresholds: &halfskip::character::Thresholds,
    ) -> halfskip::character::Nature;

    /// What the sheet in force measures; levels without one.
    fn measure(&self) -> Measure {
        self.head().map_or(Measure::Level, |head| head.measure)
    }
}

/// A record with the sheet in force, and the room of one console.
pub(crate) struct Fitted<'a, const INDICATIONS: usize, const SERIES: usize, const ROWS: usize> {
    pub record: Record<'a>,
    pub sheet: Option<&'a Sheet<ROWS>>,
}

impl<'a, const INDICATIONS: usize, const SERIES: usize, const ROWS: usize> Deref
    for Fitted<'a, INDICATIONS, SERIES, ROWS>
{
    type Target = Record<'a>;

    fn deref(&self) -> &Record<'a> {
        &self.record
    }
}

impl<const INDICATIONS: usize, const SERIES: usize, const ROWS: usize> Fitted<'_, INDICATIONS, SERIES, ROWS> {
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

    /// What the sheet in force says of an indication, by its point where that is known.
    pub fn verdict(
        &self,
        indication: u8,
        extents: &[Extent],
        point: Option<&Point>,
    ) -> Option<VerdictFinding> {
        let planar = plane(&self.facts, indication);
        Some(findings::verdict_at(&self.facts, self.sheet?, indication, extents, planar, point))
    }

    /// Tells every caution; `of` are the doubts of each indication.
    pub fn cautions(&self, of: impl Fn(u8) -> Doubts, tell: impl FnMut(Caution)) {
        findings::cautions_with(&self.facts, self.sheet, of, tell);
    }
}

impl<'a, const INDICATIONS: usize, const SERIES: usize, const ROWS: usize> Examined<'a>
    for Fitted<'a, INDICATIONS, SERIES, ROWS>
{
    fn head(&self) -> Option<&Head> {
        self.sheet.map(Sheet::head)
    }

    fn is_checked(&self) -> bool {
        self.sheet.is_some_and(Sheet::is_checked)
    }

    fn row(&self, number: usize) -> Option<&Row> {
        self.sheet?.rows().get(number.checked_sub(1)?)
    }

    fn margin(&self, asked: &criteria::Facts, rating: Option<&Rating>) -> Option<Margin> {
        let sheet = self.sheet?;
        Some(match rating {
            Some(rating) => criteria::margin_of_rating(sheet, asked, rating),
            None => criteria::margin(sheet, asked),
        })
    }

    fn open_after(&self, asked: &criteria::Facts, need: &Need) -> Option<Because> {
        criteria::open_after(self.sheet?, asked, need)
    }

    fn length_rule(&self) -> LengthRule {
        LengthRule::of_sheet(self.sheet)
    }

    fn length(&self, indication: u8, rule: LengthRule) -> Result<Length, NoLength> {
        findings::extent::<SERIES>(&self.facts, indication, rule)
    }

    fn samples<T>(&self, indication: u8, show: impl FnOnce(&[Sample]) -> T) -> Result<T, NoLength> {
        findings::sweep::<SERIES>(&self.facts, indication).map(|series| show(series.samples()))
    }

    fn judged(&self, indication: u8) -> Option<VerdictFinding> {
        if !matches!(self.head()?.group, Group::None) {
            return self.verdict(indication, &self.extents(), None);
        }
        let own = Extent::measured::<SERIES>(&self.facts, indication, self.length_rule());
        self.verdict(indication, &[own], None)
    }

    #[cfg(feature = "character")]
    fn nature(
        &self,
        indication: u8,
        thresholds: &halfskip::character::Thresholds,
    ) -> halfskip::character::Nature {
        halfskip::character::nature_by::<SERIES>(&self.facts, indication, thresholds)
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
