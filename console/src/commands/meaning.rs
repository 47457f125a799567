//! What a line says: a fact, or a question.

#[cfg(feature = "planning")]
use halfskip::record::entry::Side;
use halfskip::record::entry::{Entry, Name};
#[cfg(feature = "planning")]
use halfskip::units::Millimetres;
use halfskip::units::decimal::Entered;
use halfskip::units::{Decibels, Degrees};

#[cfg(feature = "planning")]
pub use crate::language::values::Faces;

/// What a line says.
#[derive(Clone, PartialEq, Debug)]
#[expect(
    clippy::large_enum_variant,
    reason = "a line is taken apart at once, and there is no heap to box into"
)]
pub enum Line {
    /// A fact to be recorded.
    Fact(Entry),
    /// A question; it changes nothing.
    Question(Question),
}

/// What can be asked.
#[derive(Clone, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum Question {
    /// `beam NAME`: the probe's near field, beam angles and refraction.
    Beam(Name),
    /// `plan [legs=2] [face=near] [pulse-rate=.. pulses=..]`: the scan plan.
    #[cfg(feature = "planning")]
    Plan {
        /// The last leg that may be used.
        legs: u32,
        /// The faces scanned; `None` is the near one, and the far one where readings were taken there.
        faces: Option<Faces>,
        /// Pulses a second of the instrument.
        pulse_rate: Option<u32>,
        /// Pulses wanted on each step.
        pulses: Option<u32>,
    },
    /// `coverage [legs=2] [face=near]`: how much of the weld the probes in force can cross, and what the readings crossed.
    #[cfg(feature = "planning")]
    Coverage {
        /// The last leg that may be used.
        legs: u32,
        /// The faces scanned, as of a plan.
        faces: Option<Faces>,
    },
    /// `expect NAME side=a [legs=2]`: where geometry will echo.
    #[cfg(feature = "planning")]
    Expect {
        /// The probe.
        probe: Name,
        /// The side that it stands on.
        side: Side,
        /// The last leg that may be used.
        legs: u32,
    },
    /// `section [probe=NAME side=a [standoff=..] [legs=2]]`: the cross-section drawn, with one beam.
    #[cfg(feature = "planning")]
    Section {
        /// The probe and the side that it stands on.
        beam: Option<(Name, Side)>,
        /// Where it stands.
        standoff: Option<Entered<Millimetres>>,
        /// The last leg drawn.
        legs: u32,
    },
    /// `curve NAME`: the probe's reference curve with its readings, drawn.
    #[cfg(feature = "plots")]
    Curve(Name),
    /// `along`: the indications along the weld, drawn.
    #[cfg(feature = "plots")]
    Along,
    /// `dynamic ID`: the echo-dynamic curves, drawn.
    #[cfg(feature = "plots")]
    Dynamic(Name),
    /// `locate`: every reading's place.
    Locate,
    /// `size ID`: length and height.
    Size(Name),
    /// `sides ID`: both sides compared.
    Sides(Name),
    /// `nature ID [evaluation=..] [planar=..] [compared=..] [difference=..] [apart=..]`: character, with its evidence.
    #[cfg(feature = "character")]
    Nature(Name, Stages),
    /// `rate ID`: the verdict of the sheet.
    Rate(Name),
    /// `margin ID`: how far from the nearest limit.
    #[cfg(feature = "reasons")]
    Margin(Name),
    /// `why ID`: the whole derivation.
    #[cfg(feature = "reasons")]
    Why(Name),
    /// `findings`: what the examination says now.
    Findings,
    /// `grounds [ID]`: what an accept rests on.
    Grounds(Option<Name>),
    /// `list`: the entries.
    List,
    /// `status`: what is set, and what is missing.
    Status,
    /// `help [verb]`: the verbs, or one of them.
    Help(Option<&'static str>),
}

/// The thresholds that `nature ID` was given for the classification standard's stages; the others are the core's defaults.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stages {
    /// Stage 1: classified from this level up.
    pub evaluation: Option<Entered<Decibels>>,
    /// Stage 2: planar from this level up.
    pub planar: Option<Entered<Decibels>>,
    /// Stage 3: directions are compared from this level up.
    pub compared: Option<Entered<Decibels>>,
    /// Stage 3: the difference that a plane makes.
    pub difference: Option<Entered<Decibels>>,
    /// Stage 3: the least angle between two directions.
    pub apart: Option<Entered<Degrees>>,
}
