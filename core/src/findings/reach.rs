//! How far an indication may go along the weld when all that was seen of it is counted, not its length alone.
//!
//! The length is that of one sweep. Another sweep may go further, and an echo as strong as the ends ask for may lie
//! beyond them: a verdict that would be another by that reach is not borne by the length.

use heapless::Vec;

use super::extent::{Run, of_run, strongest_run};
use super::{Blocked, LengthRule, NoLength, evaluate};
use crate::examination::Facts;
use crate::sizing::length::{Length, LengthError};
use crate::units::Millimetres;

/// How far beside its length an echo of it may lie: peaks from two sides differ by some millimetres. Common practice, no
/// source.
const BESIDE: f32 = 10.0;

/// Sweeps of one indication that are told apart.
const SWEEPS: usize = 8;

/// A stretch along the weld; where an end is open it may go on.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Reach {
    pub(super) start: Millimetres,
    pub(super) end: Millimetres,
    pub(super) open_start: bool,
    pub(super) open_end: bool,
    /// What reaches beyond the length, if anything does.
    pub(super) by: Option<By>,
}

/// What reaches beyond a length.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) enum By {
    /// Another sweep, by its strongest reading.
    Sweep(u32),
    /// A reading as strong as the ends ask for, and its x.
    Reading(u32, Millimetres),
}

impl Reach {
    /// As far as is known, and no further.
    pub(super) const fn closed(start: Millimetres, end: Millimetres) -> Self {
        Self { start, end, open_start: false, open_end: false, by: None }
    }

    const fn of(length: &Length, by: Option<By>) -> Self {
        let Length { start, end, open_start, open_end, .. } = *length;
        Self { start, end, open_start, open_end, by }
    }

    pub(super) const fn is_open(&self) -> bool {
        self.open_start || self.open_end
    }

    /// What stands in the way of a verdict that would be another by this reach.
    pub(super) fn blocks(&self) -> Option<Blocked> {
        Some(match self.by? {
            By::Sweep(number) => {
                let length = self.end.get() - self.start.get();
                Blocked::LongerSweep { number, length, open: self.is_open() }
            }
            By::Reading(number, x) => Blocked::EchoBeyond { number, x: x.get() },
        })
    }

    fn widen(&mut self, other: Self) {
        if (-other.start.get(), other.open_start) > (-self.start.get(), self.open_start) {
            (self.start, self.open_start, self.by) = (other.start, other.open_start, other.by);
        }
        if (other.end, other.open_end) > (self.end, self.open_end) {
            (self.end, self.open_end, self.by) = (other.end, other.open_end, other.by);
        }
    }
}

/// The length of an indication, and how far it may go.
pub(super) fn reach<const N: usize>(
    facts: &Facts<'_>,
    indication: u8,
    rule: LengthRule,
) -> Result<(Length, Reach), NoLength> {
    let (_, measured) = strongest_run(facts, indication, &[]).ok_or(NoLength::NoSweep)?;
    let length = of_run::<N>(facts, indication, &measured, rule)?;
    let mut reach = Reach::of(&length, None);
    let mut runs: Vec<Run, SWEEPS> = Vec::new();
    let _ = runs.push(measured);
    while let Some((number, run)) = strongest_run(facts, indication, &runs) {
        let by = Some(By::Sweep(number));
        let told_apart = runs.push(run).map_err(|_| NoLength::Full { capacity: SWEEPS as u32 });
        match told_apart.and_then(|()| of_run::<N>(facts, indication, &run, rule)) {
            Ok(other) => reach.widen(Reach::of(&other, by)),
            // A reading alone, or no echo that the rule counts.
            Err(NoLength::Length(
                LengthError::TooFewSamples { .. } | LengthError::NothingSeen | LengthError::BelowLevel { .. },
            )) => {}
            Err(_) => {
                reach.widen(Reach { open_start: true, open_end: true, by, ..reach });
                break;
            }
        }
    }
    let asked = match rule {
        LengthRule::Drop(drop) | LengthRule::EndPeaks { drop, .. } => length.peak.level.db.get() - drop.get(),
        LengthRule::Level(level) => level.get(),
    };
    let swept = reach;
    for reading in facts.readings_of(indication) {
        let finding = evaluate(facts, reading);
        let x = finding.place.map_or(reading.x(), |place| place.x);
        let beyond = x.get() < swept.start.get() - BESIDE || x.get() > swept.end.get() + BESIDE;
        if beyond && finding.level.is_ok_and(|found| found.level.may_reach(asked)) {
            let by = Some(By::Reading(reading.number(), x));
            reach.widen(Reach { open_start: true, open_end: true, by, ..Reach::closed(x, x) });
        }
    }
    Ok((length, reach))
}
