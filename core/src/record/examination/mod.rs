//! The fold over entries: what is in force, and every reading, ready to be evaluated.
//!
//! The ordered list of entries is the record. Readings sit in a pool of their own, packed; every other entry sits in a
//! log of bytes as its postcard encoding. What the entries amount to - the joint, the probes with their calibration -
//! is folded from them and can always be folded again.

mod facts;
mod fold;
mod kinds;
mod linearity;
mod log;
mod observed;
mod pool;
mod pooled;
mod probe;
mod references;
mod refusal;
mod settings;

pub use facts::Facts;
pub use linearity::linearity_of;
pub use observed::Observed;
pub use pooled::Pooled;
pub use probe::{HOLES, ProbeState};
pub use references::ReferencePoint;
pub use refusal::Refusal;
pub use settings::{CheckLimits, Common, Day, Event, EventKind, Settings};

use heapless::Vec;

use crate::acceptance::technique::Technique;
use crate::record::entry::{Entry, Name, ReadingEntry};
use fold::Fold;
use log::Log;
use pool::{Pool, Span};
use pooled::Slot;

/// One capacity, and what is used of it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Room {
    /// Of what.
    pub what: &'static str,
    /// How much is used.
    pub used: usize,
    /// How much there is.
    pub capacity: usize,
}

/// An examination of fixed capacity.
///
/// The defaults are those of a device: 4 probes (of 16 reference points each), 16 indications, one pool of 512 readings
/// shared by them, and 3 KiB for all other entries.
///
/// A reading takes the room of two where one of its numbers is longer than an instrument shows it: more than three
/// places after the point, or, the point aside, an x beyond 1 048 575, a stand-off or thickness beyond 65 535 and
/// 32 767, a path or time beyond 262 143, a height beyond 2 047, a gain beyond 16 383, a skew beyond 1 023.
///
/// `LINKS` is how many readings know where the next one of the same indication is: none on a device, which walks past the
/// others; as many as `READINGS` where indications may be many and read in turn. No finding depends on it.
///
/// ```
/// use halfskip::record::entry::{Entry, Text};
/// use halfskip::record::examination::Examination;
/// let mut examination: Examination = Examination::new();
/// let title = Entry::Title(Text::try_from("Invented weld").unwrap());
/// assert_eq!(examination.record(title.clone()), Ok(1));
/// assert_eq!(examination.entry(1), Some((title, false)));
/// let void = |number| Entry::Void { number, reason: Text::try_from("typing error").unwrap() };
/// assert!(examination.record(void(7)).is_err());
/// assert_eq!(examination.record(void(1)), Ok(2));
/// ```
#[derive(Clone)]
pub struct Examination<
    const PROBES: usize = 4,
    const INDICATIONS: usize = 16,
    const READINGS: usize = 512,
    const LOG: usize = 3072,
    const LINKS: usize = 0,
> {
    log: Log<Vec<u8, LOG>>,
    slots: Vec<Slot, READINGS>,
    links: Vec<u32, LINKS>,
    indications: Vec<Name, INDICATIONS>,
    /// Where the readings of each indication lie, so that what is asked of one passes over those of few others.
    spans: Vec<Span, INDICATIONS>,
    settings: Settings<Vec<ProbeState, PROBES>>,
    last: u32,
}

impl<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
> Default for Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>
{
    fn default() -> Self {
        Self::new()
    }
}

// The capacities alone are dealt with here: what is recorded goes through a fold of any capacity, what is asked through facts.
impl<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
> Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>
{
    /// An examination without entries.
    #[must_use]
    pub const fn new() -> Self {
        const { assert!(PROBES <= 256 && INDICATIONS <= 256, "a reading keeps its probe and indication in a byte") }
        Self {
            log: Log::<Vec<u8, LOG>>::new(),
            slots: Vec::new(),
            links: Vec::new(),
            indications: Vec::new(),
            spans: Vec::new(),
            settings: Settings::<Vec<ProbeState, PROBES>>::new(),
            last: 0,
        }
    }

    #[inline]
    fn fold(&mut self) -> Fold<'_> {
        Fold {
            log: &mut self.log,
            pool: Pool { slots: &mut self.slots, links: &mut self.links },
            indications: &mut self.indications,
            spans: &mut self.spans,
            settings: &mut self.settings,
            last: &mut self.last,
        }
    }

    /// Records an entry and returns its number; the first is 1.
    ///
    /// # Errors
    /// [`Refusal`]: the entry contradicts what is recorded, names what is not, or does not fit. Nothing has changed
    /// then.
    #[inline]
    pub fn record(&mut self, entry: Entry) -> Result<u32, Refusal> {
        self.fold().record(&entry)
    }

    /// Forgets every entry, in place: a device's stack has no room for another examination.
    ///
    /// ```
    /// use halfskip::record::entry::{Entry, LengthUnit};
    /// use halfskip::record::examination::Examination;
    /// let mut examination: Examination = Examination::new();
    /// examination.record(Entry::Units(LengthUnit::In)).unwrap();
    /// examination.clear();
    /// assert_eq!(examination.last(), 0);
    /// assert_eq!(examination.settings().common().units, LengthUnit::Mm);
    /// ```
    #[inline]
    pub fn clear(&mut self) {
        self.fold().clear();
    }

    /// Takes a reading in place of those before it, for streams that keep none; the settings stay.
    ///
    /// Readings seen together with it stay too, while there is room for them, since a tip needs its corner.
    ///
    /// # Errors
    /// [`Refusal`] as [`Self::record`] gives it.
    #[inline]
    pub fn pass(&mut self, reading: &ReadingEntry) -> Result<u32, Refusal> {
        self.fold().pass(reading)
    }

    /// Counts an entry that a stream has no use for: those behind it keep the numbers that they have in the whole job.
    ///
    /// # Errors
    /// [`Refusal::Full`] when no number is left.
    #[inline]
    pub fn pass_over(&mut self) -> Result<u32, Refusal> {
        self.fold().pass_over()
    }

    /// Takes a technique sheet into force, or the built-in minimum again, and judges every check by it.
    ///
    /// An entry has the name of a sheet alone, so whoever records a [`Technique`](crate::record::entry::Entry::Technique) entry finds the sheet
    /// and hands it over. It holds until another is adopted.
    ///
    /// ```
    /// use halfskip::record::examination::Examination;
    /// use halfskip::acceptance::technique::{Ground, Grounds, Technique, Terms, Texts};
    /// use halfskip::units::Percent;
    /// let mut terms = Terms::asking(Grounds::EMPTY.with(Ground::RangeCheck));
    /// terms.range_within = Some(Percent::constant(1.0));
    /// let technique = Technique::new(Texts::new("invented", "no document"), terms).unwrap();
    /// let mut examination: Examination = Examination::new();
    /// examination.adopt(Some(technique));
    /// assert_eq!(examination.facts().technique().title(), "invented");
    /// assert_eq!(examination.facts().common().check_limits.range.get(), 1.0);
    /// examination.adopt(None);
    /// assert!(examination.facts().technique().is_minimum());
    /// assert_eq!(examination.facts().common().check_limits.range.get(), 2.0);
    /// ```
    #[inline]
    pub fn adopt(&mut self, technique: Option<Technique>) {
        self.fold().adopt(technique);
    }

    /// What the entries amount to, for the findings.
    #[must_use]
    #[inline]
    pub fn facts(&self) -> Facts<'_> {
        Facts {
            settings: &self.settings,
            slots: &self.slots,
            links: &self.links,
            indications: &self.indications,
            spans: &self.spans,
            log: &self.log,
            last: self.last,
        }
    }

    /// The number of the last entry; 0 of none.
    #[must_use]
    pub const fn last(&self) -> u32 {
        self.last
    }

    /// Entry `number`, and whether it was voided.
    #[must_use]
    pub fn entry(&self, number: u32) -> Option<(Entry, bool)> {
        self.facts().entry(number)
    }

    /// Every entry in order: number, whether voided, entry.
    pub fn entries(&self) -> impl Iterator<Item = (u32, bool, Entry)> + '_ {
        self.facts().entries()
    }

    /// What is in force.
    #[must_use]
    pub const fn settings(&self) -> &Settings {
        &self.settings
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::acceptance::technique::{Ground, Grounds, Terms, Texts};
    use crate::record::entry::fixture::entered;
    use crate::record::entry::{Text, ToleranceEntry};
    use crate::units::Percent;

    type Small = Examination<1, 1, 8, 512>;

    fn range_within(percent: f32) -> Option<Technique> {
        let mut terms = Terms::asking(Grounds::EMPTY.with(Ground::RangeCheck));
        terms.range_within = Some(Percent::constant(percent));
        Technique::new(Texts::new("invented", "no document"), terms).ok()
    }

    fn tolerance(range: f32, sensitivity: f32) -> Entry {
        let none = ToleranceEntry::default();
        Entry::Tolerance(ToleranceEntry {
            range: Some(entered(range)),
            sensitivity: Some(entered(sensitivity)),
            ..none
        })
    }

    fn limits(examination: &Small) -> (f32, f32) {
        let limits = examination.facts().common().check_limits;
        (limits.range.get(), limits.sensitivity.get())
    }

    #[test]
    fn the_sheets_limit_of_a_check_holds_over_that_of_the_tolerance_whichever_came_first() {
        let mut examination = Small::new();
        assert_eq!(examination.record(tolerance(3.0, 4.0)), Ok(1));
        examination.adopt(range_within(1.0));
        assert_eq!(limits(&examination), (1.0, 4.0));
        assert_eq!(examination.record(tolerance(5.0, 6.0)), Ok(2));
        assert_eq!(limits(&examination), (1.0, 6.0));
        examination.adopt(None);
        assert_eq!(limits(&examination), (5.0, 6.0));
    }

    #[test]
    fn a_technique_outlives_a_void_that_folds_everything_again() {
        let mut examination = Small::new();
        examination.adopt(range_within(1.0));
        examination.record(tolerance(3.0, 4.0)).unwrap();
        let reason = Text::try_from("typing error").unwrap();
        examination.record(Entry::Void { number: 1, reason }).unwrap();
        assert_eq!(limits(&examination), (1.0, 2.0));
        assert_eq!(examination.facts().technique().title(), "invented");
    }
}
