//! The fold over entries: what is in force, and every reading, ready to be evaluated.
//!
//! The ordered list of entries is the record. Readings sit in a pool of their own, packed; every other entry sits in a
//! log of bytes as its postcard encoding. What the entries amount to - the joint, the probes with their calibration -
//! is folded from them and can always be folded again.

mod facts;
mod fold;
mod joint;
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
mod technique;

pub use facts::Facts;
pub use linearity::linearity_of;
pub use observed::Observed;
pub use pooled::Pooled;
pub use probe::{HOLES, ProbeState};
pub use references::ReferencePoint;
pub use refusal::Refusal;
pub use settings::{CheckLimits, Common, Day, Event, EventKind, Settings};

use crate::record::entry::{Entry, Name, ObserveEntry, ReadingEntry, Text};
use log::Log;
use pool::{Pool, Span};

/// One capacity, and what is used of it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
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
    log: Log<LOG>,
    pool: Pool<READINGS, LINKS>,
    indications: heapless::Vec<Name, INDICATIONS>,
    /// Where the readings of each indication lie, so that what is asked of one passes over those of few others.
    spans: heapless::Vec<Span, INDICATIONS>,
    settings: Settings<PROBES>,
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
            log: Log::new(),
            pool: Pool::new(),
            indications: heapless::Vec::new(),
            spans: heapless::Vec::new(),
            settings: Settings::new(),
            last: 0,
        }
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
    pub fn clear(&mut self) {
        self.log.back_to(0);
        self.pool.clear();
        self.indications.clear();
        self.spans.clear();
        self.settings.clear();
        self.last = 0;
    }

    /// Records an entry and returns its number; the first is 1.
    ///
    /// # Errors
    /// [`Refusal`]: the entry contradicts what is recorded, names what is not, or does not fit. Nothing has changed
    /// then.
    pub fn record(&mut self, entry: Entry) -> Result<u32, Refusal> {
        let number = self.next()?;
        match &entry {
            Entry::Reading(reading) => self.record_reading(number, reading)?,
            Entry::Void { number: taken_out, .. } => {
                self.check_void(*taken_out)?;
                let kept = self.log.used();
                self.log.push(number, &entry)?;
                if let Some(resting) = self.take_out(*taken_out) {
                    self.log.back_to(kept);
                    return Err(Refusal::RestsOn { number: *taken_out, resting });
                }
            }
            entry => {
                if let Entry::Observe(observation) = entry {
                    self.slot(&observation.indication)
                        .ok_or(Refusal::NoReadingOf(observation.indication.clone()))?;
                }
                self.settings.check(entry)?;
                let kept = self.log.used();
                self.log.push(number, entry)?;
                if let Err(refusal) = self.settings.apply(entry, number) {
                    self.log.back_to(kept);
                    return Err(refusal);
                }
                if matches!(entry, Entry::Screen(_)) || self.is_remade(entry) {
                    self.fold_again();
                } else if self.settings.touches_checks(entry) {
                    self.judge_again();
                } else {
                    let limits = self.settings.common().check_limits;
                    self.settings.note(number, false, entry, None, limits);
                }
            }
        }
        self.last = number;
        Ok(number)
    }

    /// Takes a reading in place of those before it, for streams that keep none; the settings stay.
    ///
    /// Readings seen together with it stay too, while there is room for them, since a tip needs its corner.
    ///
    /// # Errors
    /// [`Refusal`] as [`Self::record`] gives it.
    pub fn pass(&mut self, reading: &ReadingEntry) -> Result<u32, Refusal> {
        let number = self.next()?;
        let goes_on = reading.together.is_some()
            && pool::last(self.pool.slots()).is_some_and(|last| {
                let probe = self.settings.probe(last.probe()).map(ProbeState::name);
                let indication = self.indications.get(usize::from(last.indication()));
                (probe, indication, last.side(), Some(last.together()))
                    == (Some(&reading.probe), Some(&reading.indication), reading.side, reading.together)
            });
        if !goes_on || self.pool.is_full() {
            self.pool.clear();
            self.indications.clear();
            self.spans.clear();
        }
        self.record_reading(number, reading)?;
        self.last = number;
        Ok(number)
    }

    /// Counts an entry that a stream has no use for: those behind it keep the numbers that they have in the whole job.
    ///
    /// # Errors
    /// [`Refusal::Full`] when no number is left.
    pub fn pass_over(&mut self) -> Result<u32, Refusal> {
        self.last = self.next()?;
        Ok(self.last)
    }

    fn next(&self) -> Result<u32, Refusal> {
        let number = self.last.checked_add(1).filter(|number| *number <= pooled::MAX_NUMBER);
        number.ok_or(Refusal::Full { what: "entries", capacity: pooled::MAX_NUMBER })
    }

    fn record_reading(&mut self, number: u32, reading: &ReadingEntry) -> Result<(), Refusal> {
        refusal::check_reading(reading)?;
        let probe = self.settings.declared(&reading.probe)?;
        if matches!(reading.travel, crate::record::entry::Travel::Time(_)) && probe.1.timebase().is_none() {
            return Err(Refusal::NoTimebase(reading.probe.clone()));
        }
        let known = self.slot(&reading.indication);
        let slot = known.unwrap_or(self.indications.len());
        if known.is_none() && self.indications.is_full() {
            return Err(Refusal::Full { what: "indications", capacity: INDICATIONS as u32 });
        }
        let before = self.pool.used();
        let span = self.spans.get(slot).copied();
        self.pool.push(number, slot as u8, probe.0 as u8, reading, span)?;
        let after = self.pool.used();
        match self.spans.get_mut(slot) {
            Some(span) => span.stretch(after),
            None => {
                // There is room: it was looked for above.
                let _ = self.indications.push(reading.indication.clone());
                let _ = self.spans.push(Span::of(before, after));
            }
        }
        Ok(())
    }

    fn check_void(&self, number: u32) -> Result<(), Refusal> {
        match self.entry(number) {
            None => Err(Refusal::NoSuchEntry { number, last: self.last }),
            Some((Entry::Void { .. }, _)) => Err(Refusal::VoidOfVoid { number }),
            Some((_, true)) => Err(Refusal::AlreadyVoid { number }),
            Some(_) => Ok(()),
        }
    }

    fn slot(&self, indication: &Name) -> Option<usize> {
        self.indications.iter().position(|name| name == indication)
    }

    /// The number of the last entry; 0 of none.
    #[must_use]
    pub const fn last(&self) -> u32 {
        self.last
    }

    /// Entry `number`, and whether it was voided.
    #[must_use]
    pub fn entry(&self, number: u32) -> Option<(Entry, bool)> {
        if let Some(pooled) = self.pool.get(number) {
            let entry = self.unpack(pooled)?;
            return Some((entry, pooled.is_void()));
        }
        self.log.get(number)
    }

    fn unpack(&self, pooled: Pooled<'_>) -> Option<Entry> {
        let indication = self.indications.get(usize::from(pooled.indication()))?.clone();
        let probe = self.settings.probe(pooled.probe())?.name().clone();
        Some(Entry::Reading(pooled.unpack(indication, probe)))
    }

    /// Every entry in order: number, whether voided, entry.
    pub fn entries(&self) -> impl Iterator<Item = (u32, bool, Entry)> + '_ {
        let mut settings = self.log.iter().peekable();
        let mut readings = self.pool.readings().peekable();
        core::iter::from_fn(move || {
            let reading_first = match (settings.peek(), readings.peek()) {
                (Some((number, ..)), Some(reading)) => reading.number() < *number,
                (None, Some(_)) => true,
                _ => false,
            };
            if !reading_first {
                return settings.next();
            }
            let reading = readings.next()?;
            Some((reading.number(), reading.is_void(), self.unpack(reading)?))
        })
    }

    /// Every entry that is no reading, in order: number, whether voided, entry.
    pub fn entries_but_readings(&self) -> impl Iterator<Item = (u32, bool, Entry)> + '_ {
        self.log.iter()
    }

    /// The next `observe` line of an indication: number, whether voided, line.
    ///
    /// It is sought from `place` on, which is left behind it; a first search begins at 0.
    #[must_use]
    pub fn observation(&self, indication: &str, place: &mut usize) -> Option<(u32, bool, ObserveEntry)> {
        log::observation(self.log.bytes(), indication, place)
    }

    /// The entry that took out entry `number`, and its reason.
    ///
    /// It is sought from `place` on, which is left where it was found: where many are asked for in their order, as a list
    /// does, none is walked to from the start. A first search begins at 0.
    #[must_use]
    pub fn voided_by(&self, number: u32, place: &mut usize) -> Option<(u32, Text)> {
        self.log.taker(number, place)
    }

    /// What is used of each capacity.
    #[must_use]
    pub fn room(&self) -> [Room; 4] {
        let room = |what, used, capacity| Room { what, used, capacity };
        [
            room("readings", self.pool.used(), READINGS),
            room("indications", self.indications.len(), INDICATIONS),
            room("probes", self.settings.probes().len(), PROBES),
            room("bytes of other entries", self.log.used(), LOG),
        ]
    }

    /// What the entries amount to, for the findings.
    #[must_use]
    pub fn facts(&self) -> Facts<'_> {
        Facts::new(
            self.settings.common(),
            self.settings.probes(),
            self.pool.slots(),
            self.pool.links(),
            &self.indications,
            &self.spans,
            self.log.bytes(),
        )
    }

    /// What is in force.
    #[must_use]
    pub const fn settings(&self) -> &Settings<PROBES> {
        &self.settings
    }
}
