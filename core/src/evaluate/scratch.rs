//! Room in which an examination is evaluated, so that each reading is evaluated once, and the examination evaluated.

use core::cell::{Cell, RefCell};

use super::extent::{Extent, Proved};
use super::reading::{Heard, evaluate};
use super::sizing::series::{SAMPLES, Series, SeriesView};
use super::{Indication, LengthRule};
use crate::acceptance::criteria::{Criteria, Group, Measure};
use crate::record::examination::{Examination, Facts, Pooled};

/// What is kept of a reading, behind its number; that is 0 of none.
type Kept = Cell<(u32, Heard)>;

/// Room for what is found of readings, for the samples of one scan, and for the ends of indications.
///
/// A reading that finds no room is evaluated again where it is asked for: the findings are the same, to the bit, whatever
/// the room. A device evaluates one indication after the other: 64 readings are room for one of them.
pub struct Scratch<const READINGS: usize = 64, const SCAN: usize = SAMPLES, const INDICATIONS: usize = 16> {
    readings: [Kept; READINGS],
    scan: RefCell<Series<SCAN>>,
    ends: [Cell<Option<Extent>>; INDICATIONS],
}

impl<const READINGS: usize, const SCAN: usize, const INDICATIONS: usize> Default
    for Scratch<READINGS, SCAN, INDICATIONS>
{
    fn default() -> Self {
        Self::new()
    }
}

impl<const READINGS: usize, const SCAN: usize, const INDICATIONS: usize>
    Scratch<READINGS, SCAN, INDICATIONS>
{
    /// Empty room. The readings that it keeps are a power of two.
    #[must_use]
    pub const fn new() -> Self {
        const { assert!(READINGS.is_power_of_two(), "a reading finds its place by its lowest bits") }
        Self {
            readings: [const { Cell::new((0, Heard::NOTHING)) }; READINGS],
            scan: RefCell::new(Series::new()),
            ends: [const { Cell::new(None) }; INDICATIONS],
        }
    }
}

/// An examination and the sheet in force, evaluated: what it says now, an [`Indication`] each.
#[derive(Clone, Copy)]
pub struct Findings<'a> {
    facts: Facts<'a>,
    sheet: Option<&'a Criteria>,
    readings: &'a [Kept],
    pub(super) scan: &'a RefCell<SeriesView>,
    ends: &'a [Cell<Option<Extent>>],
}

impl<'a> Findings<'a> {
    /// Evaluates facts by a sheet, or without one, in a room that is cleared before.
    #[must_use]
    pub fn new<const READINGS: usize, const SCAN: usize, const INDICATIONS: usize>(
        facts: Facts<'a>,
        sheet: Option<&'a Criteria>,
        scratch: &'a mut Scratch<READINGS, SCAN, INDICATIONS>,
    ) -> Self {
        scratch.readings.iter_mut().for_each(|kept| kept.get_mut().0 = 0);
        scratch.ends.iter_mut().for_each(|ends| *ends.get_mut() = None);
        Self { facts, sheet, readings: &scratch.readings, scan: &scratch.scan, ends: &scratch.ends }
    }

    /// What they are made from.
    #[must_use]
    pub const fn facts(&self) -> &Facts<'a> {
        &self.facts
    }

    /// The sheet in force.
    #[must_use]
    pub const fn sheet(&self) -> Option<&'a Criteria> {
        self.sheet
    }

    /// What the sheet measures; levels without one.
    #[must_use]
    pub fn measure(&self) -> Measure {
        self.sheet.map_or(Measure::Level, |sheet| sheet.head().measure)
    }

    /// How the ends of indications are found: as the sheet says, by half amplitude without one.
    #[must_use]
    pub fn length_rule(&self) -> LengthRule {
        LengthRule::of_sheet(self.sheet)
    }

    /// How the sheet joins neighbours.
    pub(crate) fn group_rule(&self) -> Group {
        self.sheet.map_or(Group::None, |sheet| sheet.head().group)
    }

    /// The indications with a reading in force, in the order of their first one.
    pub fn indications(&'a self) -> impl Iterator<Item = Indication<'a>> + Clone {
        self.facts.seen().map(|place| self.indication(place))
    }

    /// An indication by its place in the list of names.
    #[must_use]
    pub const fn indication(&'a self, place: u8) -> Indication<'a> {
        Indication::new(self, place)
    }

    /// An indication by its name; none without a reading.
    #[must_use]
    pub fn named(&'a self, name: &str) -> Option<Indication<'a>> {
        self.facts.indication(name).map(|place| self.indication(place))
    }

    /// What is kept of a reading; it is evaluated where nothing is.
    pub(crate) fn heard(&self, reading: Pooled<'_>) -> Heard {
        let number = reading.number();
        let kept = self.readings.get(number as usize & self.readings.len().wrapping_sub(1));
        if let Some((of, heard)) = kept.map(Cell::get)
            && of == number
        {
            return heard;
        }
        let heard = Heard::of(&evaluate(&self.facts, reading));
        if let Some(kept) = kept {
            kept.set((number, heard));
        }
        heard
    }

    /// The ends of an indication by the rule in force.
    pub(crate) fn ends(&self, indication: u8) -> Extent {
        let kept = self.ends.get(usize::from(indication));
        if let Some(ends) = kept.and_then(Cell::get) {
            return ends;
        }
        let ends = Extent::of(Indication::new(self, indication), self.length_rule());
        if let Some(kept) = kept {
            kept.set(Some(ends));
        }
        ends
    }

    /// Keeps what was found of an indication, for its neighbours.
    pub(crate) fn prove(&self, indication: u8, found: impl FnOnce(&mut Proved)) {
        let mut ends = self.ends(indication);
        found(&mut ends.proved);
        if let Some(kept) = self.ends.get(usize::from(indication)) {
            kept.set(Some(ends));
        }
    }
}

impl<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
> Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>
{
    /// Evaluates the examination by a sheet, or without one.
    #[must_use]
    pub fn evaluate<'a, const KEPT: usize, const SCAN: usize, const ENDS: usize>(
        &'a self,
        sheet: Option<&'a Criteria>,
        scratch: &'a mut Scratch<KEPT, SCAN, ENDS>,
    ) -> Findings<'a> {
        Findings::new(self.facts(), sheet, scratch)
    }
}
