//! What spoils a case, and what it is about.

use halfskip::acceptance::technique::Ground;

use super::case::Case;
use super::spoil::{angle, blocked, checks, grounds, length, reference, screen};
use crate::drawn::Drawn;

/// Names the faults, each with the ground that it takes away; none where another reason stands against it.
macro_rules! faults {
    ($($name:ident: $ground:expr,)*) => {
        /// One needed thing that is missing, out of tolerance, saturated, open, contradictory or out of range.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
        #[expect(missing_docs, reason = "the name says it")]
        pub enum Fault { $($name,)* }

        impl Fault {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// The ground that it takes away.
            #[must_use]
            pub const fn ground(self) -> Option<Ground> {
                match self { $(Self::$name => $ground,)* }
            }
        }
    };
}

faults! {
    NoSheet: None,
    NoReading: None,
    VoidReference: None,
    AnotherProbeOfTheName: None,
    PathsBeyondTheCurve: None,
    OneReadingBeyondTheCurve: None,
    OneReadingWithoutReference: None,
    OverTheScreen: None,
    AboveTheScreen: None,
    UnseenAtLittleGain: None,
    NeverSeen: None,
    TimeBaseOff: None,
    NoSweep: None,
    OpenStart: None,
    OpenEnds: None,
    RisesAgain: None,
    NeighbourWithoutLength: None,
    WithoutLengthBesideANeighbour: None,
    OpenTowardsANeighbour: None,
    LongerSweep: None,
    EchoBeyondTheLength: None,
    ThicknessOutsideTheSheet: None,
    NoChecks: Some(Ground::RangeCheck),
    NoCheckBefore: Some(Ground::RangeCheck),
    NoCheckAfter: Some(Ground::RangeCheck),
    CheckedTheDayBefore: Some(Ground::RangeCheck),
    CheckedTheDayAfter: Some(Ground::RangeCheck),
    RangeOff: Some(Ground::RangeCheck),
    TimeBaseAnew: Some(Ground::RangeCheck),
    ChecksApart: Some(Ground::RangeCheck),
    ChecksBackwards: Some(Ground::RangeCheck),
    NoLevelBefore: Some(Ground::SensitivityCheck),
    NoLevelAfter: Some(Ground::SensitivityCheck),
    LevelOff: Some(Ground::SensitivityCheck),
    FailedCheckVoided: Some(Ground::SensitivityCheck),
    FailedThenAnew: Some(Ground::SensitivityCheck),
    PointAnew: Some(Ground::SensitivityCheck),
    NoAngle: Some(Ground::Angle),
    AngleByWord: Some(Ground::Angle),
    AngleOff: Some(Ground::Angle),
    StatedAngleOff: Some(Ground::Angle),
    IndexOff: Some(Ground::Angle),
    AngleNotInTheTechnique: Some(Ground::Angle),
    FrequencyNotInTheTechnique: Some(Ground::Angle),
    TemperatureUnknown: Some(Ground::Angle),
    NoReference: Some(Ground::Reference),
    Dip: Some(Ground::Reference),
    Bump: Some(Ground::Reference),
    HolesMixed: Some(Ground::Reference),
    HolesUnnamed: Some(Ground::Reference),
    PointsApart: Some(Ground::Reference),
    OnePointTooNear: Some(Ground::Reference),
    OnePointInTheNearField: Some(Ground::Reference),
    CarriedOnByWord: Some(Ground::Reference),
    NoTransfer: Some(Ground::Transfer),
    TransferTooLow: Some(Ground::Transfer),
    TransferTooHigh: Some(Ground::Transfer),
    TransferByWord: Some(Ground::Transfer),
    SideNotReached: Some(Ground::Reach),
    WiderCap: Some(Ground::Reach),
    OnTheCap: Some(Ground::Reach),
    BesideTheWeld: Some(Ground::OnWeld),
    SkewedAway: Some(Ground::OnWeld),
    OtherThickness: Some(Ground::Thickness),
    PeakFarAlong: Some(Ground::Together),
    AnotherFarAlong: Some(Ground::Together),
    SweepFarAlong: Some(Ground::Together),
    ReadTooLow: Some(Ground::Amplitude),
    ReadTooHigh: Some(Ground::Amplitude),
    GainAbsurd: Some(Ground::Amplitude),
    NoJoint: Some(Ground::Place),
    VoidJoint: Some(Ground::Place),
    VoidProbe: Some(Ground::Place),
    SidesContradict: Some(Ground::Place),
    TipsTiedToNothing: Some(Ground::Place),
    NoScreenLinearity: Some(Ground::Linearity),
    NoGainLinearity: Some(Ground::Linearity),
    LinearityOff: Some(Ground::Linearity),
    NoParentMetal: Some(Ground::ParentMetal),
    NotMoved: Some(Ground::Coverage),
    MovedAtOnePlace: Some(Ground::Coverage),
    MovedSkewed: Some(Ground::Coverage),
}

use Fault::*;

impl Fault {
    /// Whether it takes away what the case's sheets need.
    #[must_use]
    pub fn matters(self, case: &Case) -> bool {
        self.spoil(&mut case.clone(), &mut Drawn::seeded(0))
    }

    /// Whether a record is borne for all these faults: of an echo that left the screen, the others seen or not, it is
    /// known that it is over the level from which that sheet records, and how long it is, without which the sheet
    /// rejects nothing.
    #[must_use]
    pub fn bear_a_record(faults: &[Self], case: &Case) -> bool {
        let off = |fault: &Self| matches!(fault, OverTheScreen | AboveTheScreen);
        case.sheet == "level-length.toml"
            && faults.iter().any(off)
            && faults.iter().all(|fault| off(fault) || *fault == NeverSeen)
    }

    /// When it has its turn among several: what takes readings away comes after what picks among them, and voids name
    /// entries that must not change any more.
    #[must_use]
    pub const fn turn(self) -> u8 {
        match self {
            NoReading | NoSweep | OpenStart | OpenEnds | WithoutLengthBesideANeighbour | NoReference => 1,
            VoidJoint
            | VoidProbe
            | VoidReference
            | AnotherProbeOfTheName
            | TimeBaseAnew
            | PointAnew
            | FailedCheckVoided
            | FailedThenAnew => 2,
            _ => 0,
        }
    }

    /// Spoils the case; tells whether there was something to be spoiled that its sheets need.
    pub fn spoil(self, case: &mut Case, drawn: &mut Drawn) -> bool {
        if self.ground().is_some_and(|ground| !case.asks(ground)) {
            return false;
        }
        let topic = match self {
            NoSweep
            | OpenStart
            | OpenEnds
            | RisesAgain
            | NeighbourWithoutLength
            | WithoutLengthBesideANeighbour
            | OpenTowardsANeighbour
            | LongerSweep
            | EchoBeyondTheLength => length::spoil,
            OverTheScreen | AboveTheScreen | UnseenAtLittleGain | NeverSeen | ReadTooLow | ReadTooHigh
            | GainAbsurd => screen::spoil,
            _ => match self.ground() {
                None | Some(Ground::Place) => blocked::spoil,
                Some(Ground::RangeCheck | Ground::SensitivityCheck) => checks::spoil,
                Some(Ground::Angle | Ground::Transfer) => angle::spoil,
                Some(Ground::Reference) => reference::spoil,
                Some(_) => grounds::spoil,
            },
        };
        topic(self, case, drawn).is_some()
    }
}
