//! The classification standard's stages in its order, each with its threshold and where that comes from.
//!
//! ```text
//! 1   highest level against S1: below, not classified
//! 2   against S2: at or over, planar
//! 3   against S3: at or over, two directions are compared; a difference of D and more, planar
//! 4   shape of the echo beside that of a hole: single and smooth, not planar
//! 5   pattern of the echo dynamics: 3a or 3b planar or doubtful, 4 not planar
//! ```
//!
//! \[R15\]: titles and order of the stages from its table of contents, thresholds from memory. The standard itself
//! governs; so does its scope, embedded indications, and those at a face after the cap was removed. The project holds
//! no licensed text of it, so every threshold can be set.

use core::fmt;

use super::case::Case;
use super::direction::extremes;
use super::evidence::{Pattern, PatternSeen};
use super::moving::Moved;
use super::next::Next;
use crate::calibration::level::Bound;
use crate::math;
use crate::record::entry::Sweep;
use crate::units::decimal::Fixed;
use crate::units::{Decibels, Degrees};

/// The number of the last stage.
const LAST: u8 = 5;

/// Where a threshold comes from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Provenance {
    /// From memory of the standard; to be held against its text.
    Memory,
    /// Given by the user.
    Given,
}

/// A threshold and where it comes from.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Threshold {
    /// dB.
    pub level: Decibels,
    /// Where it comes from.
    pub provenance: Provenance,
}

impl Threshold {
    const fn from_memory(level: f32) -> Self {
        Self { level: Decibels::constant(level), provenance: Provenance::Memory }
    }

    /// One that the user gives.
    #[must_use]
    pub const fn given(level: Decibels) -> Self {
        Self { level, provenance: Provenance::Given }
    }
}

impl fmt::Display for Threshold {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let from = match self.provenance {
            Provenance::Memory => "from memory",
            Provenance::Given => "as given",
        };
        write!(f, "{} dB {from}", Fixed(self.level.get(), 1))
    }
}

/// The thresholds of the stages.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Thresholds {
    /// S1: the evaluation level, over the reference.
    pub evaluation: Threshold,
    /// S2: planar from here up.
    pub planar: Threshold,
    /// S3: directions are compared from here up.
    pub compared: Threshold,
    /// Difference of levels between two directions of a shear wave that makes a reflector planar.
    pub difference: Threshold,
    /// The least angle between the two directions.
    pub apart: Degrees,
}

impl Thresholds {
    /// From memory of ISO 23279 and, for the evaluation level, of ISO 11666 acceptance level 2 with side-drilled holes.
    pub const DEFAULT: Self = Self {
        evaluation: Threshold::from_memory(-14.0),
        planar: Threshold::from_memory(6.0),
        compared: Threshold::from_memory(-6.0),
        difference: Threshold::from_memory(9.0),
        apart: Degrees::constant(10.0),
    };
}

impl Default for Thresholds {
    fn default() -> Self {
        Self::DEFAULT
    }
}

/// How the standard would class it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Class {
    /// Not classified.
    NotClassified,
    /// Planar.
    Planar,
    /// Not planar.
    NotPlanar,
}

/// What a stage found.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Outcome {
    /// The next stage decides.
    Passed,
    /// The level is too low for this stage: it is left out.
    LeftOut,
    /// This stage decides.
    Stopped(Class),
    /// It lacks this reading.
    NotAnswerable(Next),
    /// An earlier stage decided.
    NotReached,
}

/// What a stage looked at.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Asked {
    /// The highest level against a threshold.
    Level {
        /// The level, where there is one.
        level: Option<f32>,
        /// The threshold.
        threshold: Threshold,
    },
    /// The difference between two directions.
    Difference {
        /// The highest level, the lowest, and the angle between the two.
        levels: Option<(f32, f32, f32)>,
        /// From here up the directions are compared at all.
        from: Threshold,
        /// The threshold of the difference.
        threshold: Threshold,
    },
    /// The shape of the echo on the screen.
    EchoShape,
    /// The pattern of a series across the weld.
    Pattern(Option<PatternSeen>),
}

/// One stage.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Stage {
    /// Its number in the standard's order, from 1.
    pub number: u8,
    /// What it looked at.
    pub asked: Asked,
    /// What it found.
    pub outcome: Outcome,
}

impl Stage {
    /// Nothing looked at yet.
    pub(super) const NONE: [Self; 5] = [Self {
        number: 0,
        asked: Asked::Level { level: None, threshold: Thresholds::DEFAULT.evaluation },
        outcome: Outcome::Passed,
    }; 5];
}

/// The five stages of an indication.
pub(super) fn stages(case: &Case<'_>, thresholds: &Thresholds) -> [Stage; 5] {
    let highest =
        case.echoes.iter().filter_map(|echo| echo.level).filter(|level| level.bound != Bound::AtMost);
    let highest = math::largest_by(highest, |level| level.db);
    let level = highest.map(|level| level.db.get());
    let exact = highest.is_none_or(|level| level.bound == Bound::Exact);
    let against = |threshold: Threshold| Asked::Level { level, threshold };
    let Thresholds { evaluation, planar, compared, difference, apart } = *thresholds;
    // A level that is only 'at least' cannot be known to lie under a threshold.
    let below = |threshold: Threshold| level.map(|level| level < threshold.level.get());
    let unknown = |threshold: Threshold| level.is_none() || (!exact && below(threshold) == Some(true));

    let first = if unknown(evaluation) {
        Outcome::NotAnswerable(Next::level(case))
    } else if below(evaluation) == Some(true) {
        Outcome::Stopped(Class::NotClassified)
    } else {
        Outcome::Passed
    };
    let second = if unknown(planar) {
        Outcome::NotAnswerable(Next::level(case))
    } else if below(planar) == Some(false) {
        Outcome::Stopped(Class::Planar)
    } else {
        Outcome::Passed
    };
    let pair = extremes(&case.directions, apart.get());
    let levels = pair.map(|(high, low, between)| (high.level, low.level, between));
    let third = match levels {
        _ if unknown(compared) => Outcome::NotAnswerable(Next::level(case)),
        _ if below(compared) == Some(true) => Outcome::LeftOut,
        Some((high, low, _)) if high - low >= difference.level.get() => Outcome::Stopped(Class::Planar),
        Some(_) => Outcome::Passed,
        None => Outcome::NotAnswerable(Next::another_direction(case)),
    };
    let seen = case.moved.iter().filter_map(|moved| match moved {
        Moved::Across(seen) => Some(*seen),
        _ => None,
    });
    // The class that says most.
    let rank = |seen: &PatternSeen| match seen.pattern {
        Pattern::RoughNormal | Pattern::RoughTravelling => 3,
        Pattern::Cluster => 2,
        Pattern::SmoothExtended => 1,
        Pattern::Point => 0,
    };
    let pattern = math::largest_by(seen, rank);
    let fifth = match pattern.map(|seen| seen.pattern) {
        Some(Pattern::RoughNormal | Pattern::RoughTravelling) => Outcome::Stopped(Class::Planar),
        Some(Pattern::Cluster) => Outcome::Stopped(Class::NotPlanar),
        Some(_) => Outcome::Passed,
        None => Outcome::NotAnswerable(Next::sweep(case, Sweep::Across)),
    };
    let asked = [
        (against(evaluation), first),
        (against(planar), second),
        (Asked::Difference { levels, from: compared, threshold: difference }, third),
        (Asked::EchoShape, Outcome::NotAnswerable(Next::EchoShape)),
        (Asked::Pattern(pattern), fifth),
    ];
    let mut decided = false;
    let mut number = 0u8;
    asked.map(|(asked, outcome)| {
        number = number.saturating_add(1);
        let outcome = if decided { Outcome::NotReached } else { outcome };
        decided |= matches!(outcome, Outcome::Stopped(_));
        Stage { number, asked, outcome }
    })
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotClassified => "not classified",
            Self::Planar => "planar",
            Self::NotPlanar => "not planar",
        })
    }
}

impl fmt::Display for Asked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Level { level: Some(level), threshold } => {
                write!(f, "highest level {} dB, threshold {threshold}", Fixed(*level, 1))
            }
            Self::Level { level: None, threshold } => write!(f, "no level, threshold {threshold}"),
            Self::Difference { levels: Some((high, low, between)), from, threshold } => write!(
                f,
                "{} and {} dB from directions {} deg apart, difference {} dB, threshold {threshold}; from {from} up",
                Fixed(*high, 1),
                Fixed(*low, 1),
                Fixed(*between, 0),
                Fixed(high - low, 1)
            ),
            Self::Difference { levels: None, from, threshold } => {
                write!(f, "one direction only, threshold {threshold}; from {from} up")
            }
            Self::EchoShape => f.write_str("shape of the echo beside that of a 3 mm hole"),
            Self::Pattern(Some(seen)) => seen.fmt(f),
            Self::Pattern(None) => f.write_str("no pattern of a series across the weld"),
        }
    }
}

impl fmt::Display for Stage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "stage {}: {}: ", self.number, self.asked)?;
        match self.outcome {
            Outcome::Passed if self.number == LAST => {
                f.write_str("undecided; a complementary examination decides")
            }
            Outcome::Passed => f.write_str("goes on to the next"),
            Outcome::LeftOut => f.write_str("left out, the level is too low for it"),
            Outcome::Stopped(class) => write!(f, "stopped, {class}"),
            Outcome::NotAnswerable(next) => write!(f, "not answerable; {next} would answer it"),
            Outcome::NotReached => f.write_str("not reached"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::{case, direction, echo, job, level};
    use super::*;
    use crate::part::side::Side;

    /// What the stages find of a level, and of levels from two directions.
    fn found<const N: usize>(highest: f32, directions: [f32; N]) -> [Outcome; 5] {
        let job = job([45.0]);
        let facts = job.facts();
        let echo = super::super::echo::Echo { level: level(highest), ..echo(&facts, 0, Side::A) };
        let mut case = case(&facts, &[echo], &[]);
        let levels = [45.0, -45.0].into_iter().zip(directions);
        case.directions.extend(levels.map(|(from, level)| direction(from, Side::A, level)));
        stages(&case, &Thresholds::DEFAULT).map(|stage| stage.outcome)
    }

    #[test]
    fn a_level_at_a_threshold_has_reached_it() {
        let [first, ..] = found(-14.5, []);
        assert_eq!(first, Outcome::Stopped(Class::NotClassified));
        let [first, second, third, ..] = found(-14.0, []);
        assert_eq!([first, second, third], [Outcome::Passed, Outcome::Passed, Outcome::LeftOut]);
        let [_, second, ..] = found(6.0, []);
        assert_eq!(second, Outcome::Stopped(Class::Planar));
        let [_, second, third, ..] = found(5.5, []);
        assert_eq!(second, Outcome::Passed);
        assert!(matches!(third, Outcome::NotAnswerable(_)));
    }

    #[test]
    fn two_directions_9_decibels_apart_are_those_of_a_plane_from_6_decibels_under_the_reference() {
        let third = |highest, least| {
            let [_, _, third, ..] = found(highest, [highest, least]);
            third
        };
        assert_eq!(third(-6.0, -15.0), Outcome::Stopped(Class::Planar));
        assert_eq!(third(-6.0, -14.5), Outcome::Passed);
        assert_eq!(third(-6.5, -20.0), Outcome::LeftOut);
    }
}
