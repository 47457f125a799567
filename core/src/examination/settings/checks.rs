//! In-service checks, judged and kept.

use super::Settings;
use crate::entry::CheckEntry;
use crate::examination::{Common, Refusal};
use crate::level::{Bound, EchoHeight, level};
use crate::limits;
use crate::units::Decibels;

/// In-service checks that are held.
pub(super) const CHECKS: usize = 64;

/// One in-service check, judged.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Checked {
    /// The entry.
    pub number: u32,
    /// The probe, by its place.
    pub probe: u8,
    /// Whether it was within the limits; not when the gain line it was judged by is no more.
    pub good: bool,
    /// Whether its level was; none where it says no level, and so nothing of the sensitivity.
    pub level: Option<bool>,
}

impl<const PROBES: usize> Settings<PROBES> {
    pub(super) fn apply_check(&mut self, entry: &CheckEntry, number: u32) -> Result<(), Refusal> {
        let (good, level) = self.judge(entry)?;
        self.note_check(entry, number, good, level);
        Ok(())
    }

    /// Notes a check that was taken once; one that can no longer be judged is not good.
    pub(in crate::examination) fn judge_again(&mut self, entry: &CheckEntry, number: u32) {
        let (good, level) = self.judge(entry).unwrap_or((false, entry.height.map(|_| false)));
        self.note_check(entry, number, good, level);
    }

    fn note_check(&mut self, entry: &CheckEntry, number: u32, good: bool, level: Option<bool>) {
        // A probe that was judged by is known, and none loses its place.
        let Some(place) = self.place(&entry.probe) else { return };
        let probe = place as u8;
        let Common { checks, checks_lost, .. } = &mut self.common;
        let mut last: Option<&mut Checked> = None;
        for held in checks.iter_mut().rev().filter(|held| held.probe == probe) {
            // Where both are good, so is the level of each that says one.
            if !(good && held.good && held.level.is_some() == level.is_some()) {
                break;
            }
            if let Some(last) = last {
                last.number = number;
                return;
            }
            last = Some(held);
        }
        if checks.is_full() {
            // A check can always be recorded: every reading is suspect from here on.
            *checks_lost = true;
            checks.pop();
        }
        let _ = checks.push(Checked { number, probe, good, level });
    }

    /// Judges a check: the shown path against the true one, and its level against the reference at that path.
    fn judge(&self, entry: &CheckEntry) -> Result<(bool, Option<bool>), Refusal> {
        let (_, state) = self.declared(&entry.probe)?;
        let (path, shown) = (entry.path.within(limits::PATH)?, entry.shown.within(limits::PATH)?);
        let off = (shown.get() - path.get()).abs();
        let in_range = off <= self.common.check_limits.range.get() / 100.0 * path.get();
        let in_level = match (entry.height, entry.gain) {
            (Some(height), Some(gain)) => {
                let reference = state.dac().gain_at(path, state.beyond()).map_err(Refusal::Curve)?;
                let echo = EchoHeight::Shown(height.quantity());
                let none = const { Decibels::constant(0.0) };
                let level = level(echo, gain.quantity(), &reference, none, &self.common.screen);
                let level = level.map_err(Refusal::Screen)?;
                let within = level.db.get().abs() <= self.common.check_limits.sensitivity.get();
                Some(level.bound == Bound::Exact && within)
            }
            (None, None) => None,
            // Half a level is none that could be judged.
            _ => Some(false),
        };
        Ok((in_range && in_level != Some(false), in_level))
    }
}
