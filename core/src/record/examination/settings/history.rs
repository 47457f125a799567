//! The history of the calibration: checks and measured calibrations of each probe, and the days they fell on.
//!
//! A check speaks for the readings between the last good check and itself; what was measured that day counts as the
//! day's first check. Which readings that are is worked out by the findings; here is what they look at.

use super::Settings;
use crate::acceptance::technique::Technique;
use crate::calibration::curve::Dac;
use crate::calibration::level::{Bound, EchoHeight, level};
use crate::record::entry::{CheckEntry, Clock, Date, Entry, TimebaseKnown, ToleranceEntry};
use crate::record::examination::{Common, Refusal};
use crate::units::limits;
use crate::units::{Decibels, Millimetres, Percent};

/// Events that are held.
pub(super) const EVENTS: usize = 64;
/// Changes of the day that are held.
pub(super) const DAYS: usize = 16;

/// How far an in-service check may be off.
///
/// The defaults, 2 % of the path and 2 dB, are from memory of ISO 17640 (range) and ASME V article 4 (sensitivity);
/// the governing code decides. The `tolerance` line sets them, and a technique sheet that has its own overrules it.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct CheckLimits {
    /// Percent of the path.
    pub range: Percent,
    /// Decibels.
    pub sensitivity: Decibels,
}

impl CheckLimits {
    /// Before any line sets them.
    pub(in crate::record::examination) const FIRST: Self =
        Self { range: Percent::constant(2.0), sensitivity: Decibels::constant(2.0) };

    /// These, where a tolerance line has none of its own.
    pub(in crate::record::examination) fn with(self, line: &ToleranceEntry) -> Self {
        Self {
            range: line.range.map_or(self.range, |range| range.quantity()),
            sensitivity: line.sensitivity.map_or(self.sensitivity, |sensitivity| sensitivity.quantity()),
        }
    }

    /// The narrower of both.
    fn narrower(self, other: Self) -> Self {
        let range = if other.range < self.range { other.range } else { self.range };
        let narrower = other.sensitivity < self.sensitivity;
        Self { range, sensitivity: if narrower { other.sensitivity } else { self.sensitivity } }
    }

    /// These, where the technique sheet has none of its own.
    pub(in crate::record::examination) fn under(self, technique: &Technique) -> Self {
        Self {
            range: technique.range_within.unwrap_or(self.range),
            sensitivity: technique.sensitivity_within.unwrap_or(self.sensitivity),
        }
    }
}

/// What an event was.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum EventKind {
    /// An in-service check.
    Check,
    /// A time base; one that was measured counts as a check of the range.
    Timebase,
    /// A reference point, which counts as a check of the sensitivity.
    Reference,
    /// A measured or stated angle.
    Angle,
    /// A transfer correction.
    Transfer,
}

/// A check or a measured calibration of a probe.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Event {
    /// The entry.
    pub number: u32,
    /// The probe, by its place.
    pub probe: u8,
    /// What it was.
    pub kind: EventKind,
    /// Whether it was voided. Of voided checks only those are kept that had failed.
    pub void: bool,
    /// Whether the range was good; none where it says nothing of the range.
    pub range: Option<bool>,
    /// Whether the sensitivity was good; none where it says nothing of the sensitivity.
    pub level: Option<bool>,
    /// When, where the check names it.
    pub time: Option<Clock>,
}

impl Event {
    /// Whether nothing in it failed.
    #[must_use]
    pub fn is_good(&self) -> bool {
        self.range != Some(false) && self.level != Some(false)
    }

    /// Whether a run of such events is known by its first and its last.
    fn is_like(&self, other: &Self) -> bool {
        let kind = |event: &Self| (event.kind, event.void, event.range, event.level);
        kind(self) == kind(other) && self.is_good() && self.time.is_none()
    }
}

/// A day on which facts were recorded.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Day {
    /// The entry that says so.
    pub number: u32,
    /// The day.
    pub date: Date,
    /// When the work began.
    pub time: Option<Clock>,
}

impl Settings {
    /// Notes what an entry says of the history: those in force, and voided ones that still tell of a failure or of a
    /// calibration that was made anew. `then` is the gain line that stood when a check was made, where that is another.
    pub(in crate::record::examination) fn note(
        &mut self,
        number: u32,
        void: bool,
        entry: &Entry,
        then: Option<&Dac>,
        limits: CheckLimits,
    ) {
        match entry {
            Entry::Date { date, time } if !void => self.note_day(Day { number, date: *date, time: *time }),
            Entry::Check(check) => self.note_check(number, void, check, then, limits),
            Entry::Timebase(timebase) => {
                let measured = matches!(timebase.how, TimebaseKnown::Echoes { .. });
                self.note_calibration(
                    number,
                    void,
                    entry,
                    EventKind::Timebase,
                    (measured.then_some(true), None),
                );
            }
            Entry::Dac(_) => {
                self.note_calibration(number, void, entry, EventKind::Reference, (None, Some(true)));
            }
            Entry::Angle(_) => self.note_calibration(number, void, entry, EventKind::Angle, (None, None)),
            Entry::Transfer(_) => {
                self.note_calibration(number, void, entry, EventKind::Transfer, (None, None))
            }
            _ => {}
        }
    }

    fn note_day(&mut self, day: Day) {
        if self.common.days.last().is_some_and(|held| held.date == day.date) && day.time.is_none() {
            return;
        }
        if self.common.days.push(day).is_err() {
            self.common.history_lost = true;
        }
    }

    fn note_calibration(
        &mut self,
        number: u32,
        void: bool,
        entry: &Entry,
        kind: EventKind,
        (range, level): (Option<bool>, Option<bool>),
    ) {
        let Some(place) = entry.probe().and_then(|probe| self.place(probe)) else { return };
        let probe = place as u8;
        self.note_event(Event { number, probe, kind, void, range, level, time: None });
    }

    /// One that can no longer be judged is not good.
    fn note_check(
        &mut self,
        number: u32,
        void: bool,
        entry: &CheckEntry,
        then: Option<&Dac>,
        limits: CheckLimits,
    ) {
        let limits = limits.narrower(self.common.check_limits);
        let unjudged = (false, entry.height.map(|_| false));
        let (mut range, mut level) = self.judge(entry, None, &limits).unwrap_or(unjudged);
        if let Some(then) = then {
            let (range_then, level_then) = self.judge(entry, Some(then), &limits).unwrap_or(unjudged);
            (range, level) = (range && range_then, level.map(|level| level && level_then != Some(false)));
        }
        // A probe that was judged by is known, and none loses its place.
        let Some(place) = self.place(&entry.probe) else { return };
        let (probe, kind) = (place as u8, EventKind::Check);
        let event = Event { number, probe, kind, void, range: Some(range), level, time: entry.time };
        if !(void && event.is_good()) {
            self.note_event(event);
        }
    }

    /// Of events that follow each other and say the same on one day the first and the last are held.
    fn note_event(&mut self, event: Event) {
        let Common { history, days, history_lost, .. } = &mut self.common;
        let day = days.last().map_or(0, |day| day.number);
        let mut last: Option<&mut Event> = None;
        for held in history.iter_mut().rev().filter(|held| held.probe == event.probe) {
            if !(held.is_like(&event) && held.number > day) {
                break;
            }
            if let Some(last) = last {
                *last = event;
                return;
            }
            last = Some(held);
        }
        if history.is_full() {
            // A check can always be recorded: nothing is known of any reading from here on.
            *history_lost = true;
            history.pop();
        }
        let _ = history.push(event);
    }

    /// Judges a check: the shown path against the true one, and its level against the reference at that path, on the gain
    /// line in force or on another.
    ///
    /// # Errors
    /// [`Refusal`]: a value out of range, a probe that is not declared, no reference at the path.
    pub(super) fn judge(
        &self,
        entry: &CheckEntry,
        dac: Option<&Dac>,
        check_limits: &CheckLimits,
    ) -> Result<(bool, Option<bool>), Refusal> {
        let (_, state) = self.declared(&entry.probe)?;
        let (path, shown) = (entry.path.within(limits::PATH)?, entry.shown.within(limits::PATH)?);
        let off = (shown.get() - path.get()).abs();
        let in_range = off <= check_limits.range.get() / 100.0 * path.get();
        let in_level = match (entry.height, entry.gain) {
            (Some(height), Some(gain)) => {
                let dac = dac.unwrap_or(state.dac());
                // One point says nothing of another path: the same hole answers otherwise there.
                if is_elsewhere(dac, path) {
                    return Ok((in_range, None));
                }
                let reference = dac.gain_at(path, state.beyond()).map_err(Refusal::Curve)?;
                let echo = EchoHeight::Shown(height.quantity());
                let none = const { Decibels::constant(0.0) };
                let level = level(echo, gain.quantity(), &reference, none, &self.common.screen);
                let level = level.map_err(Refusal::Screen)?;
                let within = level.db.get().abs() <= check_limits.sensitivity.get();
                Some(level.bound == Bound::Exact && within)
            }
            (None, None) => None,
            // Half a level is none that could be judged.
            _ => Some(false),
        };
        Ok((in_range, in_level))
    }
}

/// A path this far from that of the only reference point, as a part of it, is another path. Ours.
const ANOTHER_PATH: f32 = 0.1;

/// Whether a curve has one point, at another path.
fn is_elsewhere(dac: &Dac, path: Millimetres) -> bool {
    let mut points = dac.points();
    let (Some(only), None) = (points.next(), points.next()) else { return false };
    (path.get() - only.path.get()).abs() > ANOTHER_PATH * only.path.get()
}
