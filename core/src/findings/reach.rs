//! How far an indication may go along the weld when all that was seen of it is counted, not its length alone.
//!
//! The length is that of one sweep. Another sweep may go further, and an echo as strong as the ends ask for may lie
//! beyond them: a verdict that would be another by that reach is not borne by the length.

use heapless::Vec;

use super::extent::{Run, of_run, strongest_run};
use super::{Blocked, LengthRule, NoLength, evaluate};
use crate::evaluate::sizing::length::{Length, LengthError};
use crate::record::examination::Facts;
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

    /// The same stretch, which may go on at both ends by what is told.
    const fn opened(self, by: Option<By>) -> Self {
        Self { open_start: true, open_end: true, by, ..self }
    }

    /// Whether a place along the weld is no further from it than its echoes may lie.
    fn is_beside(&self, x: Millimetres) -> bool {
        x.get() >= self.start.get() - BESIDE && x.get() <= self.end.get() + BESIDE
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
                reach.widen(reach.opened(by));
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
        if !swept.is_beside(x) && finding.level.is_ok_and(|found| found.level.may_reach(asked)) {
            let by = Some(By::Reading(reading.number(), x));
            reach.widen(Reach::closed(x, x).opened(by));
        }
    }
    Ok((length, reach))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stretch(start: f32, end: f32) -> Reach {
        Reach::closed(Millimetres::constant(start), Millimetres::constant(end))
    }

    fn widened(mut own: Reach, by: Reach) -> Reach {
        own.widen(by);
        own
    }

    #[test]
    fn the_further_end_counts_and_at_one_place_the_open_one() {
        let (own, by) = (stretch(10.0, 30.0), Some(By::Sweep(7)));
        assert_eq!(widened(own, Reach { by, ..own }), own, "as far is no further");
        assert_eq!(widened(own, stretch(12.0, 28.0).opened(by)), own);
        assert_eq!(widened(own, Reach { by, ..stretch(9.0, 29.0) }), Reach { by, ..stretch(9.0, 30.0) });
        assert_eq!(widened(own, Reach { by, ..stretch(11.0, 31.0) }), Reach { by, ..stretch(10.0, 31.0) });
        let open = Reach { open_start: true, by, ..own };
        assert_eq!(widened(own, Reach { end: Millimetres::constant(20.0), ..open }), open);
        let open = Reach { open_end: true, by, ..own };
        assert_eq!(widened(own, Reach { start: Millimetres::constant(20.0), ..open }), open);
        assert_eq!(widened(own, own.opened(by)), Reach { open_start: true, open_end: true, by, ..own });
    }

    #[test]
    fn ten_millimetres_from_an_end_is_beside_it_still() {
        let own = stretch(10.0, 30.0);
        let beside = [0.0, 40.0, -0.001, 40.001].map(|x| own.is_beside(Millimetres::constant(x)));
        assert_eq!(beside, [true, true, false, false]);
    }
}
