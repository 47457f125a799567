//! Scans: what one movement of one probe drew, and how long an indication is along the weld by it.

use core::fmt;

use heapless::Vec;

use super::{Indication, Undetermined, evaluate};
use crate::acceptance::criteria::{Criteria, LengthBy};
use crate::calibration::level::Level;
use crate::evaluate::sizing::length::{Length, LengthError, at_level, by_drop, by_end_peaks};
use crate::evaluate::sizing::series::{Sample, SeriesFull, SeriesView};
use crate::part::girth::Opened;
use crate::part::side::{Face, Side};
use crate::record::entry::{PointPeaked, Sweep};
use crate::record::examination::Pooled;
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

    /// The length of a scan along the weld.
    ///
    /// # Errors
    /// [`LengthError`] with the reason.
    pub fn length(self, series: &SeriesView) -> Result<Length, LengthError> {
        match self {
            Self::Drop(drop) => by_drop(series, drop),
            Self::EndPeaks { drop, floor } => by_end_peaks(series, drop, floor),
            Self::Level(level) => at_level(series, level),
        }
    }

    /// The rule of the sheet in force; the half-amplitude rule without one.
    #[must_use]
    pub fn of_sheet(sheet: Option<&Criteria>) -> Self {
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

/// Scans of one indication that are told apart.
pub const SCANS: usize = 24;

/// Movements across the weld at places along it no farther apart than this are one scan, mm. Common practice, no source.
const SAME_X: f32 = 5.0;

/// What one movement of one probe drew: what stays as it is while the probe moves.
///
/// A scan along the weld that follows a tip, one with the probe turned, or one in another leg has levels of its own: mixed
/// into one curve they would cut it short. Across the weld, and about the reflector, an echo walks from leg to leg: there
/// the leg parts nothing.
#[derive(Clone, Copy)]
pub struct Scan<'a> {
    indication: Indication<'a>,
    /// The reading that it was found by: the strongest.
    by: Pooled<'a>,
    movement: Sweep,
    /// Depth before reflections are folded in of that reading, mm.
    unfolded: Option<f32>,
}

impl<'a> Scan<'a> {
    pub(super) fn by(indication: Indication<'a>, reading: Pooled<'a>) -> Option<Self> {
        let movement = reading.sweep()?;
        let unfolded = indication.heard(reading).spot.map(|spot| spot.unfolded);
        Some(Self { indication, by: reading, movement, unfolded })
    }

    /// The probe, by its place.
    #[must_use]
    pub const fn probe(&self) -> u8 {
        self.by.probe()
    }

    /// The side that it was on.
    #[must_use]
    pub const fn side(&self) -> Side {
        self.by.side()
    }

    /// The face that it was on.
    #[must_use]
    pub const fn face(&self) -> Face {
        self.by.face()
    }

    /// How it was moved.
    #[must_use]
    pub const fn movement(&self) -> Sweep {
        self.movement
    }

    /// The strongest reading; the first where none has a level.
    #[must_use]
    pub const fn strongest(&self) -> Pooled<'a> {
        self.by
    }

    /// Whether a reading belongs to it.
    pub(crate) fn holds(&self, reading: Pooled<'_>) -> bool {
        let own = self.by;
        let stand = |reading: Pooled<'_>| (reading.sweep(), reading.probe(), reading.side(), reading.face());
        if stand(reading) != stand(own) || tip(reading) != tip(own) {
            return false;
        }
        match self.movement {
            Sweep::Along => {
                // An echo near a face may change its leg from sample to sample.
                let spot = || self.indication.heard(reading).spot.map(|spot| spot.unfolded);
                skew(reading) == skew(own) && same_leg(self.unfolded, spot(), self.thickness())
            }
            Sweep::Across => (reading.x().get() - own.x().get()).abs() <= SAME_X,
            Sweep::Swivel | Sweep::Orbit => true,
        }
    }

    fn thickness(&self) -> Option<f32> {
        self.indication.facts().thickness_of(self.by).map(Millimetres::get)
    }

    /// Its readings, in the order of their entry.
    pub fn readings(self) -> impl Iterator<Item = Pooled<'a>> + Clone {
        self.indication.readings().filter(move |reading| self.holds(*reading))
    }

    /// How far a reading of it lies along the movement: the reflector's own x along the weld, mm, so that a skewed probe
    /// counts where it looks; the stand-off across it, mm; the skew of a turn, degrees.
    #[must_use]
    pub fn travel(&self, reading: Pooled<'_>) -> f32 {
        match self.movement {
            Sweep::Along => self.indication.heard(reading).x(reading).get(),
            Sweep::Across => reading.standoff().get(),
            Sweep::Swivel | Sweep::Orbit => skew(reading),
        }
    }

    /// The readings of it that have a level, in the order of their entry: how far along, and how strong.
    pub fn samples(self) -> impl Iterator<Item = (f32, Level)> + Clone {
        self.readings().filter_map(move |reading| {
            let (level, _) = self.indication.heard(reading).level?;
            Some((self.travel(reading), level))
        })
    }

    /// The length along the weld that it tells.
    ///
    /// # Errors
    /// [`NoLength`] with the reason; a scan that is not along the weld tells none.
    #[inline(never)]
    pub fn length(self, rule: LengthRule) -> Result<Length, NoLength> {
        self.sampled(|series| rule.length(series).map_err(NoLength::Length))?
    }

    /// Its samples along the weld, in order and of each place once, by which it is measured. While they are looked at no
    /// length can be asked for.
    ///
    /// # Errors
    /// [`NoLength`]: it is not along the weld, a reading has no level, or there is no room.
    pub fn sampled<T>(self, ask: impl FnOnce(&SeriesView) -> T) -> Result<T, NoLength> {
        let mut series = self.indication.findings().scan.try_borrow_mut().map_err(|_| NoLength::NoSweep)?;
        self.fill(&mut series)?;
        Ok(ask(&series))
    }

    #[inline(never)]
    fn fill(self, series: &mut SeriesView) -> Result<(), NoLength> {
        if self.movement != Sweep::Along {
            return Err(NoLength::NoSweep);
        }
        series.clear();
        let opened = opened(self.indication);
        for reading in self.readings() {
            let heard = self.indication.heard(reading);
            let Some((level, _)) = heard.level else {
                let reason = evaluate(self.indication.facts(), reading).level.err();
                let (number, reason) = (reading.number(), reason.unwrap_or(Undetermined::ProbeVoid));
                return Err(NoLength::NoLevel { number, reason });
            };
            let full = |full: SeriesFull| NoLength::Full { capacity: full.capacity as u32 };
            let travel = counted_on(opened.as_ref(), heard.x(reading));
            series.insert(Sample { travel, level }).map_err(full)?;
        }
        Ok(())
    }
}

/// Around a girth weld, the turn opened where nothing was seen of an indication for longest.
pub(super) fn opened(indication: Indication<'_>) -> Option<Opened> {
    let girth = indication.facts().girth()?;
    Some(girth.opened(indication.readings().map(|reading| reading.x().get())))
}

/// A place along the weld, counted on past the datum where the turn was opened so.
pub(super) fn counted_on(opened: Option<&Opened>, x: Millimetres) -> Millimetres {
    opened.map_or(x, |opened| Millimetres::computed(opened.along(x.get())))
}

fn skew(reading: Pooled<'_>) -> f32 {
    reading.skew().map_or(0.0, |skew| skew.get())
}

/// The tip that a reading followed; an echo and its corner are one reflector.
fn tip(reading: Pooled<'_>) -> Option<PointPeaked> {
    match reading.point() {
        PointPeaked::Echo | PointPeaked::Corner => None,
        tip => Some(tip),
    }
}

/// Whether two depths before reflections are folded in are of one leg: a second scan in another leg lies more than half a
/// thickness away.
fn same_leg(one: Option<f32>, other: Option<f32>, thickness: Option<f32>) -> bool {
    match (one, other, thickness) {
        (Some(one), Some(other), Some(thickness)) => (one - other).abs() <= thickness / 2.0,
        _ => true,
    }
}

impl<'a> Indication<'a> {
    /// Its scans, in the order of their first reading; no more than there is room for.
    #[must_use]
    pub fn scans(self) -> Vec<Scan<'a>, SCANS> {
        let mut found: Vec<Scan<'a>, SCANS> = Vec::new();
        for reading in self.readings() {
            if found.iter().any(|scan| scan.holds(reading)) {
                continue;
            }
            let Some(first) = Scan::by(self, reading) else { continue };
            // Led by its strongest reading, as for the length.
            let led = self.strongest_scan(&found, |other| first.holds(other));
            let scan = led.filter(|scan| scan.holds(reading)).unwrap_or(first);
            if found.push(scan).is_err() {
                break;
            }
        }
        found
    }

    /// The scan with the strongest echo, of readings that these do not hold and that are asked for; the first reading's
    /// where none has a level.
    pub(super) fn strongest_scan(
        self,
        apart_from: &[Scan<'a>],
        asked: impl Fn(Pooled<'a>) -> bool,
    ) -> Option<Scan<'a>> {
        let mut strongest: Option<(f32, Pooled<'a>)> = None;
        for reading in self.readings().filter(|reading| asked(*reading)) {
            let level = self.heard(reading).db();
            let stronger = strongest.is_none_or(|(held, _)| level > held);
            if stronger && !apart_from.iter().any(|scan| scan.holds(reading)) {
                strongest = Some((level, reading));
            }
        }
        strongest.and_then(|(_, reading)| Scan::by(self, reading))
    }

    /// The length along the weld, by the scan that holds the strongest echo.
    ///
    /// # Errors
    /// [`NoLength`] with the reason.
    pub fn length(self, rule: LengthRule) -> Result<Length, NoLength> {
        self.scan_along().ok_or(NoLength::NoSweep)?.length(rule)
    }

    /// The scan along the weld that holds its strongest echo.
    #[must_use]
    pub fn scan_along(self) -> Option<Scan<'a>> {
        self.strongest_scan(&[], along)
    }
}

/// Whether a reading was made while the probe moved along the weld.
pub(super) fn along(reading: Pooled<'_>) -> bool {
    reading.sweep() == Some(Sweep::Along)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sweep_in_the_next_leg_is_another_one() {
        // Half a thickness is 10 mm.
        let same = |one: f32, other: f32| same_leg(Some(one), Some(other), Some(20.0));
        assert!(same(18.0, 28.0) && same(28.0, 18.0));
        assert!(!same(18.0, 28.5));
        assert!(same_leg(Some(18.0), None, Some(20.0)), "what is not known parts nothing");
    }
}
