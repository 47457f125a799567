//! How an entry is taken into force, and the settings folded again from the entries where one of them was taken out or changes
//! what others say.

use heapless::VecView;

use super::kinds::Kinds;
use super::log::Log;
use super::pool::{self, Pool, Span};
use super::{CheckLimits, Facts, ProbeState, Refusal, Settings, pooled, refusal};
use crate::acceptance::technique::Technique;
use crate::calibration::curve::{Dac, DacPoint};
use crate::record::entry::{Entry, Name, ReadingEntry, Travel};
use crate::units::decimal::Entered;

/// An examination of any capacity, borrowed to be changed.
pub(super) struct Fold<'a> {
    pub log: &'a mut Log,
    pub pool: Pool<'a>,
    pub indications: &'a mut VecView<Name>,
    pub spans: &'a mut VecView<Span>,
    pub settings: &'a mut Settings,
    pub last: &'a mut u32,
}

impl Fold<'_> {
    fn facts(&self) -> Facts<'_> {
        Facts {
            settings: self.settings,
            slots: self.pool.slots,
            links: self.pool.links,
            indications: self.indications,
            spans: self.spans,
            log: self.log,
            last: *self.last,
        }
    }

    pub fn record(&mut self, entry: &Entry) -> Result<u32, Refusal> {
        let number = self.next()?;
        match entry {
            Entry::Reading(reading) => self.record_reading(number, reading)?,
            Entry::Void { number: taken_out, .. } => {
                self.check_void(*taken_out)?;
                let kept = self.log.used();
                self.log.push(number, entry)?;
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
        *self.last = number;
        Ok(number)
    }

    pub fn pass(&mut self, reading: &ReadingEntry) -> Result<u32, Refusal> {
        let number = self.next()?;
        let goes_on = reading.together.is_some()
            && pool::last(self.pool.slots).is_some_and(|last| {
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
        *self.last = number;
        Ok(number)
    }

    pub fn pass_over(&mut self) -> Result<u32, Refusal> {
        *self.last = self.next()?;
        Ok(*self.last)
    }

    pub fn clear(&mut self) {
        self.log.back_to(0);
        self.pool.clear();
        self.indications.clear();
        self.spans.clear();
        self.settings.clear();
        *self.last = 0;
    }

    pub fn adopt(&mut self, technique: Option<Technique>) {
        self.settings.adopt(technique.unwrap_or(Technique::MINIMUM));
        self.fold_again();
    }

    fn next(&self) -> Result<u32, Refusal> {
        let number = self.last.checked_add(1).filter(|number| *number <= pooled::MAX_NUMBER);
        number.ok_or(Refusal::Full { what: "entries", capacity: pooled::MAX_NUMBER })
    }

    fn record_reading(&mut self, number: u32, reading: &ReadingEntry) -> Result<(), Refusal> {
        refusal::check_reading(reading)?;
        let probe = self.settings.declared(&reading.probe)?;
        if matches!(reading.travel, Travel::Time(_)) && probe.1.timebase().is_none() {
            return Err(Refusal::NoTimebase(reading.probe.clone()));
        }
        let known = self.slot(&reading.indication);
        let slot = known.unwrap_or(self.indications.len());
        if known.is_none() && self.indications.is_full() {
            return Err(Refusal::Full { what: "indications", capacity: self.indications.capacity() as u32 });
        }
        let before = self.pool.slots.len();
        let span = self.spans.get(slot).copied();
        self.pool.push(number, slot as u8, probe.0 as u8, reading, span)?;
        let after = self.pool.slots.len();
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
        match self.facts().entry(number) {
            None => Err(Refusal::NoSuchEntry { number, last: *self.last }),
            Some((Entry::Void { .. }, _)) => Err(Refusal::VoidOfVoid { number }),
            Some((_, true)) => Err(Refusal::AlreadyVoid { number }),
            Some(_) => Ok(()),
        }
    }

    fn slot(&self, indication: &Name) -> Option<usize> {
        self.indications.iter().position(|name| name == indication)
    }

    /// Takes an entry out; where another cannot stand without it nothing is taken out, and that one is given back.
    pub(super) fn take_out(&mut self, number: u32) -> Option<u32> {
        if self.pool.void(number) {
            return None;
        }
        let kind = self.log.mark(number, true)?;
        if !Kinds::SETTING.has(kind) {
            // Of days and checks the history alone tells; of notes nothing does.
            if Kinds::HISTORY.has(kind) {
                self.judge_again();
            }
            return None;
        }
        if self.log.is_outdone(number) {
            // A check keeps the limits of its own time.
            if Kinds::TOLERANCE.has(kind) && self.settings.common().is_checked() {
                self.judge_again();
            }
            return None;
        }
        let resting = self.fold_again()?;
        self.log.mark(number, false);
        self.fold_again();
        Some(resting)
    }

    /// Folds the settings again from the entries in force; the first that cannot stand is given back.
    pub(super) fn fold_again(&mut self) -> Option<u32> {
        let mut fallen = None;
        // Reference points are kept at the reference height that holds now, whenever it was set.
        let mut reference = None;
        for (_, entry) in self.log.in_force(Kinds::SCREEN) {
            if let Entry::Screen(screen) = &entry {
                reference = screen.reference.or(reference);
            }
        }
        self.settings.forget(reference.map(Entered::quantity));
        for (number, entry) in self.log.in_force(Kinds::SETTING) {
            if self.is_remade(&entry) {
                self.settings.remake(&entry, number);
            }
            if self.settings.apply(&entry, number).is_err() && fallen.is_none() {
                fallen = Some(number);
            }
        }
        self.judge_again();
        fallen
    }

    /// Makes the history again. A check is judged on all of the calibration, whatever was entered first, and on the gain
    /// line and by the limits of its own time: what is widened or made anew later clears no failure.
    #[inline(never)]
    pub(super) fn judge_again(&mut self) {
        self.settings.forget_history();
        let (replaced, taken_out) = (self.log.has_void(Kinds::DAC), self.log.has_void(Kinds::TOLERANCE));
        let mut limits = CheckLimits::FIRST;
        for (number, voided, entry) in self.log.of(Kinds::JUDGED) {
            let then = match &entry {
                Entry::Check(check) if replaced => self.gain_line_then(number, &check.probe),
                _ => None,
            };
            match &entry {
                Entry::Tolerance(tolerance) if !voided => limits = limits.with(tolerance),
                Entry::Check(_) if taken_out => limits = self.limits_then(number),
                _ => {}
            }
            let limits = limits.under(&self.settings.common().technique);
            self.settings.note(number, voided, &entry, then.as_ref(), limits);
        }
    }

    /// The limits of checks when entry `number` was made, with the lines that were taken out since.
    #[inline(never)]
    fn limits_then(&self, number: u32) -> CheckLimits {
        let (mut limits, mut place) = (CheckLimits::FIRST, 0);
        for (line, voided, entry) in self.log.of(Kinds::TOLERANCE).take_while(|(line, ..)| *line < number) {
            let Entry::Tolerance(entry) = entry else { continue };
            if !voided || self.log.taker(line, &mut place).is_some_and(|(by, _)| by > number) {
                limits = limits.with(&entry);
            }
        }
        limits
    }

    /// The gain line that a probe had when entry `number` was made, where points of it were voided since.
    #[inline(never)]
    fn gain_line_then(&self, number: u32, probe: &Name) -> Option<Dac> {
        let (mut then, mut another) = (Dac::new(self.settings.common().screen.reference()), false);
        let mut place = 0;
        for (point, voided, entry) in self.log.of(Kinds::DAC).take_while(|(point, ..)| *point < number) {
            let Entry::Dac(entry) = entry else { continue };
            let since = voided && self.log.taker(point, &mut place).is_some_and(|(by, _)| by > number);
            if entry.probe != *probe || voided && !since {
                continue;
            }
            another |= since;
            let (path, height, gain) =
                (entry.path.quantity(), entry.height.quantity(), entry.gain.quantity());
            let _ = then.insert(DacPoint { path, height, gain });
        }
        another.then_some(then)
    }

    /// Whether a probe was declared before, as one that sounds otherwise, and that entry was voided.
    pub(super) fn is_remade(&self, entry: &Entry) -> bool {
        let Entry::Probe(probe) = entry else { return false };
        // One at a time in one place: an iterator's adapters hold each entry twice more.
        for (_, voided, other) in self.log.of(Kinds::PROBE) {
            if let (true, Entry::Probe(other)) = (voided, &other)
                && other.name == probe.name
                && !other.sounds_as(probe)
            {
                return true;
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calibration::curve::Beyond;
    use crate::record::entry::fixture::{entered, name};
    use crate::record::entry::{
        CheckEntry, DacEntry, Date, Element, LengthUnit, ProbeEntry, Text, ToleranceEntry,
    };
    use crate::record::examination::{Examination, ProbeState, Refusal};
    use std::format;
    use std::string::String;

    type Small = Examination<1, 1, 8, 4096>;

    fn told(examination: &Small) -> String {
        let common = examination.settings().common();
        let probe = examination.settings().probe(0);
        let points = probe.map(|probe| probe.reference_points().map(|point| (point.number, point.gain)));
        let points: Option<heapless::Vec<_, 16>> = points.map(Iterator::collect);
        format!(
            "{:?} {:?} {:?} {:?} {:?} {} {:?} {:?} {:?} {points:?}",
            common.units,
            common.budget,
            common.velocity,
            common.check_limits,
            common.history,
            common.history_lost,
            common.days,
            probe.map(ProbeState::beyond),
            probe.map(ProbeState::margin),
        )
    }

    /// One of the lines that fold little or nothing, or a void of any line before it but the first four.
    fn line(choice: u32, number: u32) -> Entry {
        let probe = || name("p60");
        let some = (choice / 16 % 4) as f32;
        let date = Date::new(2026, 3, 1 + (choice / 16 % 4) as u8).unwrap();
        let check = |shown, gain| CheckEntry {
            probe: probe(),
            path: entered(50.0),
            shown: entered(shown),
            height: Some(entered(80.0)),
            gain: Some(entered(gain)),
            block: None,
            time: None,
        };
        match choice % 16 {
            0 => Entry::Note(Text::try_from("invented").unwrap()),
            1 => Entry::Date { date, time: None },
            2 => Entry::Units(LengthUnit::Mm),
            3 => Entry::Tolerance(ToleranceEntry { range: Some(entered(some)), ..Default::default() }),
            4 => Entry::Tolerance(ToleranceEntry { sensitivity: Some(entered(some)), ..Default::default() }),
            5 => Entry::DacBeyond { probe: probe(), beyond: Beyond::Hold },
            6 => Entry::DacBeyond { probe: probe(), beyond: Beyond::Refuse },
            7 => Entry::Scanning { probe: probe(), margin: entered(some) },
            8 | 9 => {
                let (path, gain) = (entered(30.0 + 10.0 * some), entered(38.0 + some));
                Entry::Dac(DacEntry { probe: probe(), path, height: entered(80.0), gain, hole: None })
            }
            10 | 11 => Entry::Check(check(50.0 + some / 2.0, 38.0 + some)),
            _ => Entry::Void {
                number: 5 + choice / 16 % (number.saturating_sub(5).max(1)),
                reason: Text::try_from("typing error").unwrap(),
            },
        }
    }

    #[test]
    fn what_is_in_force_is_what_a_fold_of_all_entries_gives() {
        let (mut taken, mut choice) = (0, 7_u32);
        for _ in 0..40 {
            let mut examination = Small::new();
            let probe = ProbeEntry {
                name: name("p60"),
                angle: entered(60.0),
                frequency: entered(4.0),
                element: Element::Round { diameter: entered(8.0) },
                front: None,
                wedge: None,
                wedge_path: None,
                heat: None,
            };
            examination.record(Entry::Probe(probe)).unwrap();
            for choice in [8, 8 + 3 * 16, 10] {
                examination.record(line(choice, 0)).unwrap();
            }
            for _ in 0..80 {
                choice = choice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let kept = examination.record(line(choice >> 8, examination.last() + 1));
                assert!(!matches!(kept, Err(Refusal::RestsOn { .. })), "{kept:?}");
                taken += u32::from(kept.is_ok());
                let mut again = examination.clone();
                assert_eq!(again.fold().fold_again(), None);
                assert_eq!(told(&examination), told(&again));
            }
        }
        assert!(taken > 1_500, "{taken}");
    }
}
