//! How long an indication is along the weld.

use core::fmt;

use super::{ReadingFinding, Undetermined, evaluate};
use crate::acceptance::criteria::{LengthBy, Sheet};
use crate::evaluate::sizing::length::{Length, LengthError, at_level, by_drop, by_end_peaks};
use crate::evaluate::sizing::series::{Sample, Series};
use crate::part::side::{Face, Side};
use crate::record::entry::{PointPeaked, Sweep};
use crate::record::examination::{Facts, Pooled};
use crate::units::{Decibels, Millimetres};

/// How the ends are found.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum LengthRule {
    /// Where the echo has fallen so far below its peak.
    Drop(Decibels),
    /// Where it has fallen so far below the last peak before each end.
    EndPeaks {
        /// How far.
        drop: Decibels,
        /// A peak counts when it is at this level over the reference or above.
        floor: Decibels,
    },
    /// Where it crosses a level over the reference.
    Level(Decibels),
}

impl LengthRule {
    /// The half-amplitude rule.
    pub const DROP_6: Self = Self::Drop(Decibels::constant(6.0));

    /// The rule of the sheet in force; the half-amplitude rule without one.
    #[must_use]
    pub fn of_sheet<const ROWS: usize>(sheet: Option<&Sheet<ROWS>>) -> Self {
        match sheet.map(|sheet| sheet.head().length_by) {
            Some(LengthBy::Drop(drop)) => Self::Drop(drop),
            Some(LengthBy::Level(level)) => Self::Level(level),
            None => Self::DROP_6,
        }
    }
}

/// Why an indication has no length.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum NoLength {
    /// No reading of it moves along the weld.
    NoSweep,
    /// A reading of the sweep has no level.
    NoLevel {
        /// The reading.
        number: u32,
        /// Why.
        reason: Undetermined,
    },
    /// The sweep has more samples than there is room for.
    Full {
        /// How many there is room for.
        capacity: u32,
    },
    /// The sweep gives no length.
    Length(LengthError),
}

impl fmt::Display for NoLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSweep => f.write_str("no sweep along the weld was recorded"),
            Self::NoLevel { number, reason } => {
                write!(f, "reading {number} of the sweep has no level: {reason}")
            }
            Self::Full { capacity } => write!(f, "the sweep has more than {capacity} samples"),
            Self::Length(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for NoLength {}

/// One sweep along the weld: what stays as it is while the probe moves.
///
/// A sweep that follows a tip, one with the probe turned, or one in another leg has levels of its own: mixed into one
/// series they would cut it short.
#[derive(Clone, Copy)]
pub(super) struct Run {
    stand: (u8, Side, Face),
    skew: f32,
    tip: Option<PointPeaked>,
    unfolded: Option<f32>,
    thickness: Option<f32>,
}

impl Run {
    pub(super) fn of(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> Self {
        let reading = finding.reading;
        let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.thickness());
        Self {
            stand: (reading.probe(), reading.side(), reading.face()),
            skew: reading.skew().map_or(0.0, |skew| skew.get()),
            tip: match reading.point() {
                PointPeaked::Echo | PointPeaked::Corner => None,
                tip => Some(tip),
            },
            unfolded: finding.place.ok().map(|place| place.unfolded.get()),
            thickness: reading.thickness().or(joint).map(|thickness| thickness.get()),
        }
    }

    /// Whether a sample at the one belongs to the sweep of the other. An echo near a face may change its leg from sample
    /// to sample; a second sweep in another leg lies more than half a thickness away.
    pub(super) fn holds(&self, other: &Self) -> bool {
        let same_leg = match (self.unfolded, other.unfolded, self.thickness) {
            (Some(own), Some(others), Some(thickness)) => (own - others).abs() <= thickness / 2.0,
            _ => true,
        };
        (self.stand, self.skew, self.tip) == (other.stand, other.skew, other.tip) && same_leg
    }
}

/// The sweep along the weld that holds an indication's strongest echo, of at most `N` samples.
///
/// # Errors
/// [`NoLength`] with the reason.
pub fn sweep<const N: usize>(facts: &Facts<'_>, indication: u8) -> Result<Series<N>, NoLength> {
    let mut series = Series::new();
    let (_, run) = strongest_run(facts, indication, &[]).ok_or(NoLength::NoSweep)?;
    fill(facts, indication, &run, &mut series)?;
    Ok(series)
}

/// The sweep along the weld with the strongest echo apart from these, and the reading that holds it; the first reading's
/// where none has a level.
pub(super) fn strongest_run(facts: &Facts<'_>, indication: u8, apart_from: &[Run]) -> Option<(u32, Run)> {
    let mut strongest: Option<(f32, u32, Run)> = None;
    for reading in along(facts, indication) {
        let finding = evaluate(facts, reading);
        let run = Run::of(facts, &finding);
        let level = finding.level.map_or(f32::NEG_INFINITY, |found| found.level.db.get());
        let stronger = strongest.is_none_or(|(held, ..)| level > held);
        if stronger && !apart_from.iter().any(|other| other.holds(&run)) {
            strongest = Some((level, reading.number(), run));
        }
    }
    strongest.map(|(_, number, run)| (number, run))
}

fn along<'a>(facts: &Facts<'a>, indication: u8) -> impl Iterator<Item = Pooled<'a>> + use<'a> {
    facts.readings_of(indication).filter(|reading| reading.sweep() == Some(Sweep::Along))
}

/// Fills an empty series in its place: a long one is never moved.
fn fill<const N: usize>(
    facts: &Facts<'_>,
    indication: u8,
    run: &Run,
    series: &mut Series<N>,
) -> Result<(), NoLength> {
    for reading in along(facts, indication) {
        let finding = evaluate(facts, reading);
        if !run.holds(&Run::of(facts, &finding)) {
            continue;
        }
        let number = reading.number();
        let level = finding.level.map_err(|reason| NoLength::NoLevel { number, reason })?.level;
        // The reflector's own x, so that a skewed probe counts where it looks.
        let travel: Millimetres = finding.place.map_or(reading.x(), |place| place.x);
        series.insert(Sample { travel, level }).map_err(|_| NoLength::Full { capacity: N as u32 })?;
    }
    Ok(())
}

/// The length of an indication by its [`sweep`] along the weld, of at most `N` samples.
///
/// # Errors
/// [`NoLength`] with the reason.
pub fn extent<const N: usize>(
    facts: &Facts<'_>,
    indication: u8,
    rule: LengthRule,
) -> Result<Length, NoLength> {
    let (_, run) = strongest_run(facts, indication, &[]).ok_or(NoLength::NoSweep)?;
    of_run::<N>(facts, indication, &run, rule)
}

/// The length by one of its sweeps.
#[inline(never)]
pub(super) fn of_run<const N: usize>(
    facts: &Facts<'_>,
    indication: u8,
    run: &Run,
    rule: LengthRule,
) -> Result<Length, NoLength> {
    let mut series = Series::<N>::new();
    fill(facts, indication, run, &mut series)?;
    match rule {
        LengthRule::Drop(drop) => by_drop(&series, drop),
        LengthRule::EndPeaks { drop, floor } => by_end_peaks(&series, drop, floor),
        LengthRule::Level(level) => at_level(&series, level),
    }
    .map_err(NoLength::Length)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sweep_in_the_next_leg_is_another_one() {
        let run = |unfolded: f32| Run {
            stand: (0, Side::A, Face::Near),
            skew: 0.0,
            tip: None,
            unfolded: Some(unfolded),
            thickness: Some(20.0),
        };
        // Half a thickness is 10 mm.
        assert!(run(18.0).holds(&run(28.0)) && run(28.0).holds(&run(18.0)));
        assert!(!run(18.0).holds(&run(28.5)));
    }
}
