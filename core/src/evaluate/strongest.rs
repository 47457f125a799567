//! The strongest level of an indication.

use super::{Indication, ReadingFinding, Undetermined, evaluate};
use crate::calibration::level::{Bound, Level};
use crate::record::examination::Pooled;

/// The strongest level, and what stands in the way of calling it that.
#[derive(Clone, Copy)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Strongest<'a> {
    /// The reading that gave it.
    pub finding: ReadingFinding<'a>,
    /// The level; `AtLeast` also when another reading is only known to be at least as strong as something.
    pub level: Level,
    /// The first reading that left the screen, if one did.
    pub over: Option<Pooled<'a>>,
    /// A reading that has no level, and why: the strongest may be that one.
    pub without_level: Option<(u32, Undetermined)>,
}

impl<'a> Indication<'a> {
    /// The strongest level; none when no reading has a level.
    ///
    /// Exact and at-least levels compete by their value. One at-least reading makes the answer at-least, since it may be
    /// stronger than any exact one. At-most readings answer only when there is nothing else.
    ///
    /// # Errors
    /// The first reading without a level and its reason, when no reading has one.
    pub fn level(self) -> Result<Strongest<'a>, Option<(u32, Undetermined)>> {
        let mut best: Option<(Pooled<'a>, Level)> = None;
        let mut without = None;
        let mut over = None;
        for reading in self.readings() {
            let Some((level, _)) = self.heard(reading).level else {
                without = without.or(Some(reading));
                continue;
            };
            if level.bound == Bound::AtLeast {
                over = over.or(Some(reading));
            }
            if best.as_ref().is_none_or(|(_, held)| stronger(&level, held)) {
                best = Some((reading, level));
            }
        }
        let reason =
            |reading: Pooled<'_>| Some((reading.number(), evaluate(self.facts(), reading).level.err()?));
        let without_level = without.and_then(reason);
        let (reading, mut level) = best.ok_or(without_level)?;
        if over.is_some() {
            level.bound = Bound::AtLeast;
        }
        Ok(Strongest { finding: evaluate(self.facts(), reading), level, over, without_level })
    }
}

/// Seen beats not seen; among equals the higher value wins, and the earlier reading keeps a tie.
fn stronger(level: &Level, held: &Level) -> bool {
    let seen = |level: &Level| level.bound != Bound::AtMost;
    match (seen(level), seen(held)) {
        (true, false) => true,
        (false, true) => false,
        _ => level.db > held.db,
    }
}
