//! One reading as a comparison takes it: how strong, and where.

use crate::calibration::curve::{Beyond, How, ReferenceGain};
use crate::calibration::level::{Bound, Level, level};
use crate::calibration::transfer::Transfer;
use crate::evaluate::{ReadingFinding, evaluate};
use crate::record::examination::{Facts, Pooled};
use crate::units::Decibels;
use crate::units::decimal::Entered;

/// A reading and its strength.
#[derive(Clone, Copy)]
pub(super) struct Sample<'a> {
    pub finding: ReadingFinding<'a>,
    /// dB, comparable among the readings of one probe: over the reference, whose ends are held; over nothing in
    /// particular for a probe without any reference point.
    pub strength: f32,
    /// Whether the strength is that or a limit of it.
    pub bound: Bound,
}

impl Sample<'_> {
    /// The level over the reference, where that is recorded.
    pub fn level(&self) -> Option<Level> {
        self.finding.level.ok().map(|found| found.level)
    }
}

/// Evaluates a reading; none without a path.
pub(super) fn sample<'a>(facts: &Facts<'a>, reading: Pooled<'a>) -> Option<Sample<'a>> {
    let finding = evaluate(facts, reading);
    let path = finding.path.ok()?;
    let found = match finding.level {
        Ok(found) => found.level,
        Err(_) => {
            let state = facts.probe(reading.probe())?;
            let none = ReferenceGain { gain: const { Decibels::constant(0.0) }, how: How::Flat };
            let reference = state.dac().gain_at(path, Beyond::Hold).unwrap_or(none);
            let transfer = state.transfer().unwrap_or(&Transfer::NONE).at(path).ok()?;
            let height = reading.height().map(Entered::quantity);
            level(height, reading.gain(), &reference, transfer, &facts.common().screen).ok()?
        }
    };
    Some(Sample { finding, strength: found.db.get(), bound: found.bound })
}
