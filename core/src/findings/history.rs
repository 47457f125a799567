//! Whether a reading lies between a good check and another.
//!
//! A check speaks for the readings between the last good check and itself. What was measured of a calibration counts as
//! the first check of its day. A new calibration does not speak for what was read before it.

use crate::record::entry::{Clock, Date};
use crate::record::examination::{Day, Event, EventKind, Facts};

/// What of a calibration is asked about.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Aspect {
    /// The range: where the time base puts a known path.
    Range,
    /// The sensitivity: the gain that a reference takes.
    Sensitivity,
}

impl Aspect {
    /// The line of a calibration that it rests on.
    pub(super) const fn calibration(self) -> EventKind {
        match self {
            Self::Range => EventKind::Timebase,
            Self::Sensitivity => EventKind::Reference,
        }
    }

    const fn of(self, event: &Event) -> Option<bool> {
        match self {
            Self::Range => event.range,
            Self::Sensitivity => event.level,
        }
    }
}

/// What the checks say of a reading.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Checked {
    /// It lies between a good check, or what was measured that day, and a good check of that day.
    Good {
        /// The entry before it.
        before: u32,
        /// The check after it.
        after: u32,
    },
    /// The nearest check before or after it was out of its limits.
    Failed {
        /// The check.
        number: u32,
        /// Whether it was voided, and no good one followed on the same calibration.
        void: bool,
    },
    /// Nothing of that day before it was good.
    NotBefore,
    /// No good check of that day follows it.
    NotAfter,
    /// The calibration was made anew after it, and it is worked out with the new one.
    Anew {
        /// The new calibration.
        entry: u32,
    },
    /// The checks before and after it are further apart than the technique allows.
    Late {
        /// The entry before it.
        before: u32,
        /// The check after it.
        after: u32,
        /// Minutes between them.
        minutes: u16,
    },
    /// The check after it has an earlier time than the one before.
    Backwards {
        /// The entry before it.
        before: u32,
        /// The check after it.
        after: u32,
    },
    /// There were more checks or days than can be held.
    Lost,
}

/// What the checks of a probe say of entry `number`.
#[must_use]
pub fn checked(facts: &Facts<'_>, number: u32, probe: u8, aspect: Aspect) -> Checked {
    let common = facts.common();
    let events =
        || common.history.iter().filter(move |event| event.probe == probe && aspect.of(event).is_some());
    // A voided check that failed counts until a good one follows on the same calibration.
    let cleared = |failed: &Event| {
        let mut next =
            common.history.iter().filter(|event| event.probe == probe && event.number > failed.number);
        let says = |event: &&Event| match event.kind {
            EventKind::Check => !event.void && aspect.of(event).is_some(),
            _ => true,
        };
        next.find(says).is_some_and(|event| event.kind == EventKind::Check && aspect.of(event) == Some(true))
    };
    let counts = |event: &&Event| match (event.void, event.kind) {
        (false, _) => true,
        (true, EventKind::Check) => !cleared(event),
        (true, _) => false,
    };
    let failed = |event: &&Event| aspect.of(event) == Some(false);
    let last = events().filter(|event| event.number < number).rfind(counts);
    let next = events().filter(|event| event.number > number && event.kind == EventKind::Check).find(counts);
    if let Some(event) = last.filter(failed).or(next.filter(failed)) {
        return Checked::Failed { number: event.number, void: event.void };
    }
    if common.history_lost {
        return Checked::Lost;
    }
    let day = date(&common.days, number);
    let that_day = |event: &&Event| date(&common.days, event.number) == day;
    let Some(last) = last.filter(that_day) else { return Checked::NotBefore };
    if let Some(entry) = made_anew(facts, number, probe, aspect.calibration()) {
        return Checked::Anew { entry };
    }
    let Some(next) = next.filter(that_day) else { return Checked::NotAfter };
    let (before, after) = (last.number, next.number);
    let good = Checked::Good { before, after };
    let (Some(from), Some(to)) = (time(&common.days, last), next.time) else { return good };
    match (to.minutes().checked_sub(from.minutes()), facts.technique().check_every) {
        (None, _) => Checked::Backwards { before, after },
        (Some(minutes), Some(allowed)) if minutes > allowed => Checked::Late { before, after, minutes },
        _ => good,
    }
}

/// The first line of a probe's calibration of this kind that was recorded after entry `number`, where one from before it
/// was voided: what was read before it is worked out with what nobody had then.
#[must_use]
pub fn made_anew(facts: &Facts<'_>, number: u32, probe: u8, kind: EventKind) -> Option<u32> {
    let events =
        || facts.common().history.iter().filter(move |event| event.probe == probe && event.kind == kind);
    events().any(|event| event.void && event.number < number).then_some(())?;
    events().find(|event| !event.void && event.number > number).map(|event| event.number)
}

/// The day of an entry; what comes before the first date is of its day too. None where no day is recorded.
fn date(days: &[Day], number: u32) -> Option<Date> {
    day(days, number).map(|day| day.date)
}

fn day(days: &[Day], number: u32) -> Option<&Day> {
    days.iter().rev().find(|day| day.number < number).or(days.first())
}

/// When an event was, in minutes since midnight: as the check says; of a calibration, when the day's work began.
fn time(days: &[Day], event: &Event) -> Option<Clock> {
    match event.kind {
        EventKind::Check => event.time,
        _ => day(days, event.number)?.time,
    }
}
