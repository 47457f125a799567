//! The settings folded again from the entries, where one of them was taken out or changes what others say.

use super::Examination;
use super::kinds::Kinds;
use crate::curve::{Dac, DacPoint};
use crate::decimal::Entered;
use crate::entry::{Entry, Name};

impl<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
> Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>
{
    /// Takes an entry out; where another cannot stand without it nothing is taken out, and that one is given back.
    pub(super) fn take_out(&mut self, number: u32) -> Option<u32> {
        if self.pool.void(number) {
            return None;
        }
        self.log.mark(number, true);
        let (sets, outdone) = self.log.is_of(number, Kinds::SETTING);
        if outdone {
            return None;
        }
        if !sets {
            // Of days and checks the history alone tells; of notes nothing does.
            if self.log.is_of(number, Kinds::HISTORY).0 {
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
    /// line of its own time.
    #[inline(never)]
    pub(super) fn judge_again(&mut self) {
        self.settings.forget_history();
        let replaced = self.log.has_void(Kinds::DAC);
        for (number, voided, entry) in self.log.of(Kinds::HISTORY) {
            let then = match &entry {
                Entry::Check(check) if replaced => self.gain_line_then(number, &check.probe),
                _ => None,
            };
            self.settings.note(number, voided, &entry, then.as_ref());
        }
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
