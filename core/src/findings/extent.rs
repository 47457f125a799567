//! How long an indication is along the weld.

use core::fmt;

use super::{Undetermined, evaluate};
use crate::entry::Sweep;
use crate::examination::{Facts, Pooled};
use crate::side::{Face, Side};
use crate::sizing::length::{Length, LengthError, at_level, by_drop, by_end_peaks};
use crate::sizing::series::{Sample, Series};
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

/// A probe, side and face whose sweep along the weld is one series.
type Run = (u8, Side, Face);

fn run(reading: &Pooled) -> Run {
    (reading.probe(), reading.side(), reading.face())
}

/// The sweep along the weld that holds an indication's strongest echo, of at most `N` samples.
///
/// # Errors
/// [`NoLength`] with the reason.
pub fn sweep<const N: usize>(facts: &Facts<'_>, indication: u8) -> Result<Series<N>, NoLength> {
    let members = facts.readings_of(indication).filter(|reading| reading.sweep() == Some(Sweep::Along));
    let mut strongest: Option<(f32, Run)> = None;
    let mut first = None;
    for reading in members.clone() {
        first = first.or(Some(run(reading)));
        let Ok(found) = evaluate(facts, reading).level else { continue };
        if strongest.is_none_or(|(level, _)| found.level.db.get() > level) {
            strongest = Some((found.level.db.get(), run(reading)));
        }
    }
    let chosen = strongest.map(|(_, run)| run).or(first).ok_or(NoLength::NoSweep)?;
    let mut series = Series::<N>::new();
    for reading in members.filter(|reading| run(reading) == chosen) {
        let finding = evaluate(facts, reading);
        let number = reading.number();
        let level = finding.level.map_err(|reason| NoLength::NoLevel { number, reason })?.level;
        // The reflector's own x, so that a skewed probe counts where it looks.
        let travel: Millimetres = finding.place.map_or(reading.x(), |place| place.x);
        series.insert(Sample { travel, level }).map_err(|_| NoLength::Full { capacity: N as u32 })?;
    }
    Ok(series)
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
    let series = sweep::<N>(facts, indication)?;
    match rule {
        LengthRule::Drop(drop) => by_drop(&series, drop),
        LengthRule::EndPeaks { drop, floor } => by_end_peaks(&series, drop, floor),
        LengthRule::Level(level) => at_level(&series, level),
    }
    .map_err(NoLength::Length)
}
