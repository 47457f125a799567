//! Readings that rest on a calibration that was found out of tolerance.

use core::fmt;

use super::{Aspect, Checked, checked};
use crate::record::examination::{Facts, Pooled};

/// Why a reading is suspect.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Suspicion {
    /// An in-service check was out of its limits; the readings since the last good one are suspect, and those after it
    /// until the next good one.
    Check {
        /// The entry of the failed check.
        number: u32,
    },
    /// A check that failed was voided, and no good one followed on the same calibration.
    VoidedCheck {
        /// The entry of the failed check.
        number: u32,
    },
    /// There were more in-service checks than can be held.
    ChecksLost,
    /// A linearity check of the equipment was out of its window.
    Linearity {
        /// Its entry.
        number: u32,
    },
    /// The probe was declared anew as another one, while references of the voided one still stand.
    Remade {
        /// The entry that declared it anew.
        number: u32,
    },
    /// The time base misses its own echoes by more than the path tolerance.
    Timebase,
    /// The measured angle is off the nominal one by more than the angle tolerance.
    Angle,
    /// The stated angle is off the nominal one by more than the angle tolerance.
    StatedAngle,
    /// The index point is off its mark by more than the index tolerance.
    Index,
}

impl fmt::Display for Suspicion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Check { number } => write!(f, "the check of entry {number} is not within its limits"),
            Self::VoidedCheck { number } => write!(
                f,
                "the check of entry {number} was not within its limits; it was voided, and no good check on the same \
                 calibration followed"
            ),
            Self::ChecksLost => f.write_str(
                "checks out of their limits and within them took turns more often than can be held: it is not known which \
                 readings lie beside a failed one",
            ),
            Self::Linearity { number } => {
                write!(f, "the linearity check of entry {number} is out of its window")
            }
            Self::Remade { number } => write!(
                f,
                "entry {number} declares the probe anew, otherwise than before, and references recorded before it still \
                 stand: void them, and record them again with this probe"
            ),
            Self::Timebase => f.write_str("the time base misses its echoes by more than the path tolerance"),
            Self::Angle => {
                f.write_str("the measured angle is off the nominal one by more than the tolerance")
            }
            Self::StatedAngle => {
                f.write_str("the stated angle is off the nominal one by more than the tolerance")
            }
            Self::Index => f.write_str("the index point is off its mark by more than the tolerance"),
        }
    }
}

/// The first reason why a reading is suspect; none when no recorded check speaks against it.
#[must_use]
pub fn suspicion(facts: &Facts<'_>, reading: Pooled<'_>) -> Option<Suspicion> {
    for aspect in [Aspect::Range, Aspect::Sensitivity] {
        if let Checked::Failed { number, void } = checked(facts, reading.number(), reading.probe(), aspect) {
            return Some(if void { Suspicion::VoidedCheck { number } } else { Suspicion::Check { number } });
        }
    }
    if facts.common().history_lost {
        return Some(Suspicion::ChecksLost);
    }
    if let Some(number) = facts.common().failed_linearity.first() {
        return Some(Suspicion::Linearity { number: *number });
    }
    suspicion_of_probe(facts, reading.probe())
}

/// What the calibration of a probe itself says against it.
#[must_use]
pub fn suspicion_of_probe(facts: &Facts<'_>, probe: u8) -> Option<Suspicion> {
    let state = facts.probe(probe)?;
    if let Some(number) = state.remade() {
        return Some(Suspicion::Remade { number });
    }
    let budget = &facts.common().budget;
    if state.timebase().and_then(|fit| fit.verdict(budget.path)) == Some(false) {
        return Some(Suspicion::Timebase);
    }
    let technique = facts.technique();
    let (angle_within, within) =
        (technique.angle_within.unwrap_or(budget.angle), technique.index_within.unwrap_or(budget.index));
    let (angle, probe) = (state.angle_as_marked()?, state.probe()?);
    let angle_off = (angle.get() - probe.nominal().get()).abs() > angle_within.get();
    if state.angle_stated().is_some() {
        if angle_off {
            return Some(Suspicion::StatedAngle);
        }
        let off = state.index().get().abs() > within.get();
        return off.then_some(Suspicion::Index);
    }
    let check = state.angle_check()?;
    if angle_off {
        return Some(Suspicion::Angle);
    }
    (check.index_verdict(within) == Some(false)).then_some(Suspicion::Index)
}
