//! What a technique sheet asks for, and its limits.

use super::error::TechniqueError;
use super::ground::{Ground, Grounds};
use crate::units::error::Range;
use crate::units::{Decibels, Degrees, Megahertz, Millimetres, Percent, ScreenPercent};

/// What a technique sheet asks for. A limit that is absent is not asked.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Terms {
    /// Grounds that an accept needs.
    pub asks: Grounds,
    /// Grounds that somebody's word may meet.
    pub stated_ok: Grounds,
    /// Nominal beam angles that may be used; empty for any.
    pub angles: heapless::Vec<Degrees, 8>,
    /// Lowest frequency of a probe.
    pub frequency_from: Option<Megahertz>,
    /// Highest frequency of a probe.
    pub frequency_to: Option<Megahertz>,
    /// How far the angle may be off the nominal one.
    pub angle_within: Option<Degrees>,
    /// How far the index point may be off the marked one.
    pub index_within: Option<Millimetres>,
    /// How far a check of the range may be off, % of the path.
    pub range_within: Option<Percent>,
    /// How far a check of the sensitivity may be off.
    pub sensitivity_within: Option<Decibels>,
    /// Lowest transfer correction.
    pub transfer_from: Option<Decibels>,
    /// Highest transfer correction.
    pub transfer_to: Option<Decibels>,
    /// Longest time from one check to the next, minutes.
    pub check_every: Option<u16>,
    /// Lowest height that a level may be read at.
    pub amplitude_from: Option<ScreenPercent>,
    /// Greatest height that a level may be read at.
    pub amplitude_to: Option<ScreenPercent>,
    /// Least overlap of neighbouring scans, % of the beam.
    pub overlap: Option<Percent>,
    /// Least part of the weld and its heat-affected zone that is covered, %.
    pub coverage: Option<Percent>,
}

const fn range(quantity: &'static str, unit: &'static str, min: f32, max: f32) -> Range {
    Range { quantity, unit, min, max }
}

const ANGLES: Range = Range { quantity: "angles", ..crate::units::limits::ANGLE };
const FREQUENCY: Range = crate::units::limits::FREQUENCY;
const TRANSFER: Range = crate::units::limits::TRANSFER;
const SCREEN: Range = crate::units::limits::SCREEN;

/// What the built-in minimum lets be stated: those of its grounds that can be.
const STATED: Grounds = Grounds::EMPTY
    .with(Ground::RangeCheck)
    .with(Ground::SensitivityCheck)
    .with(Ground::Angle)
    .with(Ground::Reference)
    .with(Ground::Transfer);

/// What the built-in minimum asks for.
pub(super) const ASKED: Grounds = STATED
    .with(Ground::Reach)
    .with(Ground::OnWeld)
    .with(Ground::Thickness)
    .with(Ground::Together)
    .with(Ground::Amplitude)
    .with(Ground::Place);

impl Terms {
    /// The built-in minimum: the first eleven grounds, those that can be stated may be, the transfer correction between
    /// -6 and 12 dB, levels read at 20 to 100 % of the screen. Common practice, no source \[R7\]; the 12 dB are from
    /// memory of ISO 17640 \[R1\].
    pub const MINIMUM: Self = {
        let mut terms = Self::asking(ASKED);
        terms.stated_ok = STATED;
        terms.transfer_from = Some(Decibels::constant(-6.0));
        terms.transfer_to = Some(Decibels::constant(12.0));
        terms.amplitude_from = Some(ScreenPercent::constant(20.0));
        terms.amplitude_to = Some(ScreenPercent::constant(100.0));
        terms
    };

    /// Asks for these grounds, none of which may be stated, without a limit.
    #[must_use]
    pub const fn asking(asks: Grounds) -> Self {
        Self {
            asks,
            stated_ok: Grounds::EMPTY,
            angles: heapless::Vec::new(),
            frequency_from: None,
            frequency_to: None,
            angle_within: None,
            index_within: None,
            range_within: None,
            sensitivity_within: None,
            transfer_from: None,
            transfer_to: None,
            check_every: None,
            amplitude_from: None,
            amplitude_to: None,
            overlap: None,
            coverage: None,
        }
    }

    /// Looks for what contradicts itself, what cannot be, and what has no effect.
    ///
    /// # Errors
    /// [`TechniqueError`]: nothing is asked; a number is out of range; a lower limit is above the upper one; a key is about
    /// a ground that is not asked; a ground may be stated that is not asked or cannot be stated.
    pub fn check(&self) -> Result<(), TechniqueError> {
        if self.asks.is_empty() {
            return Err(TechniqueError::AsksNothing);
        }
        for ground in self.stated_ok.iter() {
            if !self.asks.contains(ground) {
                return Err(TechniqueError::NotAsked { key: "stated-ok", ground });
            }
            if !ground.can_be_stated() {
                return Err(TechniqueError::CannotBeStated(ground));
            }
        }
        self.check_ranges()?;
        self.check_pairs()?;
        self.check_asked()
    }

    fn check_ranges(&self) -> Result<(), TechniqueError> {
        for angle in &self.angles {
            ANGLES.check(angle.get()).map_err(TechniqueError::Range)?;
        }
        let numbers = [
            (self.frequency_from.map(Megahertz::get), Range { quantity: "frequency-from", ..FREQUENCY }),
            (self.frequency_to.map(Megahertz::get), Range { quantity: "frequency-to", ..FREQUENCY }),
            (self.angle_within.map(Degrees::get), range("angle-within", "deg", 0.0, 45.0)),
            (self.index_within.map(Millimetres::get), range("index-within", "mm", 0.0, 100.0)),
            (self.range_within.map(Percent::get), range("range-within", "%", 0.0, 100.0)),
            (self.sensitivity_within.map(Decibels::get), range("sensitivity-within", "dB", 0.0, 100.0)),
            (self.transfer_from.map(Decibels::get), Range { quantity: "transfer-from", ..TRANSFER }),
            (self.transfer_to.map(Decibels::get), Range { quantity: "transfer-to", ..TRANSFER }),
            (self.check_every.map(f32::from), crate::units::limits::CHECK_EVERY),
            (self.amplitude_from.map(ScreenPercent::get), Range { quantity: "amplitude-from", ..SCREEN }),
            (self.amplitude_to.map(ScreenPercent::get), Range { quantity: "amplitude-to", ..SCREEN }),
            (self.overlap.map(Percent::get), range("overlap", "%", 0.0, 99.0)),
            (self.coverage.map(Percent::get), range("coverage", "%", 1.0, 100.0)),
        ];
        for (number, range) in numbers {
            if let Some(number) = number {
                range.check(number).map_err(TechniqueError::Range)?;
            }
        }
        Ok(())
    }

    fn check_pairs(&self) -> Result<(), TechniqueError> {
        let frequency = [self.frequency_from, self.frequency_to].map(|end| end.map(Megahertz::get));
        let transfer = [self.transfer_from, self.transfer_to].map(|end| end.map(Decibels::get));
        let amplitude = [self.amplitude_from, self.amplitude_to].map(|end| end.map(ScreenPercent::get));
        let pairs = [
            ("frequency-from", "frequency-to", frequency, "MHz"),
            ("transfer-from", "transfer-to", transfer, "dB"),
            ("amplitude-from", "amplitude-to", amplitude, "%"),
        ];
        for (from, to, ends, unit) in pairs {
            if let [Some(low), Some(high)] = ends
                && low > high
            {
                return Err(TechniqueError::Crossed { from, low, to, high, unit });
            }
        }
        Ok(())
    }

    /// A limit of a ground that is not asked would be read as one that holds.
    fn check_asked(&self) -> Result<(), TechniqueError> {
        let keys = [
            ("angles", !self.angles.is_empty(), Ground::Angle),
            ("angle-within", self.angle_within.is_some(), Ground::Angle),
            ("index-within", self.index_within.is_some(), Ground::Angle),
            ("transfer-from", self.transfer_from.is_some(), Ground::Transfer),
            ("transfer-to", self.transfer_to.is_some(), Ground::Transfer),
            ("amplitude-from", self.amplitude_from.is_some(), Ground::Amplitude),
            ("amplitude-to", self.amplitude_to.is_some(), Ground::Amplitude),
            ("overlap", self.overlap.is_some(), Ground::Coverage),
            ("coverage", self.coverage.is_some(), Ground::Coverage),
            // Either check will do.
            (
                "check-every",
                self.check_every.is_some() && !self.asks.contains(Ground::SensitivityCheck),
                Ground::RangeCheck,
            ),
        ];
        for (key, given, ground) in keys {
            if given && !self.asks.contains(ground) {
                return Err(TechniqueError::NotAsked { key, ground });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Quantity;
    use std::string::ToString;

    /// Everything asked, so that no limit lacks its ground.
    fn all() -> Terms {
        Terms::asking(Grounds::from_iter(Ground::ALL))
    }

    #[track_caller]
    fn refused(change: impl Fn(&mut Terms), key: &str, text: &str) {
        let mut terms = all();
        assert_eq!(terms.check(), Ok(()));
        change(&mut terms);
        let error = terms.check().unwrap_err();
        assert_eq!((error.key(), error.to_string().as_str()), (key, text));
    }

    fn percent<Q: Quantity>(value: f32) -> Option<Q> {
        Q::checked(value).ok()
    }

    fn db(value: f32) -> Option<Decibels> {
        Some(Decibels::constant(value))
    }

    #[test]
    fn the_minimum_asks_for_the_first_eleven_and_passes_its_own_check() {
        let minimum = Terms::MINIMUM;
        assert!(minimum.asks.iter().eq(Ground::ALL.into_iter().take(11)));
        assert!(minimum.stated_ok.iter().eq(Ground::ALL.into_iter().take(5)));
        assert_eq!(minimum.check(), Ok(()));
    }

    #[test]
    fn a_sheet_that_asks_for_nothing_is_refused() {
        let asks_nothing = |terms: &mut Terms| terms.asks = Grounds::EMPTY;
        let text =
            "the technique sheet asks for nothing; a template is filled in from the procedure in force";
        refused(asks_nothing, "asks", text);
    }

    #[test]
    fn a_lower_limit_above_the_upper_one_is_refused_and_an_equal_one_is_not() {
        let frequency = |low, high| {
            move |terms: &mut Terms| {
                terms.frequency_from = Some(Megahertz::constant(low));
                terms.frequency_to = Some(Megahertz::constant(high));
            }
        };
        let text = "frequency-from 5 MHz is above frequency-to 2 MHz";
        refused(frequency(5.0, 2.0), "frequency-from", text);
        let mut terms = all();
        frequency(4.0, 4.0)(&mut terms);
        assert_eq!(terms.check(), Ok(()));
        let transfer = |terms: &mut Terms| (terms.transfer_from, terms.transfer_to) = (db(6.5), db(-6.0));
        refused(transfer, "transfer-from", "transfer-from 6.5 dB is above transfer-to -6 dB");
        let amplitude =
            |terms: &mut Terms| (terms.amplitude_from, terms.amplitude_to) = (percent(90.0), percent(80.0));
        refused(amplitude, "amplitude-from", "amplitude-from 90 % is above amplitude-to 80 %");
    }

    #[test]
    fn a_key_without_its_ground_is_refused() {
        let without = |ground, change: fn(&mut Terms), key: &str| {
            let both = |terms: &mut Terms| {
                terms.asks = terms.asks.without(ground);
                change(terms);
            };
            refused(both, key, &std::format!("{key} goes only with {ground} in asks"));
        };
        without(Ground::Angle, |terms| terms.angle_within = Some(Degrees::constant(2.0)), "angle-within");
        without(Ground::Angle, |terms| terms.angles.push(Degrees::constant(60.0)).unwrap(), "angles");
        without(Ground::Angle, |terms| terms.index_within = Some(Millimetres::constant(1.0)), "index-within");
        without(Ground::Transfer, |terms| terms.transfer_from = db(-6.0), "transfer-from");
        without(Ground::Transfer, |terms| terms.transfer_to = db(6.0), "transfer-to");
        without(Ground::Amplitude, |terms| terms.amplitude_from = percent(20.0), "amplitude-from");
        without(Ground::Amplitude, |terms| terms.amplitude_to = percent(80.0), "amplitude-to");
        without(Ground::Coverage, |terms| terms.overlap = percent(10.0), "overlap");
        without(Ground::Coverage, |terms| terms.coverage = percent(95.0), "coverage");
    }

    #[test]
    fn a_time_between_checks_needs_either_check_asked() {
        let hours = |asks: Grounds| {
            let mut terms = Terms::asking(asks);
            terms.check_every = Some(240);
            terms.check().map_err(|error| error.to_string())
        };
        assert_eq!(hours(Grounds::EMPTY.with(Ground::RangeCheck)), Ok(()));
        assert_eq!(hours(Grounds::EMPTY.with(Ground::SensitivityCheck)), Ok(()));
        let text = "check-every goes only with range-check in asks";
        assert_eq!(hours(Grounds::EMPTY.with(Ground::Place)), Err(text.to_string()));
    }

    #[test]
    fn what_is_stated_has_to_be_asked_and_open_to_a_statement() {
        let state = |ground| move |terms: &mut Terms| terms.stated_ok = Grounds::EMPTY.with(ground);
        let text = "reach follows from the readings and cannot be stated";
        refused(state(Ground::Reach), "stated-ok", text);
        let unasked = |terms: &mut Terms| {
            terms.asks = terms.asks.without(Ground::Transfer);
            state(Ground::Transfer)(terms);
        };
        refused(unasked, "stated-ok", "stated-ok has transfer, which asks does not have");
    }

    #[test]
    fn a_number_out_of_range_is_named_by_its_key() {
        let every = |minutes| move |terms: &mut Terms| terms.check_every = Some(minutes);
        refused(every(0), "check-every", "check-every 0 min is outside 1 to 1440 min");
        refused(every(1441), "check-every", "check-every 1441 min is outside 1 to 1440 min");
        let mut terms = all();
        every(1440)(&mut terms);
        assert_eq!(terms.check(), Ok(()));
        let range = |terms: &mut Terms| terms.range_within = percent(101.0);
        refused(range, "range-within", "range-within 101 % is outside 0 to 100 %");
        let sensitivity = |terms: &mut Terms| terms.sensitivity_within = db(-0.5);
        refused(sensitivity, "sensitivity-within", "sensitivity-within -0.5 dB is outside 0 to 100 dB");
        let angle = |terms: &mut Terms| terms.angles.push(Degrees::constant(90.0)).unwrap();
        refused(angle, "angles", "angles 90 deg is outside 1 to 89 deg");
        let within = |terms: &mut Terms| terms.angle_within = Some(Degrees::constant(-1.0));
        refused(within, "angle-within", "angle-within -1 deg is outside 0 to 45 deg");
        let index = |terms: &mut Terms| terms.index_within = Some(Millimetres::constant(101.0));
        refused(index, "index-within", "index-within 101 mm is outside 0 to 100 mm");
        let frequency = |terms: &mut Terms| terms.frequency_to = Some(Megahertz::constant(26.0));
        refused(frequency, "frequency-to", "frequency-to 26 MHz is outside 0.2 to 25 MHz");
        let transfer = |terms: &mut Terms| terms.transfer_from = db(-101.0);
        refused(transfer, "transfer-from", "transfer-from -101 dB is outside -100 to 100 dB");
        let amplitude = |terms: &mut Terms| terms.amplitude_from = percent(0.0);
        refused(amplitude, "amplitude-from", "amplitude-from 0 % is outside 1 to 1000 %");
        let overlap = |terms: &mut Terms| terms.overlap = percent(100.0);
        refused(overlap, "overlap", "overlap 100 % is outside 0 to 99 %");
        let coverage = |terms: &mut Terms| terms.coverage = percent(0.0);
        refused(coverage, "coverage", "coverage 0 % is outside 1 to 100 %");
    }
}
