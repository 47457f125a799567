//! How far an indication may go along the weld when all that was seen of it is counted, not its length alone.
//!
//! The length is that of one sweep. Another sweep may go further, and an echo as strong as the ends ask for may lie
//! beyond them: a verdict that would be another by that reach is not borne by the length.

use heapless::Vec;

use super::scan::{SCANS, Scan, along, counted_on, opened};
use super::{Indication, LengthRule, NoLength};
use crate::evaluate::sizing::length::{Length, LengthError};
use crate::math;
use crate::part::girth::Girth;
use crate::units::Millimetres;

/// How far beside its length an echo of it may lie: peaks from two sides differ by some millimetres. Common practice, no
/// source.
const BESIDE: f32 = 10.0;

/// A stretch along the weld; where an end is open it may go on.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Reach {
    pub(crate) start: Millimetres,
    pub(crate) end: Millimetres,
    pub(crate) open_start: bool,
    pub(crate) open_end: bool,
    /// What reaches beyond the length, if anything does.
    pub(crate) by: Option<By>,
}

/// What reaches beyond a length.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) enum By {
    /// Another sweep, by its strongest reading.
    Sweep(u32),
    /// A reading as strong as the ends ask for, and its x.
    Reading(u32, Millimetres),
}

impl Reach {
    /// As far as is known, and no further.
    pub(crate) const fn closed(start: Millimetres, end: Millimetres) -> Self {
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

    pub(crate) const fn is_open(&self) -> bool {
        self.open_start || self.open_end
    }

    /// The same stretch so many mm further along.
    pub(crate) fn shifted(self, by: f32) -> Self {
        let shift = |x: Millimetres| Millimetres::computed(x.get() + by);
        Self { start: shift(self.start), end: shift(self.end), ..self }
    }

    /// Around a girth weld, the same stretch as many turns on as bring it nearest to another.
    pub(crate) fn beside(self, other: &Self, around: Option<Girth>) -> Self {
        let middle = |reach: &Self| 0.5 * (reach.start.get() + reach.end.get());
        let Some(girth) = around else { return self };
        let turns = math::floor((middle(other) - middle(&self)) / girth.circumference() + 0.5);
        self.shifted(turns * girth.circumference())
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
#[inline(never)]
pub(super) fn reach(indication: Indication<'_>, rule: LengthRule) -> Result<(Length, Reach), NoLength> {
    let measured = indication.scan_along().ok_or(NoLength::NoSweep)?;
    let length = measured.length(rule)?;
    let mut reach = Reach::of(&length, None);
    let mut scans: Vec<Scan<'_>, SCANS> = Vec::new();
    let _ = scans.push(measured);
    while let Some(scan) = indication.strongest_scan(&scans, along) {
        let by = Some(By::Sweep(scan.strongest().number()));
        let told_apart = scans.push(scan).map_err(|_| NoLength::Full { capacity: SCANS as u32 });
        match told_apart.and_then(|()| scan.length(rule)) {
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
    let (scanned, opened) = (reach, opened(indication));
    for reading in indication.readings() {
        let heard = indication.heard(reading);
        let x = counted_on(opened.as_ref(), heard.x(reading));
        if !scanned.is_beside(x) && heard.level.is_some_and(|(level, _)| level.may_reach(asked)) {
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
